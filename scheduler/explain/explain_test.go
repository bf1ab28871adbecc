package explain_test

import (
	"math"
	"runtime"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"blankwright/scheduler/answer"
	"blankwright/scheduler/binding"
	"blankwright/scheduler/construct"
	"blankwright/scheduler/explain"
	"blankwright/scheduler/instance"
	"blankwright/scheduler/plan"
	"blankwright/scheduler/relax"
	"blankwright/scheduler/search"
	"blankwright/scheduler/shop"
	"blankwright/scheduler/shoptest"
	"blankwright/scheduler/thorough"
)

// planned returns a shop as its file reads, and the plan of a short search.
func planned(s *shop.Shop) (*shop.Shop, *plan.Plan) {
	s = shoptest.Accepted(s)
	first := construct.Build(instance.New(s), construct.Rules[0], nil)
	a, _ := search.Improve([]*answer.Answer{first}, search.Options{Seed: 1, Effort: 3000})
	return s, a.Plan()
}

var usual = explain.Options{Tries: -1}

// dayLong makes the bare shop's cure take a day: 23 hours and a minute each to
// load and unload, so that one load is good on each day of an oven. A rack takes
// so many pieces.
func dayLong(s *shop.Shop, pegs int) {
	s.Profiles[0] = shoptest.BareProfile("cure", 1380)
	s.Racks[0] = shoptest.BareRack("rack", pegs)
}

// hour returns an instant so many hours after a bare shop's now.
func hour(s *shop.Shop, h int64) shop.Instant { return shop.Instant{Minute: s.Now.Minute + 60*h} }

// openOn opens something in a week of its own.
func openOn(s *shop.Shop, name string, week shop.Weekly) string {
	s.Calendars[name] = shop.Calendar{Weekly: week}
	return name
}

// A bind is a bare shop, which begins on a Monday, in which one thing binds its
// first line, and what one more of it brings: so many days, and money for the
// line and for the plan. A set costs 1 for each late day.
type bind struct {
	name    string
	tighten func(*shop.Shop)
	kind    relax.Kind
	id      string
	days    int
	sets    int // that were left out
	saves   float64
	plan    float64
}

var binds = []bind{
	// Two of three go in on Monday, the third when a mandrel is back: one set, one
	// day late.
	{"two mandrels for three pieces", func(s *shop.Shop) {
		dayLong(s, 9)
		s.Mandrels = s.Mandrels[:2]
		shoptest.AddLine(s, "P", 3, 0, 1)
	}, relax.Mandrel, "mandrel", 1, 0, 1, 1},
	// Two ovens, but one rack of two pegs: two of four sets are a day late.
	{"one rack for two ovens", func(s *shop.Shop) {
		dayLong(s, 2)
		s.Racks[0].Count = 1
		s.Ovens = append(s.Ovens, shoptest.BareOven("other", "cure"))
		shoptest.AddLine(s, "P", 4, 0, 1)
	}, relax.Rack, "rack", 1, 0, 2, 2},
	// Racks enough, but one oven of one bay: two of four sets are a day late.
	{"one oven for two loads", func(s *shop.Shop) {
		dayLong(s, 2)
		shoptest.AddLine(s, "P", 4, 0, 1)
	}, relax.Oven, "oven", 1, 0, 2, 2},
	// The oven is open for half a day, in which it cures once, and one rack would
	// serve no other oven: two of four sets are a day late.
	{"an oven that closes at noon", func(s *shop.Shop) {
		half := []shop.Window{{0, 12 * 60}}
		s.Profiles[0] = shoptest.BareProfile("cure", 600)
		s.Racks[0] = shoptest.BareRack("rack", 2)
		s.Racks[0].Count = 1
		s.Ovens[0].Calendar = openOn(s, "mornings", shop.Weekly{Mon: half, Tue: half, Wed: half, Thu: half, Fri: half})
		shoptest.AddLine(s, "P", 4, 0, 1)
	}, relax.Hours, "oven", 1, 0, 2, 2},
	// Five pieces of 300 minutes take 25 hours at one table: the last is a day late.
	{"one rolling table", func(s *shop.Shop) {
		s.Policy.TransferPieces, s.Products[0].Sections[0].Minutes.Roll = 1, 300
		shoptest.AddLine(s, "P", 5, 0, 1)
	}, relax.Position, "roll", 1, 0, 1, 1},
	// The same at five tables, with one who rolls.
	{"one roller at five tables", func(s *shop.Shop) {
		s.Policy.TransferPieces, s.Products[0].Sections[0].Minutes.Roll = 1, 300
		s.Crews = []shop.Crew{{ID: "rollers", Shifts: []shop.Shift{{Calendar: "always", People: 1}}}}
		s.Stations.Roll.Positions, s.Stations.Roll.Crew, s.Stations.Roll.People = 5, "rollers", 1
		shoptest.AddLine(s, "P", 5, 0, 1)
	}, relax.Crew, "rollers", 1, 0, 1, 1},
	// A square metre is enough for two of four sets, the next comes after two days:
	// two sets, two days late.
	{"half the material", func(s *shop.Shop) {
		s.Products[0].Sections[0].Flags[0] = shop.Flag{Prepreg: "prepreg", LengthMM: 1000, ButtMM: 600, TipMM: 400}
		s.Supply = []shop.Supply{
			{ID: "roll", Prepreg: "prepreg", M2: 1, From: s.Now, Expires: hour(s, 9000)},
			{ID: "next", Prepreg: "prepreg", M2: 1, From: hour(s, 48), Expires: hour(s, 9000)},
		}
		shoptest.AddLine(s, "P", 4, 0, 1)
	}, relax.Material, "prepreg", 2, 0, 4, 4},
	// What is cut on Monday is rolled on Tuesday from noon on, more than eight hours
	// later. Left out, three sets count as shipped at the horizon, 60 days after now,
	// 59 days after they are due; with 16 hours they ship on Tuesday, in time.
	{"flags that do not last the night", func(s *shop.Shop) {
		s.Stations.Cut.Calendar = openOn(s, "mondays", shop.Weekly{Mon: []shop.Window{{0, 24 * 60}}})
		s.Stations.Roll.Calendar = openOn(s, "tuesdays", shop.Weekly{Tue: []shop.Window{{12 * 60, 24 * 60}}})
		s.Prepregs[0].MaxOpenMinutes = 8 * 60
		shoptest.AddLine(s, "P", 3, 1, 1)
	}, relax.Open, "prepreg", 59, 3, 177, 177},
	// What is wrapped on Monday is cured on Tuesday from noon on, in an oven that has
	// no other hours, nor has another like it.
	{"wrapped pieces that do not last the night", func(s *shop.Shop) {
		s.Stations.Wrap.Calendar = openOn(s, "mondays", shop.Weekly{Mon: []shop.Window{{0, 24 * 60}}})
		s.Ovens[0].Calendar = openOn(s, "tuesdays", shop.Weekly{Tue: []shop.Window{{12 * 60, 24 * 60}}})
		s.Ovens[0].Crew, s.Ovens[0].People = "late", 1
		s.Crews = []shop.Crew{{ID: "late", Shifts: []shop.Shift{{Calendar: "tuesdays", People: 9}}}}
		s.Policy.MaxGreenMinutes = 8 * 60
		shoptest.AddLine(s, "P", 3, 1, 1)
	}, relax.Green, "", 59, 3, 177, 177},
}

// Where one thing binds, the explanation names it, with its days and money, and
// nothing else brings the line anything.
func TestLine_OneBinds(t *testing.T) {
	if testing.Short() {
		t.Skip("TestLine_Processors does the same in other shops")
	}
	for _, c := range binds {
		t.Run(c.name, func(t *testing.T) {
			s := shoptest.Bare()
			c.tighten(s)
			s, p := planned(s)
			e := explain.Line(s, p, 0, usual)
			for i, g := range e.Gains {
				if i == 0 {
					expectGain(t, &c, &g)
				} else if g.Brings() || g.PlanSaves != 0 {
					t.Errorf("%s brings something as well: %+v", g.What, g)
				}
			}
			if e.LeftOut != 0 || len(e.Gains) < 9 || e.Line.Line != "D1" || e.AsItIs.PlanCost != p.Cost.Total {
				t.Errorf("explanation %+v of a plan that costs %g", e, p.Cost.Total)
			}
		})
	}
}

func expectGain(t *testing.T, c *bind, g *explain.Gain) {
	t.Helper()
	near := func(x, y float64) bool { return math.Abs(x-y) < 1e-6 }
	if g.With.Kind != c.kind || g.With.ID != c.id || g.DaysSooner != c.days || g.SetsMore != c.sets || !near(g.Saves, c.saves) || !near(g.PlanSaves, c.plan) {
		t.Errorf("%s brings %+v, want %s %s: %d days, %d sets, %g of the line's and %g of the plan's cost", g.What, g, c.kind, c.id, c.days, c.sets, c.saves, c.plan)
	}
	if g.LateSets != 0 || g.UnallocatedSets != 0 || g.Ship == nil {
		t.Errorf("with %s the line is not in time: %+v", g.What, g.Outcome)
	}
}

// Where a line is due before anything begun now can be dry, nothing brings it
// forward, and time is what binds it.
func TestLine_NothingHelps(t *testing.T) {
	s := shoptest.Bare()
	shoptest.AddLine(s, "P", 1, -1, 1)
	s, p := planned(s)
	e := explain.Line(s, p, 0, usual)
	for _, g := range e.Gains {
		if g.Brings() || g.PlanSaves != 0 {
			t.Errorf("%s brings %+v", g.What, g)
		}
	}
	if b := e.Line.Binds; len(b) != 1 || b[0].Kind != binding.Time || !b[0].Proven || e.Line.DaysLate != 1 || e.Line.Cost != 1 {
		t.Errorf("line %+v, want a day late by time alone", e.Line)
	}
}

// A line that waits for another of its order is brought forward by what that
// needs: three sets of Q on two mandrels of their own. All four sets of the order
// are a day late for it.
func TestLine_CompleteOrder(t *testing.T) {
	s := shoptest.Bare()
	dayLong(s, 9)
	q := shoptest.BareProduct("Q", "Q1")
	q.Sections[0].Mandrel = "odd"
	s.Products = append(s.Products, q)
	s.MandrelTypes = append(s.MandrelTypes, shop.MandrelType{ID: "odd", HangMM: 1000})
	shoptest.AddMandrels(s, "odd", 2)
	shoptest.AddLine(s, "P", 1, 0, 1)
	shoptest.AddLine(s, "Q", 3, 0, 1)
	for i := range s.Demand {
		s.Demand[i].Order, s.Demand[i].Complete = "O", true
	}
	s, p := planned(s)
	g := explain.Line(s, p, 0, usual).Gains[0]
	expectGain(t, &bind{kind: relax.Mandrel, id: "odd", days: 1, saves: 1, plan: 4}, &g)
}

// Where the plan itself has something left to find, that is told, and not put
// down to what there is more.
func TestLine_UnfinishedPlan(t *testing.T) {
	s := shoptest.Bare()
	s.Ovens[0].RunCost = 1
	shoptest.AddLine(s, "P", 2, 0, 1)
	s = shoptest.Accepted(s)
	empty := answer.New(instance.New(s)).Plan() // two sets for 60 days: 120
	e := explain.Line(s, empty, 0, usual)
	if e.Line.UnallocatedSets != 2 || e.Line.Cost != 120 || e.AsItIs.UnallocatedSets != 0 || e.AsItIs.PlanCost != 1 {
		t.Errorf("line %+v, as it is %+v; want two sets left out, and none for one load", e.Line, e.AsItIs)
	}
	for _, g := range e.Gains {
		if g.Brings() || g.PlanSaves != 0 {
			t.Errorf("%s brings %+v", g.What, g)
		}
	}
}

// late returns random busy shops with their plans, and their late lines.
func late(n uint64) (shops []*shop.Shop, plans []*plan.Plan, lines [][]binding.Line) {
	for seed := range n {
		s, p := planned(shoptest.Make(seed, shoptest.Size{Products: 6, Pieces: 110, Days: 3}))
		shops, plans = append(shops, s), append(plans, p)
		lines = append(lines, binding.Of(answer.Read(instance.New(s), p)))
	}
	return shops, plans, lines
}

// In shops of all sorts no line ships later for one thing more, no plan that goes
// on with it is dearer, gains come in order, and the plan stays as it was.
func TestLine_RandomShops(t *testing.T) {
	if testing.Short() {
		t.Skip("TestLine_Processors does the same for few shops")
	}
	told, gained := 0, 0
	shops, plans, lines := late(thorough.Of[uint64](8, 24))
	for i, s := range shops {
		before := string(plans[i].Encode())
		for _, l := range lines[i][:min(len(lines[i]), 2)] {
			line := slices.IndexFunc(s.Demand, func(d shop.Line) bool { return d.ID == l.Line })
			e := explain.Line(s, plans[i], line, explain.Options{Tries: 60})
			told++
			if e.AsItIs.PlanCost > plans[i].Cost.Total+1e-6 {
				t.Errorf("shop %d, line %s: as it is %+v, the plan costs %g", i, l.Line, e.AsItIs, plans[i].Cost.Total)
			}
			for k, g := range e.Gains {
				if g.DaysSooner < 0 || g.PlanCost > e.AsItIs.PlanCost+1e-6 || k > 0 && g.DaysSooner > e.Gains[k-1].DaysSooner {
					t.Errorf("shop %d, line %s: gain %+v, as it is %+v", i, l.Line, g, e.AsItIs)
				}
				if g.Brings() {
					gained++
				}
			}
		}
		if string(plans[i].Encode()) != before {
			t.Errorf("shop %d: the plan has changed", i)
		}
	}
	if told < 10 || gained < thorough.Of(1, 3) {
		t.Errorf("%d lines, %d gains: these shops try little", told, gained)
	}
}

// The number of processors changes nothing in an explanation or a study.
func TestLine_Processors(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0))
	n := thorough.Of[uint64](1, 3)
	if testing.Short() {
		n = 1
	}
	shops, plans, lines := late(n)
	for i, s := range shops {
		var told []any
		for _, n := range []int{1, 8} {
			runtime.GOMAXPROCS(n)
			told = append(told, []any{explain.Line(s, plans[i], 0, explain.Options{Tries: 60}), explain.Of(s, plans[i], lines[i], explain.Options{Tries: 60})})
		}
		if diff := cmp.Diff(told[0], told[1]); diff != "" {
			t.Errorf("shop %d: 1 and 8 processors (-1 +8):\n%s", i, diff)
		}
	}
}

// A stop leaves out what has not begun, and says how much; until then each
// relaxation is reported.
func TestLine_Stop(t *testing.T) {
	s := shoptest.Bare()
	binds[0].tighten(s)
	s, p := planned(s)
	all := len(explain.Line(s, p, 0, usual).Gains)
	for _, after := range []int{0, 3} {
		polled, reports := 0, 0
		e := explain.Line(s, p, 0, explain.Options{
			Tries:  -1,
			Stop:   func() bool { polled++; return polled > after },
			Report: func(done, of int) { reports++; check(t, done == reports && of == all) },
		})
		if len(e.Gains) != after || e.LeftOut != all-after || reports != after {
			t.Errorf("stopped after %d: %d gains, %d left out, %d reports", after, len(e.Gains), e.LeftOut, reports)
		}
	}
}

func check(t *testing.T, ok bool) {
	t.Helper()
	if !ok {
		t.Error("reports out of order")
	}
}

// A study tells of each thing what it brings the plan, and of each late line what
// brings it anything.
func TestOf(t *testing.T) {
	if testing.Short() {
		t.Skip("TestLine_Processors does the same in other shops")
	}
	for _, c := range binds {
		t.Run(c.name, func(t *testing.T) {
			s := shoptest.Bare()
			c.tighten(s)
			s, p := planned(s)
			study := explain.Of(s, p, binding.Of(answer.Read(instance.New(s), p)), usual)
			first := study.Things[0]
			if first.With.Kind != c.kind || first.With.ID != c.id || first.Lines != 1 || first.DaysSooner != c.days || first.SetsMore != c.sets || math.Abs(first.PlanSaves-c.plan) > 1e-6 {
				t.Errorf("first of things %+v", first)
			}
			gains := study.Lines["D1"]
			if len(gains) != 1 {
				t.Fatalf("gains %+v, want one", gains)
			}
			expectGain(t, &c, &gains[0])
			if study.AsItIs != p.Cost.Total || study.LeftOut != 0 {
				t.Errorf("as it is %g of %g, %d left out", study.AsItIs, p.Cost.Total, study.LeftOut)
			}
		})
	}
}
