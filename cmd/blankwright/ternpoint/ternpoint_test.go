package ternpoint_test

import (
	"bytes"
	"slices"
	"strings"
	"testing"
	"time"

	"blankwright/cmd/blankwright/ternpoint"
	"blankwright/scheduler/check"
	"blankwright/scheduler/cure"
	"blankwright/scheduler/plan"
	"blankwright/scheduler/shop"
	"blankwright/scheduler/thorough"
)

// first is a Friday; the dates after it hold every weekday, a leap day, and
// both clock changes of Newfoundland.
var first = shop.DateOf(time.Date(2027, 12, 31, 0, 0, 0, 0, time.UTC))

const dates = 400

// every is how many days apart the dates are that are tried; seven days would show
// the same weekday.
var every = thorough.Of[shop.Date](9, 1)

// On any date the shop is a valid file.
func TestShop_ValidOnAnyDate(t *testing.T) {
	for day := first; day < first+dates; day += every {
		if _, err := shop.Read(ternpoint.Shop(day).Encode()); err != nil {
			t.Fatalf("%s: %v", day, err)
		}
	}
}

// What is read back is what was written.
func TestShop_RoundTrip(t *testing.T) {
	written := ternpoint.Shop(first).Encode()
	read, err := shop.Read(written)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(read.Encode(), written) {
		t.Error("the shop does not read back as written")
	}
}

// The same date makes the same shop.
func TestShop_Deterministic(t *testing.T) {
	for day := first; day < first+dates; day += 40 {
		if !bytes.Equal(ternpoint.Shop(day).Encode(), ternpoint.Shop(day).Encode()) {
			t.Fatalf("%s differs when made again", day)
		}
	}
}

// The first two resins share one profile; the third accepts only its own.
func TestShop_Cures(t *testing.T) {
	s := ternpoint.Shop(first)
	want := [][]string{{"shared 124", "quick 132"}, {"shared 124"}, {"cool 94"}}
	for i := range s.Resins {
		var accepts []string
		for k := range s.Profiles {
			if cure.Resin(&s.Profiles[k], &s.Resins[i], s.Policy.AmbientC) == "" {
				accepts = append(accepts, s.Profiles[k].ID)
			}
		}
		if !slices.Equal(accepts, want[i]) {
			t.Errorf("resin %s accepts %v, not %v", s.Resins[i].ID, accepts, want[i])
		}
	}
}

// There is material for all of demand, with a tenth to spare.
func TestShop_SupplyCoversDemand(t *testing.T) {
	s := ternpoint.Shop(first)
	left := map[string]float64{}
	for _, lot := range s.Supply {
		left[lot.Prepreg] += lot.M2
	}
	nest := map[string]float64{}
	for _, p := range s.Prepregs {
		nest[p.ID] = p.NestYield
	}
	for _, line := range s.Demand {
		i := slices.IndexFunc(s.Products, func(p shop.Product) bool { return p.ID == line.Product })
		for _, section := range s.Products[i].Sections {
			for _, f := range section.Flags {
				area := f.LengthMM * (f.ButtMM + f.TipMM) / 2e6 / nest[f.Prepreg]
				left[f.Prepreg] -= 1.1 * area * float64(line.Quantity) / section.Yield
			}
		}
	}
	for prepreg, m2 := range left {
		if m2 < 0 {
			t.Errorf("%.1f m2 of %s are lacking", -m2, prepreg)
		}
	}
}

// On any date the shop has what the demonstration shows.
func TestShop_Structure(t *testing.T) {
	for day := first; day < first+dates; day += every {
		s := ternpoint.Shop(day)
		if s.Today() != day || !strings.Contains(s.Name, "(invented)") {
			t.Fatalf("%s: it is %s at %s", day, s.Today(), s.Name)
		}
		least := map[string][2]int{ // what there is, what there must be
			"products":      {len(s.Products), 25},
			"mandrel types": {len(s.MandrelTypes), 20},
			"mandrels":      {len(s.Mandrels), 280},
			"ovens":         {len(s.Ovens), 2},
			"resins":        {len(s.Resins), 3},
			"orders":        {kinds(s)[shop.KindOrder], 60},
			"restock":       {kinds(s)[shop.KindRestock], 1},
			"downtime":      {len(s.Downtime), 1},
			"supply":        {len(s.Supply), len(s.Prepregs)},
			"exceptions":    {len(s.Calendars["floor"].Exceptions), 1},
			"in inspection": {states(s)["inspection"], 1},
			"in quarantine": {states(s)["quarantine"], 1},
		}
		for what, n := range least {
			if n[0] < n[1] {
				t.Errorf("%s: %d %s, not %d", day, n[0], what, n[1])
			}
		}
	}
}

func kinds(s *shop.Shop) map[string]int {
	out := map[string]int{}
	for _, line := range s.Demand {
		out[line.Kind]++
	}
	return out
}

func states(s *shop.Shop) map[string]int {
	out := map[string]int{}
	for _, m := range s.Mandrels {
		out[m.State]++
	}
	return out
}

// On any date a load is in the middle of its cure, its mandrels are out and
// its pieces are still to be pulled.
func TestShop_MidCure(t *testing.T) {
	for day := first; day < first+dates; day += every {
		s := ternpoint.Shop(day)
		load := s.Released.Loads[1]
		if s.Now.Minute <= load.CureStart.Minute || load.CureEnd.Minute <= s.Now.Minute {
			t.Fatalf("%s: now is not within the cure of %s", day, load.ID)
		}
		tacked, pulled := 0, 0
		for _, task := range s.Released.Tasks {
			if task.Load == load.ID && task.Stage == shop.Tack && task.End.Minute <= s.Now.Minute {
				tacked += task.Pieces
			}
			if task.Load == load.ID && task.Stage == shop.Pull && task.Start.Minute > s.Now.Minute {
				pulled += task.Pieces
			}
		}
		if tacked == 0 || tacked != pulled {
			t.Errorf("%s: %d pieces tacked, %d still to be pulled", day, tacked, pulled)
		}
	}
}

// What is under way keeps every rule: had it been planned a week ago, with
// the same tools, stock and supply, the checker would have found no fault but
// that it serves no line, and the one piece that was scrapped.
func TestShop_UnderwayKeepsTheRules(t *testing.T) {
	for day := first; day < first+dates; day += every {
		s := ternpoint.Shop(day)
		work := *s.Released
		s.Released, s.Incoming = nil, nil
		s.Now = shop.InstantIn(shop.At(day-8, 0, s.Zone()), s.Zone())
		for i := range s.Supply {
			s.Supply[i].From = s.Now
		}
		p := &plan.Plan{Format: plan.Format, Shop: s.Name, Now: s.Now, Loads: work.Loads, Tasks: work.Tasks}
		report := check.Plan(s, p)
		for _, breach := range report.Breaches {
			scrap := breach.Rule == "R8" && strings.Contains(breach.Message, scrapped)
			if breach.Rule != check.RuleCost && breach.Rule != check.RuleBound && !scrap {
				t.Errorf("%s: %s", day, breach)
			}
		}
	}
}

// scrapped is the section of which the checker misses the scrapped piece.
const scrapped = "section STE-905.1"

// Read as it is, a plan of nothing but the released work is a valid one.
func TestShop_ReleasedAlone(t *testing.T) {
	for day := first; day < first+dates; day += 7 {
		s := ternpoint.Shop(day)
		p := &plan.Plan{Format: plan.Format, Shop: s.Name, Now: s.Now, Loads: s.Released.Loads, Tasks: s.Released.Tasks}
		p.Cost = check.Plan(s, p).Cost
		p.Bound = plan.Bound{Gap: 1}
		for _, breach := range check.Plan(s, p).Breaches {
			t.Errorf("%s: %s", day, breach)
		}
	}
}

// Every order of the book is of a known dealer, whose name says that it is
// invented.
func TestDealers(t *testing.T) {
	known := map[string]bool{}
	for _, d := range ternpoint.Dealers() {
		known[strings.ToUpper(d.ID)] = true
		if !strings.HasSuffix(d.Name, "(invented)") {
			t.Errorf("%s does not say that it is invented", d.Name)
		}
	}
	for _, line := range ternpoint.Shop(20783).Demand { // 2026-11-26
		letters, _, _ := strings.Cut(line.Order, "-")
		if line.Order != "" && !known[letters] {
			t.Errorf("order %s is of no dealer", line.Order)
		}
	}
}

// Every section is wrapped within what is usual: a pitch of 1.5 to 3 mm, a tension
// of 15 to 60 N, one or two passes (common practice, no source).
func TestWrapOf(t *testing.T) {
	seen := map[ternpoint.Wrap]bool{}
	for _, p := range ternpoint.Shop(20783).Products {
		for i := range p.Sections {
			w := ternpoint.WrapOf(&p.Sections[i])
			seen[w] = true
			if w.PitchMM < 1.5 || w.PitchMM > 3 || w.TensionN < 15 || w.TensionN > 60 || w.Passes < 1 || w.Passes > 2 {
				t.Errorf("section %s is wrapped by %+v", p.Sections[i].ID, w)
			}
		}
	}
	if len(seen) != 3 {
		t.Errorf("%d recipes are in use, want 3", len(seen))
	}
}

// What the shop says of the floor has happened when it is used.
func TestBegun(t *testing.T) {
	for _, test := range []struct{ now, want string }{
		{"2026-11-26T18:29:00Z", "2026-11-25"},
		{"2026-11-26T18:30:00Z", "2026-11-26"},
		{"2026-11-27T02:00:00Z", "2026-11-26"}, // of which it is still the evening there
		{"2026-07-01T17:30:00Z", "2026-07-01"},
	} {
		now, err := time.Parse(time.RFC3339, test.now)
		if err != nil {
			t.Fatal(err)
		}
		if got := ternpoint.Begun(now).String(); got != test.want {
			t.Errorf("at %s: %s, want %s", test.now, got, test.want)
		}
	}
}
