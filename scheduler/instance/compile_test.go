package instance_test

import (
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"blankwright/scheduler/instance"
	"blankwright/scheduler/shop"
	"blankwright/scheduler/shoptest"
)

// compile compiles a bare shop after changes.
func compile(changes ...func(*shop.Shop)) *instance.Instance {
	s := shoptest.Bare()
	for _, change := range changes {
		change(s)
	}
	return instance.New(shoptest.Accepted(s))
}

// tick returns the instant so many minutes after a bare shop's now.
func tick(s *shop.Shop, minutes int64) shop.Instant {
	return shop.Instant{Minute: s.Now.Minute + minutes}
}

// near compares what is summed in another order.
func near(got, want float64) bool { return math.Abs(got-want) <= 1e-9*math.Max(1, math.Abs(want)) }

// A section's flags are cut by prepreg: minutes add up, and areas with what
// nesting wastes.
func TestNew_CutsByPrepreg(t *testing.T) {
	in := compile(func(s *shop.Shop) {
		s.Prepregs[0].NestYield = 0.8
		s.Prepregs = append(s.Prepregs, shop.Prepreg{ID: "scrim", Resin: "resin", MaxOpenMinutes: 500, NestYield: 0.5})
		s.Products[0].Sections[0].Flags = []shop.Flag{
			{Prepreg: "scrim", LengthMM: 1000, ButtMM: 60, TipMM: 40, CutMinutes: 0.5},
			{Prepreg: "prepreg", LengthMM: 1000, ButtMM: 100, TipMM: 60, CutMinutes: 1},
			{Prepreg: "prepreg", LengthMM: 500, ButtMM: 100, TipMM: 100, CutMinutes: 0.75},
		}
	})
	want := []instance.Cut{
		{Prepreg: 0, Minutes: 1.75, Area: (1000*80 + 500*100) / 1e6 / 0.8},
		{Prepreg: 1, Minutes: 0.5, Area: 1000 * 50 / 1e6 / 0.5},
	}
	got := in.Sections[0].Cuts
	if !cmp.Equal(got, want, cmp.Comparer(near)) {
		t.Errorf("cuts %+v, want %+v", got, want)
	}
	if in.Sections[0].MaxOpen != 500 {
		t.Errorf("the section lies open for %d minutes, want its scrim's 500", in.Sections[0].MaxOpen)
	}
}

// Work is whole minutes, rounded up within the tolerance, before any set-up.
func TestWork_RoundsUp(t *testing.T) {
	in := compile(func(s *shop.Shop) {
		section := &s.Products[0].Sections[0]
		section.Minutes = shop.Minutes{Tack: 0.1, Roll: 0.25, Wrap: 1.5}
		section.Flags[0].CutMinutes = 0.7
	})
	cases := []struct {
		stage        shop.Stage
		pieces, want int
	}{
		{shop.Tack, 30, 3}, // 30 × 0.1 is a little more than 3 in binary
		{shop.Tack, 31, 4},
		{shop.Roll, 4, 1},
		{shop.Roll, 5, 2},
		{shop.Wrap, 3, 5},
		{shop.Cut, 10, 7},
		{shop.Pull, 50, 0}, // that a task takes at least 1 is the timetable's
	}
	for _, c := range cases {
		if got := in.Work(c.stage, 0, 0, c.pieces); got != c.want {
			t.Errorf("%d pieces at %s take %d minutes, want %d", c.pieces, c.stage, got, c.want)
		}
	}
}

// A load's cure minutes count its weight with the racks, and its cost the run
// and the hours.
func TestCureMinutesAndLoadCost(t *testing.T) {
	in := compile(func(s *shop.Shop) {
		s.Ovens[0].LagMinutesPerKg, s.Ovens[0].RunCost, s.Ovens[0].HourCost = 0.4, 25, 12
	})
	// 60 + 0.4 × 31 = 72.4
	if got := in.CureMinutes(0, 0, 31); got != 73 {
		t.Errorf("31 kg cure for %d minutes, want 73", got)
	}
	// 25 + 12 × 73/60 = 39.60
	if got := in.Price(in.LoadCost(0, 73)); !near(got, 39.6) {
		t.Errorf("the load costs %g, want 39.60", got)
	}
}

// Each thing that stands against a profile is named, each resin's once.
func TestFaults_NamesEach(t *testing.T) {
	cases := []struct {
		name   string
		change func(*shop.Shop)
		faults []string
	}{
		{"none", func(*shop.Shop) {}, nil},
		{"another profile asked for", func(s *shop.Shop) {
			s.Profiles = append(s.Profiles, shoptest.BareProfile("slow", 90))
			s.Products[0].Sections[0].Profiles = []string{"slow"}
		}, []string{"slow"}},
		{"the profile asked for", func(s *shop.Shop) { s.Products[0].Sections[0].Profiles = []string{"cure"} }, nil},
		{"soak too short", func(s *shop.Shop) { s.Profiles[0].Segments[0].SoakMinutes = 59 }, []string{"soaks resin"}},
		{"two flags of one resin", func(s *shop.Shop) {
			s.Profiles[0].Segments[0].SoakMinutes = 59
			s.Prepregs = append(s.Prepregs, shop.Prepreg{ID: "scrim", Resin: "resin", NestYield: 1})
			s.Products[0].Sections[0].Flags = []shop.Flag{{Prepreg: "prepreg"}, {Prepreg: "scrim"}}
		}, []string{"soaks resin"}},
		{"the second flag's resin", func(s *shop.Shop) {
			s.Resins = append(s.Resins, shop.Resin{ID: "other", MaxRampCPerMin: 1, MaxC: 110, Soak: []shop.SoakPoint{{C: 100}}})
			s.Prepregs = append(s.Prepregs, shop.Prepreg{ID: "scrim", Resin: "other", NestYield: 1})
			s.Products[0].Sections[0].Flags = []shop.Flag{{Prepreg: "prepreg"}, {Prepreg: "scrim"}}
		}, []string{"resin other bears 110"}},
		{"tape too cool and soak too short", func(s *shop.Shop) {
			s.Profiles[0].Segments[0].SoakMinutes = 59
			s.Tapes[0].ShrinkFromC = 130
		}, []string{"soaks resin", "shrinks from 130"}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			s := shoptest.Bare()
			c.change(s)
			in := instance.New(shoptest.Accepted(s))
			faults := instance.Faults(in.Shop, &in.Shop.Profiles[0], &in.Shop.Products[0].Sections[0])
			match := len(faults) == len(c.faults)
			for i := range c.faults {
				match = match && strings.Contains(faults[i], c.faults[i])
			}
			if !match || in.Sections[0].Profiles[0] != (len(c.faults) == 0) {
				t.Errorf("faults %q, qualifies %t; want %q", faults, in.Sections[0].Profiles[0], c.faults)
			}
		})
	}
}

// The ways to cure a section are the ovens' profiles that qualify.
func TestWays_AreProfilesThatQualify(t *testing.T) {
	in := compile(func(s *shop.Shop) {
		s.Profiles = append(s.Profiles, shoptest.BareProfile("short", 30), shoptest.BareProfile("long", 90))
		s.Ovens = []shop.Oven{shoptest.BareOven("A", "short", "cure"), shoptest.BareOven("B", "short"), shoptest.BareOven("C", "long", "cure")}
	})
	want := []instance.Way{{Oven: 0, Profile: 0}, {Oven: 2, Profile: 2}, {Oven: 2, Profile: 0}}
	if got := in.Ways(0); !cmp.Equal(got, want) {
		t.Errorf("ways %v, want %v", got, want)
	}
}

// A section that no load can carry is told: without a mandrel, a profile, or a
// rack that clears its oven and the mandrel.
func TestCarried_NeedsMandrelProfileAndRack(t *testing.T) {
	cases := []struct {
		name   string
		change func(*shop.Shop)
		want   bool
	}{
		{"all there", func(*shop.Shop) {}, true},
		{"no ready mandrel", func(s *shop.Shop) { s.Mandrels = s.Mandrels[:1]; s.Mandrels[0].State = "to recoat" }, false},
		{"no oven runs its profile", func(s *shop.Shop) { s.Ovens[0].Profiles = nil }, false},
		{"mandrel too long", func(s *shop.Shop) { s.MandrelTypes[0].HangMM = 1000.1 }, false},
		{"rack too high", func(s *shop.Shop) { s.Ovens[0].HeightMM = 999 }, false},
		{"rack as high as the oven", func(s *shop.Shop) { s.Ovens[0].HeightMM = 1000 }, true},
		{"piece too heavy", func(s *shop.Shop) {
			s.Racks[0].MaxKg, s.MandrelTypes[0].Kg = 2, 1.5
			s.Products[0].Sections[0].Kg = 0.6
		}, false},
		{"no racks", func(s *shop.Shop) { s.Racks[0].Count = 0 }, false},
	}
	for _, c := range cases {
		if got := compile(c.change).Carried(0); got != c.want {
			t.Errorf("%s: carried %t, want %t", c.name, got, c.want)
		}
	}
}

// Racks come back as their busy_until says, mandrels as their ready_at; other
// mandrels do not count.
func TestNew_PoolsOverTime(t *testing.T) {
	in := compile(func(s *shop.Shop) {
		early, later := tick(s, -30), tick(s, 240)
		s.Racks[0].Count, s.Racks[0].BusyUntil = 4, []shop.Instant{later, tick(s, 90), early}
		s.Mandrels = nil
		shoptest.AddMandrels(s, "mandrel", 5)
		s.Mandrels[0].ReadyAt, s.Mandrels[1].ReadyAt, s.Mandrels[2].ReadyAt = &later, &later, &early
		s.Mandrels[3].State = "inspection"
	})
	want := instance.Pool{ID: "rack", From: []instance.Tick{0, 90, 240}, Count: []int{2, 3, 4}, Total: 4}
	if got := in.Racks[0]; !cmp.Equal(got, want) {
		t.Errorf("racks %+v, want %+v", got, want)
	}
	want = instance.Pool{ID: "mandrel", From: []instance.Tick{0, 240}, Count: []int{2, 4}, Total: 4}
	if got := in.Mandrels[0]; !cmp.Equal(got, want) {
		t.Errorf("mandrels %+v, want %+v", got, want)
	}
}

// An oven is blocked until it is free of other work, and while it is down.
func TestNew_OvenBlocked(t *testing.T) {
	in := compile(func(s *shop.Shop) {
		until := tick(s, 45)
		s.Ovens = append(s.Ovens, shoptest.BareOven("second", "cure"))
		s.Ovens[0].BusyUntil = &until
		s.Downtime = []shop.Downtime{
			{Resource: "oven:oven", From: tick(s, 100), To: tick(s, 160)},
			{Resource: "oven:second", From: tick(s, 10), To: tick(s, 20)},
		}
	})
	want := [][]instance.Span{{{From: -instance.Never, To: 45}, {From: 100, To: 160}}, {{From: 10, To: 20}}}
	if got := [][]instance.Span{in.Ovens[0].Blocked, in.Ovens[1].Blocked}; !cmp.Equal(got, want) {
		t.Errorf("blocked %v, want %v", got, want)
	}
}

// Each position knows its last key, and keys are what the contract's R7 says.
func TestNew_LastSetupsAndKeys(t *testing.T) {
	in := compile(func(s *shop.Shop) {
		prepreg, tape := "prepreg", "tape"
		s.Stations.Cut.Positions, s.Stations.Cut.LastSetup = 3, []*string{nil, &prepreg}
		s.Stations.Wrap.LastSetup = []*string{&tape}
	})
	if got, want := in.Stations[shop.Cut].Last, []int{instance.None, 0, instance.None}; !cmp.Equal(got, want) {
		t.Errorf("cut positions are set up for %v, want %v", got, want)
	}
	if got := in.Stations[shop.Wrap].Last; got[0] != 0 {
		t.Errorf("the wrap position is set up for %v, want its tape", got)
	}
	want := map[shop.Stage]int{
		shop.Cut: 7, shop.Tack: 0, shop.Wrap: 0,
		shop.Roll: instance.None, shop.Pull: instance.None, shop.Strip: instance.None, shop.Trim: instance.None,
	}
	for stage, key := range want {
		if got := in.Key(stage, 0, 7); got != key {
			t.Errorf("the key at %s is %d, want %d", stage, got, key)
		}
	}
}

// Supply is drawn in the order of expiry, then of arrival, then of the file; a
// prepreg without rows is unlimited, one with a row of nothing has none.
func TestNew_SupplyInOrder(t *testing.T) {
	in := compile(func(s *shop.Shop) {
		s.Prepregs = append(s.Prepregs, shop.Prepreg{ID: "scrim", Resin: "resin", NestYield: 1}, shop.Prepreg{ID: "none", Resin: "resin", NestYield: 1})
		s.Supply = []shop.Supply{
			{ID: "a", Prepreg: "prepreg", M2: 1, From: tick(s, 0), Expires: tick(s, 900)},
			{ID: "b", Prepreg: "prepreg", M2: 2, From: tick(s, 50), Expires: tick(s, 500)},
			{ID: "c", Prepreg: "none", M2: 0, From: tick(s, 0), Expires: tick(s, 900)},
			{ID: "d", Prepreg: "prepreg", M2: 3, From: tick(s, -10), Expires: tick(s, 500)},
			{ID: "e", Prepreg: "prepreg", M2: 4, From: tick(s, -10), Expires: tick(s, 500)},
		}
	})
	want := []instance.Supply{{Area: 3, From: -10, Expires: 500}, {Area: 4, From: -10, Expires: 500}, {Area: 2, From: 50, Expires: 500}, {Area: 1, From: 0, Expires: 900}}
	if got := in.Prepregs[0].Rows; !cmp.Equal(got, want) {
		t.Errorf("rows %v, want %v", got, want)
	}
	if in.Prepregs[1].Limited || !in.Prepregs[2].Limited || !in.Prepregs[0].Limited {
		t.Error("a prepreg with supply is limited, one without is not")
	}
}

// So many of a pool are there from the instant at which the last of them is, and
// more than all of them never.
func TestPool_FreeFrom(t *testing.T) {
	in := compile(func(s *shop.Shop) {
		s.Mandrels = nil
		shoptest.AddMandrels(s, "mandrel", 2)
		late, later := tick(s, 500), tick(s, 900)
		s.Mandrels = append(s.Mandrels,
			shop.Mandrel{ID: "late", Type: "mandrel", State: shop.Ready, ReadyAt: &late},
			shop.Mandrel{ID: "later", Type: "mandrel", State: shop.Ready, ReadyAt: &later})
	})
	for n, want := range []instance.Tick{0, 0, 0, 500, 900, instance.Never} {
		if got := in.Mandrels[0].FreeFrom(n); got != want {
			t.Errorf("%d are there from %d on, want %d", n, got, want)
		}
	}
}
