package instance_test

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"blankwright/scheduler/instance"
	"blankwright/scheduler/shop"
	"blankwright/scheduler/shoptest"
)

// weekdays makes a calendar that opens from Monday to Friday.
func weekdays() shop.Calendar {
	day := []shop.Window{{8 * 60, 16 * 60}}
	return shop.Calendar{Weekly: shop.Weekly{Mon: day, Tue: day, Wed: day, Thu: day, Fri: day}}
}

// A set done on a day ships on the finish_days-th working day after, with 0 on
// the first not before. Days count from Monday 2027-03-01; Wednesday the 10th is
// closed, and the horizon's midnight begins Tuesday the 16th.
func TestNew_ShipDates(t *testing.T) {
	cases := []struct {
		finish, done, ship int
	}{
		{0, 0, 0},   // Monday
		{0, 5, 7},   // Saturday ships on Monday
		{0, 9, 10},  // the closed Wednesday ships on Thursday
		{1, 0, 1},   // Monday ships on Tuesday
		{1, 4, 7},   // Friday ships on Monday
		{1, 6, 7},   // so does Sunday
		{2, 3, 7},   // Thursday: Friday, Monday
		{2, 8, 11},  // Tuesday: Thursday, Friday
		{5, 8, 16},  // Tuesday: Thursday, Friday, Monday, Tuesday, Wednesday
		{1, 15, 16}, // what is done at the horizon
	}
	for _, c := range cases {
		in := compile(func(s *shop.Shop) {
			s.HorizonDays, s.Products[0].FinishDays, s.Policy.UnplannedDays = 15, c.finish, 9
			calendar := weekdays()
			calendar.Exceptions = map[shop.Date][]shop.Window{s.Today() + 9: nil}
			s.Calendars["ship"], s.Policy.ShippingCalendar = calendar, "ship"
		})
		p := &in.Products[0]
		if got := int(p.Ship[c.done] - in.Date(0)); got != c.ship {
			t.Errorf("with %d days, a set done on day %d ships on day %d, want %d", c.finish, c.done, got, c.ship)
		}
		if got, want := p.Never, p.Ship[15]+9; got != want {
			t.Errorf("a set that is left out ships on %s, want %s", got, want)
		}
	}
}

// A line is free where leaving it out costs nothing: it has no weight, or is due
// no sooner than a set that is never made counts as shipped. The lines of an
// order that ships complete are free together or not at all.
func TestNew_FreeLines(t *testing.T) {
	in := compile(func(s *shop.Shop) {
		s.HorizonDays, s.Policy.UnplannedDays = 10, 5 // never is day 15
		shoptest.AddLine(s, "P", 1, 14, 1)
		shoptest.AddLine(s, "P", 2, 15, 1)
		shoptest.AddLine(s, "P", 4, 2, 0)
		for _, due := range []int{20, 14} {
			line := shoptest.AddLine(s, "P", 8, due, 1)
			line.Order, line.Complete = "together", true
		}
		for _, due := range []int{20, 21} {
			line := shoptest.AddLine(s, "P", 16, due, 1)
			line.Order, line.Complete = "free together", true
		}
		shoptest.AddLine(s, "P", 32, 20, 1).Order = "not complete"
		shoptest.AddLine(s, "P", 64, 1, 1).Complete = true
	})
	var free []bool
	for _, line := range in.Lines {
		free = append(free, line.Free)
	}
	if want := []bool{false, true, true, false, false, true, true, true, false}; !cmp.Equal(free, want) {
		t.Errorf("free lines %v, want %v", free, want)
	}
	// Those not free: 1 + 8 + 8 + 64
	if got := in.Wanted(0); got != 81 {
		t.Errorf("%d sets are wanted, want 81", got)
	}
	want := []instance.Order{{ID: "together", Lines: []int{3, 4}}, {ID: "free together", Lines: []int{5, 6}}}
	if !cmp.Equal(in.Orders, want) || in.Lines[7].Order != instance.None || in.Lines[8].Order != instance.None {
		t.Errorf("orders %+v, want %+v", in.Orders, want)
	}
}

// A product's lines are in the order of their due dates, then the dearer, then
// as in the file.
func TestNew_LinesByUrgency(t *testing.T) {
	in := compile(func(s *shop.Shop) {
		shoptest.AddLine(s, "P", 1, 9, 1)
		shoptest.AddLine(s, "P", 1, 4, 1)
		shoptest.AddLine(s, "P", 1, 4, 3)
		shoptest.AddLine(s, "P", 1, 4, 3)
	})
	if got, want := in.Products[0].Lines, []int{2, 3, 1, 0}; !cmp.Equal(got, want) {
		t.Errorf("lines %v, want %v", got, want)
	}
}

// Lines of an order that ships complete come by the first of its due dates.
func TestNew_ClaimsOfAnOrder(t *testing.T) {
	in := compile(func(s *shop.Shop) {
		shoptest.AddLine(s, "P", 1, 7, 1)
		for _, due := range []int{9, 5} {
			line := shoptest.AddLine(s, "P", 1, due, 1)
			line.Order, line.Complete = "together", true
		}
		shoptest.AddLine(s, "P", 1, 5, 9).Order = "not complete"
	})
	var claims []int
	for _, line := range in.Lines {
		claims = append(claims, int(line.Claim-in.Date(0)))
	}
	if want := []int{7, 5, 5, 5}; !cmp.Equal(claims, want) {
		t.Errorf("claims are on days %v, want %v", claims, want)
	}
	if got := in.Products[0].Lines; got[3] != 0 {
		t.Errorf("lines %v, want the first last", got)
	}
}

// Prices are whole numbers of the smallest money, and come back as they were.
func TestMoney_GoesAndComes(t *testing.T) {
	in := compile(func(s *shop.Shop) {
		s.Policy.LateCost, s.Policy.HoldCost, s.Policy.LabourCost = 2.5, 0.15, 0.55
		s.Stations.Cut.SetupMinutes = 6
		shoptest.AddLine(s, "P", 3, 5, 1.2)
	})
	for name, pair := range map[string][2]float64{
		"late":  {in.Price(in.Lines[0].LatePrice), 3}, // 1.2 × 2.5
		"hold":  {in.Price(in.HoldPrice), 0.15},
		"setup": {in.Price(in.Stations[shop.Cut].SetupPrice), 3.3}, // 6 × 0.55
	} {
		if !near(pair[0], pair[1]) {
			t.Errorf("%s price %g, want %g", name, pair[0], pair[1])
		}
	}
}

// However dear a shop is, sums of its money do not overflow: a million sets, ten
// years late, at a thousand each.
func TestMoney_HoldsLargeSums(t *testing.T) {
	in := compile(func(s *shop.Shop) {
		s.Policy.UnplannedDays = 3650
		shoptest.AddLine(s, "P", 1e6, 0, 1000)
	})
	days := float64(in.Products[0].Never - in.Lines[0].Due)
	sum := in.Lines[0].LatePrice * int64(days) * 1e6
	if got, want := in.Price(sum), 1000*days*1e6; sum < 0 || math.Abs(got-want) > 1e-6*want {
		t.Errorf("the line costs %g when left out, want %g", got, want)
	}
}

// Nor do sums of ovens and set-ups: a load in every two minutes of 60 days at a
// hundred million each.
func TestMoney_HoldsDearOvens(t *testing.T) {
	in := compile(func(s *shop.Shop) { s.Ovens[0].RunCost, s.Ovens[0].HourCost = 1e8, 1e8 })
	loads := int64(in.Horizon / 2)
	sum := in.LoadCost(0, 60) * loads
	if got, want := in.Price(sum), 2e8*float64(loads); sum < 0 || math.Abs(got-want) > 1e-6*want {
		t.Errorf("%d loads cost %g, want %g", loads, got, want)
	}
}

// Good pieces are yield times pieces rounded down, within the tolerance.
func TestYielded_RoundsDown(t *testing.T) {
	cases := []struct {
		yield        float64
		pieces, want int
	}{
		{1, 7, 7}, {0.9, 10, 9}, {0.9, 9, 8}, {0.29, 100, 29}, // 0.29 × 100 is a little less than 29 in binary
		{0.5, 1, 0}, {0.95, 0, 0}, {1.0 / 3, 3, 1},
	}
	for _, c := range cases {
		if got := instance.Yielded(c.yield, c.pieces); got != c.want {
			t.Errorf("%d pieces at %g give %d, want %d", c.pieces, c.yield, got, c.want)
		}
	}
}

// Starts is the least number of pieces that give so many good ones, with what
// stock, incoming and released work add, found here by trying each number.
func TestStarts_IsTheLeast(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		stock, incoming := rapid.IntRange(0, 5).Draw(t, "stock"), rapid.IntRange(0, 5).Draw(t, "incoming")
		trimmed, before := rapid.IntRange(0, 9).Draw(t, "trimmed after now"), rapid.IntRange(0, 9).Draw(t, "trimmed before")
		yield := rapid.SampledFrom([]float64{1, 0.95, 0.9, 0.85, 2.0 / 3, 0.5, 0.29, 0.1}).Draw(t, "yield")
		in := compile(func(s *shop.Shop) {
			s.Products[0].Stock, s.Products[0].Sections[0].Yield = stock, yield
			s.Incoming = []shop.Incoming{{Section: "S", Pieces: incoming, At: tick(s, 300)}, {Section: "S", Pieces: 1, At: tick(s, -300)}}
			release(s, trimTask(s, trimmed, 1), trimTask(s, before, 0))
		})
		good := rapid.IntRange(0, 40).Draw(t, "good")
		want := 0
		for stock+incoming+1+int(math.Floor(yield*float64(trimmed+want)+1e-6)) < good {
			want++
		}
		if got := in.Starts(0, good); got != want {
			t.Errorf("%d pieces are started for %d good ones, want %d", got, good, want)
		}
		if got, want := in.Standing(0), stock+incoming+1+instance.Yielded(yield, trimmed); got != want {
			t.Errorf("%d good pieces stand, want %d", got, want)
		}
	})
}

// What comes in after now, or is trimmed then, can be made anew; what is there can
// not, nor what nobody asks for.
func TestSection_Anew(t *testing.T) {
	cases := []struct {
		name                      string
		sets, now, later, trimmed int
		yield                     float64
		want                      int
	}{
		{"nothing comes", 4, 0, 0, 0, 1, 0},
		{"all is there", 4, 4, 0, 0, 1, 0},
		{"all comes later", 4, 0, 4, 0, 1, 4},
		{"more comes than is asked for", 4, 1, 9, 0, 1, 3},
		{"some is trimmed later", 4, 0, 0, 2, 1, 2},
		{"not all that is made is good", 4, 0, 4, 0, 0.5, 8},
	}
	for _, c := range cases {
		in := compile(func(s *shop.Shop) {
			s.Products[0].Sections[0].Yield = c.yield
			shoptest.AddLine(s, "P", c.sets, 0, 1)
			s.Incoming = []shop.Incoming{
				{Section: "S", Pieces: c.now, At: tick(s, -300)}, {Section: "S", Pieces: c.later, At: tick(s, 300)},
			}
			release(s, trimTask(s, c.trimmed, 1))
		})
		if got := in.Sections[0].Anew; got != c.want {
			t.Errorf("%s: %d pieces, want %d", c.name, got, c.want)
		}
	}
}
