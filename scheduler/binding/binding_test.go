package binding_test

import (
	"bytes"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"blankwright/scheduler/answer"
	"blankwright/scheduler/binding"
	"blankwright/scheduler/construct"
	"blankwright/scheduler/instance"
	"blankwright/scheduler/shop"
	"blankwright/scheduler/shoptest"
)

// built returns a first answer for a shop.
func built(s *shop.Shop) *answer.Answer {
	return construct.Build(instance.New(shoptest.Accepted(s)), construct.Rule{Ahead: 6, Fill: 4, Patience: 2, Wait: instance.Never}, nil)
}

// hour returns an instant so many hours after a bare shop's now.
func hour(s *shop.Shop, h int64) shop.Instant { return shop.Instant{Minute: s.Now.Minute + 60*h} }

var allDay = []shop.Window{{0, 24 * 60}}

// openOn opens a station in a week of its own.
func openOn(s *shop.Shop, stage shop.Stage, name string, week shop.Weekly) {
	s.Calendars[name] = shop.Calendar{Weekly: week}
	s.Stations.At(stage).Calendar = name
}

// longCure makes the bare shop's cure take so many minutes, with room for so
// many pieces on a rack.
func longCure(s *shop.Shop, minutes float64, pegs int) {
	s.Profiles[0] = shoptest.BareProfile("cure", minutes)
	s.Racks[0] = shoptest.BareRack("rack", pegs)
}

// slowStage gives a stage so many minutes a piece, which is passed on alone.
func slowStage(s *shop.Shop, positions int) {
	s.Policy.TransferPieces = 1
	s.Products[0].Sections[0].Minutes.Roll = 300
	s.Stations.Roll.Positions = positions
}

// A trial is a bare shop with one thing tightened, and what must be said of its
// first line.
type trial struct {
	name    string
	tighten func(*shop.Shop)
	kind    string
	id      string
	says    []string // parts of What
	knows   string   // part of How
}

// What one resource holds back is put down to it, with its numbers.
func TestOf_Resources(t *testing.T) {
	const tried = "Tried on the finished plan"
	judge(t, []trial{
		{"two mandrels, a day to clean", func(s *shop.Shop) {
			s.Mandrels = s.Mandrels[:2]
			s.MandrelTypes[0].TurnaroundMinutes = 1440
			shoptest.AddLine(s, "P", 4, 0, 1)
		}, "mandrel", "mandrel", []string{"of the 2 that are ready", "not free before Tue 2 Mar 01:", "instead of 2027-03-02: 1 day sooner, in time"}, tried},
		{"an oven for two pieces in 1000 minutes", func(s *shop.Shop) {
			longCure(s, 1000, 2)
			shoptest.AddLine(s, "P", 4, 0, 1)
		}, "oven", "oven", []string{"takes it for 16.7 h", "taken for 16.7 h of the", "1 day sooner, in time"}, tried},
		{"one rack for two ovens", func(s *shop.Shop) {
			longCure(s, 1000, 2)
			s.Racks[0].Count = 1
			s.Ovens = append(s.Ovens, shoptest.BareOven("other", "cure"))
			shoptest.AddLine(s, "P", 4, 0, 1)
		}, "rack", "rack", []string{"1 with 2 pegs", "of the 1 that there are", "not free before Mon 1 Mar 16:", "1 day sooner, in time"}, tried},
		{"one rolling table", func(s *shop.Shop) {
			slowStage(s, 1)
			shoptest.AddLine(s, "P", 5, 0, 1)
		}, "station", "roll", []string{"1500 min of work there for 5 pieces of P (1 position)", "1 day sooner, in time"}, tried},
		{"five rolling tables, one roller", func(s *shop.Shop) {
			slowStage(s, 5)
			s.Crews = []shop.Crew{{ID: "rollers", Shifts: []shop.Shift{{Calendar: "always", People: 1}}}}
			s.Stations.Roll.Crew, s.Stations.Roll.People = "rollers", 1
			shoptest.AddLine(s, "P", 5, 0, 1)
		}, "crew", "rollers", []string{"for 5 pieces of P", "1 day sooner, in time"}, tried},
		{"flags that do not last over Saturday", func(s *shop.Shop) {
			openOn(s, shop.Cut, "fridays", shop.Weekly{Fri: allDay})
			openOn(s, shop.Roll, "mondays", shop.Weekly{Mon: allDay})
			s.Prepregs[0].MaxOpenMinutes = 8 * 60
			shoptest.AddLine(s, "P", 3, 1, 1)
		}, "lag", "prepreg", []string{"cut flags may lie for 8 h", "3 sets could be good by Mon 8 Mar", "no place before the horizon ends"}, tried},
		{"half the material, the rest too late", func(s *shop.Shop) {
			s.Products[0].Sections[0].Flags[0] = shop.Flag{Prepreg: "prepreg", LengthMM: 1000, ButtMM: 600, TipMM: 400}
			s.Supply = []shop.Supply{
				{ID: "roll", Prepreg: "prepreg", M2: 1, From: s.Now, Expires: hour(s, 9000)},
				{ID: "next", Prepreg: "prepreg", M2: 1, From: hour(s, 48), Expires: hour(s, 9000)},
			}
			shoptest.AddLine(s, "P", 4, 0, 1)
		}, "material", "prepreg", []string{"2 m² are needed for 4 pieces of P", "more comes on Wed 3 Mar 00:00", "2 days sooner, in time"}, tried},
	})
}

// Wrapped pieces that may not wait for the oven over a weekend are held by its
// hours and by their own.
func TestOf_GreenTime(t *testing.T) {
	s := shoptest.Bare()
	openOn(s, shop.Wrap, "fridays", shop.Weekly{Fri: allDay})
	s.Calendars["mondays"] = shop.Calendar{Weekly: shop.Weekly{Mon: allDay}}
	s.Ovens[0].Calendar, s.Policy.MaxGreenMinutes = "mondays", 8*60
	shoptest.AddLine(s, "P", 3, 1, 1)
	lines := binding.Of(built(s))
	if len(lines) != 1 || len(lines[0].Binds) != 2 {
		t.Fatalf("lines %+v, want one with two causes", lines)
	}
	oven, lag := lines[0].Binds[0], lines[0].Binds[1]
	if oven.Kind != "oven" || lag.Kind != "lag" || !strings.Contains(lag.What, "wrapped pieces may lie for 8 h") ||
		!strings.Contains(lag.What, "good by Mon 8 Mar") {
		t.Errorf("causes %+v, want the oven, and the hours that wrapped pieces may lie", lines[0].Binds)
	}
}

// What no plan can change is put down to the rule, the material or the time
// that says so.
func TestOf_Proven(t *testing.T) {
	const carried, empty = "No load of any size", "Even alone in an empty shop"
	judge(t, []trial{
		{
			"due yesterday", func(s *shop.Shop) { shoptest.AddLine(s, "P", 1, -1, 1) },
			"time", "",
			[]string{"in oven oven from Mon 1 Mar 00:04 to Mon 1 Mar 01:06", "trimmed by Mon 1 Mar 01:09", "1 day after it is due"},
			empty,
		},
		{"the first material late", func(s *shop.Shop) {
			s.Products[0].Sections[0].Flags[0] = shop.Flag{Prepreg: "prepreg", LengthMM: 1000, ButtMM: 600, TipMM: 400}
			s.Supply = []shop.Supply{{ID: "roll", Prepreg: "prepreg", M2: 9, From: hour(s, 30), Expires: hour(s, 9000)}}
			shoptest.AddLine(s, "P", 1, 0, 1)
		}, "material", "prepreg", []string{"the first 9 m² come on Tue 2 Mar 06:00", "1 day after it is due"}, empty},
		{"the only mandrel late", func(s *shop.Shop) {
			at := hour(s, 30)
			s.Mandrels = s.Mandrels[:1]
			s.Mandrels[0].ReadyAt = &at
			shoptest.AddLine(s, "P", 1, 0, 1)
		}, "mandrel", "mandrel", []string{"none is ready before Tue 2 Mar 06:00", "1 day after it is due"}, empty},
		{"the oven in other work", func(s *shop.Shop) {
			at := hour(s, 30)
			s.Ovens[0].BusyUntil = &at
			shoptest.AddLine(s, "P", 1, 0, 1)
		}, "oven", "oven", []string{"from Tue 2 Mar 06:00", "1 day after it is due"}, empty},
		{"too little material", func(s *shop.Shop) {
			s.Products[0].Sections[0].Flags[0] = shop.Flag{Prepreg: "prepreg", LengthMM: 1000, ButtMM: 600, TipMM: 400}
			s.Supply = []shop.Supply{{ID: "roll", Prepreg: "prepreg", M2: 1.2, From: s.Now, Expires: hour(s, 9000)}}
			shoptest.AddLine(s, "P", 4, 1, 1)
		}, "material", "prepreg", []string{"needs 2 m² of prepreg", "of the 1.2 m²", "draws 0", "0.8 m² are lacking"}, "supply rows"},
		{"no profile hot enough", func(s *shop.Shop) {
			s.Tapes[0].ShrinkFromC = 130
			shoptest.AddLine(s, "P", 1, 1, 1)
		}, "rule", "R1", []string{"section S", "cure: it reaches 120 °C, tape tape shrinks from 130"}, carried},
		{"longer than any level", func(s *shop.Shop) {
			s.MandrelTypes[0].HangMM = 1200
			shoptest.AddLine(s, "P", 1, 1, 1)
		}, "rule", "R3", []string{"section S hangs 1200 mm", "highest level of any rack clears 1000 mm"}, carried},
		{"heavier than any rack", func(s *shop.Shop) {
			s.MandrelTypes[0].Kg = 7.5
			s.Racks[0].MaxKg = 5
			shoptest.AddLine(s, "P", 1, 1, 1)
		}, "rule", "R3", []string{"weighs 7.5 kg with its mandrel", "rack rack bears 5 kg"}, carried},
		{"a rack higher than the oven", func(s *shop.Shop) {
			s.Ovens[0].HeightMM = 900
			shoptest.AddLine(s, "P", 1, 1, 1)
		}, "rule", "R3", []string{"rack rack as one level is 1000 mm high, oven oven 900 mm"}, carried},
		{"no mandrel ready", func(s *shop.Shop) {
			for i := range s.Mandrels {
				s.Mandrels[i].State = "to recoat"
			}
			shoptest.AddLine(s, "P", 1, 1, 1)
		}, "rule", "R9", []string{"rolled on mandrel mandrel, and of 100 none is ready: 100 \"to recoat\""}, carried},
		{"a station that never opens", func(s *shop.Shop) {
			s.Calendars["shut"] = shop.Calendar{}
			s.Stations.Roll.Calendar = "shut"
			shoptest.AddLine(s, "P", 1, 1, 1)
		}, "station", "roll", []string{"tacked by Mon 1 Mar 00:02", "roll has no open minute"}, empty},
		{"windows shorter than the cure", func(s *shop.Shop) {
			s.Calendars["short"] = shop.Calendar{Weekly: shop.Weekly{Mon: []shop.Window{{600, 630}}}}
			s.Ovens[0].Calendar, s.Ovens[0].Unattended = "short", false
			shoptest.AddLine(s, "P", 1, 1, 1)
		}, "oven", "oven", []string{"takes 1 + 60 + 1 min", "longest window has 30 min"}, empty},
		{"in stock, due yesterday", func(s *shop.Shop) {
			s.Products[0].Stock = 2
			shoptest.AddLine(s, "P", 2, -1, 1)
		}, "time", "", []string{"good at once and ship on 2027-03-01"}, "in stock"},
		{"coming in tomorrow", func(s *shop.Shop) {
			s.Incoming = []shop.Incoming{{Section: "S", Pieces: 2, At: hour(s, 30)}}
			shoptest.AddLine(s, "P", 2, 0, 1)
		}, "time", "", []string{"good on Tue 2 Mar 06:00, when pieces come in"}, "comes in covers"},
		{
			"not needed yet", func(s *shop.Shop) { shoptest.AddLine(s, "P", 1, 400, 1) },
			"time", "",
			[]string{"not needed within this horizon"},
			"costs nothing",
		},
	})
}

func judge(t *testing.T, trials []trial) {
	for _, c := range trials {
		t.Run(c.name, func(t *testing.T) {
			s := shoptest.Bare()
			c.tighten(s)
			lines := binding.Of(built(s))
			if len(lines) != 1 || len(lines[0].Binds) == 0 {
				t.Fatalf("lines %+v, want one with a cause", lines)
			}
			got := lines[0].Binds[0]
			if got.Kind != c.kind || got.ID != c.id || !strings.Contains(got.How, c.knows) || got.Proven == strings.Contains(got.How, "Tried") {
				t.Errorf("%+v, want %s %q known by %q", lines[0].Binds, c.kind, c.id, c.knows)
			}
			for _, part := range c.says {
				if !strings.Contains(got.What, part) {
					t.Errorf("it says %q, want %q in it", got.What, part)
				}
			}
		})
	}
}

// A line that is late because its order ships complete names the line for which
// it waits, and what holds that one.
func TestOf_CompleteOrder(t *testing.T) {
	s := shoptest.Bare()
	q := shoptest.BareProduct("Q", "S2")
	q.Sections[0].Profiles, q.Sections[0].Minutes.Roll = []string{"cure"}, 1500
	s.Products = append(s.Products, q)
	for i, product := range []string{"P", "Q"} {
		shoptest.AddLine(s, product, 1, i, 1)
		s.Demand[i].Order, s.Demand[i].Complete = "O", true
	}
	lines := binding.Of(built(s))
	if len(lines) != 1 || lines[0].Line != "D1" || lines[0].LateSets != 1 || lines[0].DaysLate != 1 {
		t.Fatalf("lines %+v, want D1 a day late", lines)
	}
	binds := lines[0].Binds
	if len(binds) != 2 || binds[0].Kind != "order" || binds[0].ID != "D2" || binds[1].Kind != "time" {
		t.Errorf("causes %+v, want line D2, and the time that it takes", binds)
	}
}

// A complete order of which a set is missing counts as not planned as a whole.
func TestOf_CompleteOrderLacksSets(t *testing.T) {
	s := shoptest.Bare()
	q := shoptest.BareProduct("Q", "S2")
	q.Sections[0].Mandrel = "none"
	s.MandrelTypes = append(s.MandrelTypes, shop.MandrelType{ID: "none"})
	s.Products = append(s.Products, q)
	for i, product := range []string{"P", "Q"} {
		shoptest.AddLine(s, product, 2, 1, 1)
		s.Demand[i].Order, s.Demand[i].Complete = "O", true
	}
	lines := binding.Of(built(s))
	if len(lines) != 2 {
		t.Fatalf("lines %+v, want both", lines)
	}
	for _, l := range lines {
		if l.UnallocatedSets != 2 || l.Ship != nil || l.Binds[len(l.Binds)-1].ID != "R9" {
			t.Errorf("%+v, want 2 sets not planned for R9", l)
		}
	}
}

// Every line that is late or left out has a cause that says something, in shops
// of all sorts, the costs of the lines make up the late cost, and the answer
// stays as it was.
func TestOf_RandomShops(t *testing.T) {
	var shops []*shop.Shop
	for seed := range uint64(60) {
		shops = append(shops, shoptest.Make(seed, shoptest.Size{Impossible: float64(seed%3) * 0.2}))
	}
	for i, trouble := range shoptest.Troubles() {
		shops = append(shops, shoptest.Hopeless(trouble, uint64(i)))
	}
	told := 0
	for _, s := range shops {
		a := built(s)
		before := a.Plan()
		lines := binding.Of(a)
		if !bytes.Equal(before.Encode(), a.Plan().Encode()) {
			t.Errorf("%s: the plan has changed", s.Name)
		}
		planned := map[string]int{}
		for _, al := range before.Allocations {
			planned[al.Line] += al.Sets
		}
		late, reported := 0.0, map[string]binding.Line{}
		for i, l := range lines {
			told++
			late += l.Cost
			reported[l.Line] = l
			if i > 0 && l.Cost > lines[i-1].Cost {
				t.Errorf("%s: line %s costs more than the one before it", s.Name, l.Line)
			}
			judgeCauses(t, s.Name, l)
		}
		for _, d := range s.Demand {
			if l, ok := reported[d.ID]; planned[d.ID] < d.Quantity && (!ok || l.UnallocatedSets < d.Quantity-planned[d.ID]) {
				t.Errorf("%s: %d of %d sets of line %s are planned, it is told %+v", s.Name, planned[d.ID], d.Quantity, d.ID, l)
			}
		}
		if diff := late - before.Cost.Late; diff > 0.01 || diff < -0.01 {
			t.Errorf("%s: the lines cost %g, the plan says %g", s.Name, late, before.Cost.Late)
		}
	}
	if told < 100 {
		t.Errorf("only %d lines to tell of", told)
	}
}

func judgeCauses(t *testing.T, name string, l binding.Line) {
	t.Helper()
	if n := len(l.Binds); n == 0 || n > 2 {
		t.Errorf("%s: line %s has %d causes", name, l.Line, n)
	}
	for _, b := range l.Binds {
		if b.Kind == "" || b.What == "" || b.How == "" || strings.Contains(b.What, "%!") {
			t.Errorf("%s: line %s has cause %+v", name, l.Line, b)
		}
	}
}

// Of every line the same is told as of those that are late or left out, each of
// which has a cause by itself too; of the others, that they are in time, and
// nothing that binds them.
func TestLines(t *testing.T) {
	inTime := 0
	for seed := range uint64(12) {
		a := built(shoptest.Make(seed, shoptest.Size{Lines: 12, Days: 4}))
		told := map[string]binding.Line{}
		for _, l := range binding.Of(a) {
			told[l.Line] = l
		}
		for i, l := range binding.Lines(a) {
			causes := binding.Causes(a, i)
			if want, late := told[l.Line]; late {
				want.Binds = nil
				if diff := cmp.Diff(want, l); diff != "" || len(causes) == 0 {
					t.Errorf("shop %d: %d causes, and of all lines it is told otherwise (-late ones +all):\n%s", seed, len(causes), diff)
				}
				continue
			}
			if l.LateSets != 0 || l.UnallocatedSets != 0 || l.DaysLate != 0 || l.Cost != 0 || causes != nil || l.Ship == nil || *l.Ship > l.Due {
				t.Errorf("shop %d: line %+v, which is not told of, is not in time", seed, l)
			}
			inTime++
		}
	}
	if inTime < 20 {
		t.Errorf("only %d lines are in time", inTime)
	}
}

// The same answer makes the same report.
func TestOf_Deterministic(t *testing.T) {
	for seed := range uint64(8) {
		s := shoptest.Make(seed, shoptest.Size{Pieces: 200, Days: 8})
		first, second := binding.Of(built(s)), binding.Of(built(s))
		if len(first) != len(second) {
			t.Fatalf("%d and %d lines", len(first), len(second))
		}
		for i := range first {
			for j := range first[i].Binds {
				if first[i].Binds[j] != second[i].Binds[j] {
					t.Errorf("%+v and %+v", first[i].Binds[j], second[i].Binds[j])
				}
			}
		}
	}
}
