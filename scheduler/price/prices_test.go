package price_test

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"

	"blankwright/scheduler/instance"
	"blankwright/scheduler/price"
	"blankwright/scheduler/shop"
	"blankwright/scheduler/shoptest"
)

// made returns that all that is wanted can be made.
func made(in *instance.Instance) []int {
	all := make([]int, len(in.Products))
	for p := range all {
		all[p] = in.Wanted(p)
	}
	return all
}

// least returns the least that late and early sets cost when all are made, and when
// one is left out, in the shop's money.
func least(s *shop.Shop) (all, some float64) {
	in := instance.New(shoptest.Accepted(s))
	prices := price.Of(in)
	credit := make([]price.Money, len(in.Products))
	return in.Price(prices.Made(made(in)).Sum()), in.Price(prices.LeftOut(made(in), credit).Sum())
}

// expectNear expects a bound to be what was worked out, or less by a hundredth.
func expectNear(t *testing.T, name string, got, want float64) {
	t.Helper()
	if got > want+1e-6 || got < want-want/100-1e-6 {
		t.Errorf("%s: %.4f is proven, want %.4f", name, got, want)
	}
}

// trimmer returns a bare shop in which one person trims, twelve hours a piece, with a
// line of sets due today for each of two products: one set of the first, and two of the
// second, three times as heavy. The first piece can be trimmed from minute 68 on: a minute each to cut, tack,
// roll, wrap, load, unload, pull and strip, and an hour's cure.
func trimmer() *shop.Shop {
	s := shoptest.Bare()
	s.Crews = []shop.Crew{{ID: "hands", Shifts: []shop.Shift{{Calendar: "always", People: 1}}}}
	s.Stations.Trim.Crew, s.Stations.Trim.People, s.Stations.Trim.Positions = "hands", 1, 2
	other := shoptest.BareProduct("Q", "T")
	other.Sections[0].Mandrel = "other"
	s.Products = append(s.Products, other)
	s.MandrelTypes = append(s.MandrelTypes, s.MandrelTypes[0])
	s.MandrelTypes[1].ID = "other"
	shoptest.AddMandrels(s, "other", 10)
	for i := range s.Products {
		s.Products[i].Sections[0].Minutes.Trim = 720
	}
	shoptest.AddLine(s, "P", 1, 0, 1)
	shoptest.AddLine(s, "Q", 2, 0, 3)
	return s
}

// A crew's minutes decide who waits. Of the first day, 1439 - 68 = 1371 minutes are of
// use, for 1371/720 = 1.904 sets, and 2 sets for each further day; of one product
// alone one set can be done on the first day. So one set of the heavier line is in time
// and one a day late; of the other's, 0.904 are in time and 0.096 a day late.
func TestOf_OneCrew(t *testing.T) {
	late := 2 - 1371.0/720
	all, _ := least(trimmer())
	expectNear(t, "late", all, 3*1+1*late)
}

// What a crew is worth tells who waits for it: the lighter line.
func TestShips_OneCrew(t *testing.T) {
	in := instance.New(shoptest.Accepted(trimmer()))
	prices := price.Of(in)
	parts := [2][]float64{{0.904, 0.096, 0}, {0.5, 0.5, 0}}
	for line, want := range parts {
		got := make([]float64, 3)
		for _, part := range prices.Ships(line) {
			if day := int(part.Ship - in.Lines[line].Due); day < 3 {
				got[day] += part.Of
			}
		}
		for day := range want {
			if math.Abs(got[day]-want[day]) > 0.1 {
				t.Errorf("line %d ships %v by day, want %v", line, got, want)
				break
			}
		}
	}
	crew := false
	for _, w := range prices.Worths() {
		crew = crew || w.Kind == "crew" && w.ID == "hands" || w.Kind == "station" && w.ID == "trim"
	}
	if !crew {
		t.Errorf("the crew is worth nothing: %v", prices.Worths())
	}
}

// Pieces of one mandrel type are whole ones, one behind the other: trimmed by minutes
// 788, 1508 and 2228, one is done on the first day and two on the second.
func TestOf_OneBehindTheOther(t *testing.T) {
	s := trimmer()
	s.Demand = nil
	shoptest.AddLine(s, "P", 2, 0, 1)
	shoptest.AddLine(s, "P", 2, 0, 3)
	all, _ := least(s)
	expectNear(t, "late", all, 3+1+2)
}

// Ovens hold so much. A load of 10 hours and two minutes holds 3 pieces on 3 pegs.
// The first goes in at minute 4; loads are out at 606, 1208, 1810, 2412, 3014, and
// those of the first day (to 1439) are 2, of the second (to 2879) 4. Of 9 sets, 6 are
// in time and 3 a day late, each piece being trimmed 3 minutes after.
func TestOf_OneOven(t *testing.T) {
	s := shoptest.Bare()
	s.Profiles = []shop.Profile{shoptest.BareProfile("cure", 600)}
	s.Racks = []shop.Rack{shoptest.BareRack("rack", 3)}
	s.Products[0].Sections[0].ODMM = 10
	shoptest.AddLine(s, "P", 9, 0, 2)
	all, _ := least(s)
	expectNear(t, "late", all, 3*2)
}

// Mandrels go round. Each is tacked at minute 1, pulled at 67 and clean at 767, tacked
// again then, clean once more at 1533; its pieces are trimmed at 69, 835 and, the next
// day, 1601. Of 6 sets two mandrels have 4 in time, and 2 a day late.
func TestOf_RoundsOfMandrels(t *testing.T) {
	s := shoptest.Bare()
	s.Mandrels = s.Mandrels[:2]
	s.MandrelTypes[0].TurnaroundMinutes = 700
	shoptest.AddLine(s, "P", 6, 0, 1)
	all, _ := least(s)
	expectNear(t, "late", all, 2)
}

// Sets are whole. Of material for 1.9 pieces, one can be cut before the rest comes,
// two days later, and of one piece 0.97 are good: no set. Both wait for the rest.
func TestOf_WholeSets(t *testing.T) {
	s := shoptest.Bare()
	s.Products[0].Sections[0].Yield = 0.97
	s.Products[0].Sections[0].Flags = []shop.Flag{{Prepreg: "prepreg", LengthMM: 1000, ButtMM: 1000, TipMM: 1000}}
	later := shop.Instant{Minute: s.Now.Minute + 2*1440}
	never := shop.Instant{Minute: s.Now.Minute + 90*1440}
	s.Supply = []shop.Supply{
		{ID: "first", Prepreg: "prepreg", M2: 1.9, From: s.Now, Expires: never},
		{ID: "rest", Prepreg: "prepreg", M2: 50, From: later, Expires: never},
	}
	shoptest.AddLine(s, "P", 2, 0, 1)
	all, _ := least(s)
	expectNear(t, "late", all, 2*2)
}

// What is in stock is there at once: of two sets it makes one in time, ten minutes
// before the end of a day in which nothing new can be done, and one is a day late.
func TestOf_Stock(t *testing.T) {
	s := shoptest.Bare()
	s.Products[0].Stock = 1
	s.Now.Minute += 1430
	shoptest.AddLine(s, "P", 2, 0, 3)
	all, _ := least(s)
	expectNear(t, "late", all, 3)
}

// Left out, a set counts as shipped 60 days and the unplanned ones after its due
// date, and no less: 3 × 67 for the lighter line's set, where all else is in time.
func TestLeftOut_CostsTheCheapest(t *testing.T) {
	s := shoptest.Bare()
	s.Policy.UnplannedDays = 7
	shoptest.AddLine(s, "P", 2, 0, 5)
	shoptest.AddLine(s, "P", 2, 0, 3)
	all, some := least(s)
	expectNear(t, "all made", all, 0)
	expectNear(t, "one left out", some, 3*67)
}

// A credit takes from what is left out, and from nothing else.
func TestLeftOut_Credit(t *testing.T) {
	s := shoptest.Bare()
	s.Policy.UnplannedDays = 7
	shoptest.AddLine(s, "P", 1, 0, 3)
	in := instance.New(shoptest.Accepted(s))
	got := price.Of(in).LeftOut(made(in), []price.Money{in.Money(51)})
	expectNear(t, "one left out, 51 saved", in.Price(got.Sum()), 3*67-51)
}

// The lines of an order ship together, on the last date of them all: three sets of
// 12 hours each have no room on the first day, so that all wait for the second.
func TestOf_OrderShipsTogether(t *testing.T) {
	s := trimmer()
	s.Demand = nil
	for _, sets := range []int{1, 2} {
		line := shoptest.AddLine(s, "P", sets, 0, 1)
		line.Order, line.Complete = "O", true
	}
	all, _ := least(s)
	expectNear(t, "late", all, 3)
}

// Early sets cost too: they can wait to be trimmed until the day that they are due
// on. At a horizon of 3 days they are good at its midnight at the latest, which is day
// 3, and are held for 6 days.
func TestOf_Hold(t *testing.T) {
	s := shoptest.Bare()
	s.Policy.HoldCost = 0.5
	shoptest.AddLine(s, "P", 3, 9, 1)
	all, _ := least(s)
	expectNear(t, "trimmed when due", all, 0)
	s.HorizonDays, s.Policy.UnplannedDays = 3, 30
	all, _ = least(s)
	expectNear(t, "trimmed by the horizon", all, 3*6*0.5)
}

// A shop without demand owes nothing, and nothing is worth anything.
func TestOf_NoDemand(t *testing.T) {
	in := instance.New(shoptest.Accepted(shoptest.Bare()))
	prices := price.Of(in)
	if got := prices.Made(made(in)); got.Sum() != 0 || len(prices.Worths()) != 0 {
		t.Errorf("%v, %v: want nothing", got, prices.Worths())
	}
}

// The same shop gives the same prices.
func TestOf_Deterministic(t *testing.T) {
	in := instance.New(shoptest.Accepted(shoptest.Make(7, shoptest.Size{Pieces: 90})))
	if diff := cmp.Diff(price.Of(in).Worths(), price.Of(in).Worths()); diff != "" {
		t.Error(diff)
	}
}
