package store_test

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"blankwright/scheduler/shop"
	"blankwright/scheduler/shoptest"
	"blankwright/scheduler/strict"
	"blankwright/scheduler/thorough"
	"blankwright/store"
	"blankwright/store/crib"
	"blankwright/store/storetest"
)

// A living shop goes on day after day: orders and claims come in, each
// afternoon it is planned and the next day released, the floor does what is
// due, later than was meant or not at all, scraps pieces, and corrects itself.
// What goes wrong beside is told by day in the test. The dice are seeded.
type living struct {
	bench
	dice *rand.Rand
	zone *time.Location
	seen map[string]int // how often what happened
}

func newLiving(t *testing.T, seed uint64) *living {
	s := livingShop()
	l := &living{bench: bench{T: t}, dice: rand.New(rand.NewPCG(seed, 7)), zone: s.Zone(), seen: map[string]int{}}
	l.Books, l.clock = storetest.Open(t)
	storetest.Import(t, l.Books, s)
	_, err := l.PutDealer(t.Context(), "dealer", store.DealerTerms{Name: "A dealer (invented)", Weight: 1}, store.MustBeNew)
	l.must(err)
	_, err = l.PutLevel(t.Context(), "ONE", store.LevelTerms{Sets: 3, Days: 10, Weight: 0.5}, store.MustBeNew)
	l.must(err)
	shelf := l.clock.Now().Add(200 * 24 * time.Hour)
	for i := range 3 {
		_, err := l.AddRoll(t.Context(), store.NewRoll{
			ID: fmt.Sprintf("roll %d", i+1), Prepreg: "prepreg", M2: 25, Shelf: shelf, Limit: 11 * 24 * time.Hour, Thaw: 8 * time.Hour,
		})
		l.must(err)
	}
	return l
}

// livingShop is a yard that works weekdays by a crew of six, two ovens, and
// clocks that change on the second Sunday.
func livingShop() *shop.Shop {
	s := storetest.Yard()
	s.Name, s.Timezone, s.HorizonDays = "Living yard (invented)", "America/St_Johns", 24
	hours := []shop.Window{{7 * 60, 12 * 60}, {12*60 + 30, 17 * 60}}
	s.Calendars["work"] = shop.Calendar{Weekly: shop.Weekly{Mon: hours, Tue: hours, Wed: hours, Thu: hours, Fri: hours}}
	s.Crews = []shop.Crew{{ID: "hands", Shifts: []shop.Shift{{Calendar: "work", People: 6}}}}
	s.Policy.ShippingCalendar, s.Policy.TransferPieces, s.Policy.MaxGreenMinutes = "work", 4, 3*1440
	s.Policy.LateCost, s.Policy.HoldCost, s.Policy.UnplannedDays = 5, 0.1, 5
	s.Prepregs[0].MaxOpenMinutes = 3 * 1440
	for _, stage := range shop.Stages() {
		*s.Stations.At(stage) = shop.Station{Positions: 2, Calendar: "work", Crew: "hands", People: 1, SetupMinutes: 5}
	}
	for i := range s.Ovens {
		s.Ovens[i].Calendar, s.Ovens[i].RunCost = "work", 15
	}
	s.Racks = []shop.Rack{shoptest.BareRack("rack", 16)}
	s.Racks[0].Count = 3
	s.MandrelTypes[0].TurnaroundMinutes = 30
	s.Mandrels = nil
	shoptest.AddMandrels(s, "mandrel", 36)
	for i := range s.Products {
		s.Products[i].FinishDays = 1
		for k := range s.Products[i].Sections {
			section := &s.Products[i].Sections[k]
			section.Yield, section.Minutes = 0.95, shop.Minutes{Tack: 12, Roll: 8, Wrap: 12, Pull: 8, Strip: 8, Trim: 8}
			section.Flags[0] = shop.Flag{Prepreg: "prepreg", LengthMM: 1000, ButtMM: 200, TipMM: 100, CutMinutes: 10}
		}
	}
	return s
}

func (l *living) chance(in100 int) bool { return l.dice.IntN(100) < in100 }

// local returns the shop's own clock.
func (l *living) local() time.Time { return l.clock.Now().In(l.zone) }

// at sets the clock to an hour of a day after the first.
func (l *living) at(day, hour int) {
	start := storetest.Start.In(l.zone)
	l.clock.Set(time.Date(start.Year(), start.Month(), start.Day()+1+day, hour, 0, 0, 0, l.zone).UTC())
}

// did notes what was done, or that the books refused it: which is all that may
// come of it.
func (l *living) did(what string, err error) {
	l.Helper()
	switch {
	case err == nil:
		l.seen[what]++
	case errors.Is(err, store.ErrConflict):
		l.seen[what+" refused"]++
	default:
		l.Fatalf("%s: %v", what, err)
	}
}

// demand lets orders, changes of them and claims come in.
func (l *living) demand() {
	today := shop.DateOf(l.local())
	if l.chance(30) {
		var lines []store.LineTerms
		for range 1 + l.dice.IntN(2) {
			product := []string{"ONE", "TWO"}[l.dice.IntN(2)]
			lines = append(lines, store.LineTerms{Product: product, Quantity: 1 + l.dice.IntN(5), Due: today + 3 + shop.Date(l.dice.IntN(9))})
		}
		complete := l.chance(30)
		_, err := l.EnterOrder(l.Context(), store.NewOrder{OrderTerms: store.OrderTerms{Dealer: "dealer", Complete: &complete}, Lines: lines})
		l.did("order", err)
	}
	if l.chance(6) {
		_, err := l.EnterClaim(l.Context(), store.NewClaim{Product: "TWO", Sold: today - 100, Failed: today - 2, Reason: "broke at the ferrule"})
		l.did("claim", err)
	}
	if l.chance(5) {
		open, err := l.Lines(l.Context(), store.LineFilter{})
		l.must(err)
		if len(open) > 0 {
			line := open[l.dice.IntN(len(open))]
			if line.Kind == shop.KindOrder && line.Shipped < line.Quantity {
				_, err = l.CancelLine(l.Context(), line.ID, line.Rev)
				l.did("cancel", err)
			}
		}
	}
}

// tick plans and releases what begins by the end of the next working day.
func (l *living) tick() {
	id := l.plan()
	l.seen["plan"]++
	days := 1
	if l.local().Weekday() == time.Friday {
		days = 3
	}
	end := l.local()
	end = time.Date(end.Year(), end.Month(), end.Day()+days, 17, 0, 0, 0, l.zone)
	_, err := l.Release(l.Context(), id, end)
	l.did("release", err)
}

// issue gives out the mandrels for what is tacked by tomorrow night.
func (l *living) issue() {
	choices, err := l.Pick(l.Context(), store.PickFilter{Until: l.clock.Now().Add(36 * time.Hour)})
	l.must(err)
	for _, c := range choices {
		var which []store.Seen
		for _, m := range c.Mandrels {
			if m.Place == crib.InCrib {
				which = append(which, store.Seen{ID: m.ID})
			}
		}
		if len(which) > 0 {
			_, err := l.MoveMandrels(l.Context(), which, crib.Order{Move: crib.Issue, Load: c.Load})
			l.did("issue", err)
		}
	}
}

// clean returns the mandrels of loads that are pulled, and those that were
// wiped to the crib.
func (l *living) clean() {
	out, err := l.Mandrels(l.Context(), store.MandrelFilter{})
	l.must(err)
	pulled := map[string]bool{}
	for _, m := range out {
		switch m.Place {
		case crib.Cleaning:
			_, err := l.MoveMandrels(l.Context(), []store.Seen{{ID: m.ID}}, crib.Order{Move: crib.ToCrib})
			l.did("to the crib", err)
		case crib.Issued:
			done, known := pulled[m.Load]
			if !known {
				done = l.allPulled(m.Load)
				pulled[m.Load] = done
			}
			if done {
				_, err := l.MoveMandrels(l.Context(), []store.Seen{{ID: m.ID}}, crib.Order{Move: crib.Return})
				l.did("return", err)
			}
		}
	}
}

func (l *living) allPulled(load string) bool {
	of, err := l.FloorLoad(l.Context(), load)
	l.must(err)
	return !slices.ContainsFunc(of.Tasks, func(t store.Task) bool { return t.Stage == "pull" && t.Pieces > 0 && t.State != store.TaskDone })
}

// work lets the floor do what is due, by load and stage, but for what is held
// up.
func (l *living) work() {
	loads, err := l.FloorLoads(l.Context())
	l.must(err)
	for _, load := range loads {
		if !load.Finished.IsZero() {
			continue
		}
		for _, t := range load.Tasks {
			l.task(t)
		}
		l.oven(load)
	}
}

func (l *living) task(t store.Task) {
	switch {
	case t.State == store.TaskWaiting && t.Pieces > 0 && !t.From.After(l.clock.Now()) && l.chance(90):
		_, err := l.ReportBegun(l.Context(), t.ID, t.From)
		l.did("begun", err)
		if err != nil || t.To.After(l.clock.Now()) || l.chance(10) {
			return
		}
		l.end(l.now(t), t.To)
	case t.State == store.TaskBegun && l.chance(90):
		l.end(t, l.clock.Now())
	}
}

// end reports a task as done, now and then with scrap.
func (l *living) end(t store.Task, at time.Time) {
	r := store.TaskReport{Task: t.ID, At: at, Dead: t.Pieces - t.Live}
	scrapped := 0
	for range t.Live {
		if l.chance(3) {
			scrapped++
		}
	}
	if r.Good = t.Live - scrapped; scrapped > 0 {
		r.Scrap = []store.Scrap{{Reason: store.Defects()[l.dice.IntN(len(store.Defects()))], Pieces: scrapped}}
		l.seen["scrap"] += scrapped
	}
	_, err := l.ReportDone(l.Context(), r)
	l.did("done", err)
}

func (l *living) oven(of store.FloorLoad) {
	now := l.clock.Now()
	if !of.WentIn && !of.In.After(now) && l.chance(90) {
		_, err := l.ReportIn(l.Context(), of.Planned.ID, of.In)
		l.did("in", err)
	}
	if of.WentIn && !of.CameOut && of.CureEnd.Before(now) {
		_, err := l.ReportOut(l.Context(), of.Planned.ID, time.Time{})
		l.did("out", err)
	}
}

// correct changes what was reported some time ago.
func (l *living) correct() {
	all, err := l.Reports(l.Context(), store.ReportFilter{Limit: 40})
	l.must(err)
	if len(all) == 0 {
		return
	}
	r := all[l.dice.IntN(len(all))]
	c := store.Correction{Report: r.ID, Reason: "miscounted", Good: r.Good, Dead: r.Dead, Scrap: r.Scrap}
	if r.What == "done" && r.Good > 0 && len(r.Scrap) == 0 {
		c.Good, c.Scrap = r.Good-1, []store.Scrap{{Reason: "wrinkle", Pieces: 1}}
	}
	c.Withdraw = l.chance(30)
	_, err = l.Correct(l.Context(), c)
	var wrong strict.Problems
	if errors.As(err, &wrong) {
		l.seen["correct refused"]++
		return
	}
	l.did("correct", err)
}

// ship sends what is in stock on the lines that are due first.
func (l *living) ship() {
	lines, err := l.Lines(l.Context(), store.LineFilter{})
	l.must(err)
	for _, line := range lines {
		left := line.Quantity - line.Shipped - line.Cancelled
		if n := min(left, l.stock(line.Product)); n > 0 {
			_, err := l.Ship(l.Context(), []store.Parcel{{Line: line.ID, Sets: n}}, "")
			var wrong strict.Problems
			if errors.As(err, &wrong) { // it ships complete, is for the shelf, or is held back
				continue
			}
			l.did("ship", err)
		}
	}
}

// holds looks at everything: the books balance, and make a valid shop.
func (l *living) holds() {
	l.Helper()
	if err := l.Verify(l.Context()); err != nil { // which reads the shop file that a snapshot is
		l.Fatalf("at %s: %v", l.local(), err)
	}
	snap, err := l.Snapshot(l.Context())
	l.must(err)
	for _, trouble := range snap.Troubles {
		l.seen["trouble "+trouble.Kind]++
		if trouble.What == "" || trouble.Mend == "" {
			l.Errorf("a trouble says nothing: %+v", trouble)
		}
	}
}

// misfortune is what befalls the shop by day.
func (l *living) misfortune(day int) {
	switch day {
	case 0:
		_, err := l.MoveRoll(l.Context(), store.Seen{ID: "roll 1"}, crib.RollOrder{Move: crib.TakeOut})
		l.did("roll out", err)
	case 3, 9:
		out, err := l.Mandrels(l.Context(), store.MandrelFilter{Place: crib.Issued})
		l.must(err)
		if len(out) > 0 {
			_, err = l.MoveMandrels(l.Context(), []store.Seen{{ID: out[0].ID}}, crib.Order{Move: crib.Scrap, Remark: "snapped at the bench"})
			l.did("mandrel broken", err)
		}
	case 5:
		until := shop.DateOf(l.local()) + 3
		l.holdOne(store.Hold{Why: "the dealer's store is full", Until: &until})
	case 11:
		l.holdOne(store.Hold{Why: "waits for a deposit"})
	case 14:
		held, err := l.Lines(l.Context(), store.LineFilter{Held: true})
		l.must(err)
		for _, line := range held {
			_, err := l.LiftHold(l.Context(), line.ID, 0)
			l.did("lift", err)
		}
	case 15:
		_, err := l.MoveRoll(l.Context(), store.Seen{ID: "roll 2"}, crib.RollOrder{Move: crib.TakeOut})
		l.did("roll out", err)
	}
}

// doorSeal closes the oven of a load that is planned to go in within a day, for a
// day, once in all the time.
func (l *living) doorSeal() {
	loads, err := l.FloorLoads(l.Context())
	l.must(err)
	from := shop.InstantOf(l.local().Truncate(time.Minute))
	for _, load := range loads {
		ahead := load.Planned.In.Minute - from.Minute
		if l.seen["oven down"] > 0 || load.WentIn || ahead < 0 || ahead > 20*60 {
			continue
		}
		down := shop.Downtime{Resource: "oven:" + load.Planned.Oven, From: from, To: shop.Instant{Minute: from.Minute + 1440, Offset: from.Offset}, Why: "door seal"}
		_, err = l.PutThing(l.Context(), "downtime", "1", strict.Encode(down), store.MustBeNew)
		l.did("oven down", err)
	}
}

// holdOne holds back the order's line that is due last.
func (l *living) holdOne(hold store.Hold) {
	lines, err := l.Lines(l.Context(), store.LineFilter{Kind: shop.KindOrder, Open: true})
	l.must(err)
	if len(lines) > 0 {
		_, err = l.HoldLine(l.Context(), lines[len(lines)-1].ID, hold, 0)
		l.did("hold", err)
	}
}

// day lives through one day.
func (l *living) day(day int) {
	l.at(day, 6)
	l.demand()
	l.holds()
	if w := l.local().Weekday(); w == time.Saturday || w == time.Sunday {
		return
	}
	l.clean()
	l.issue()
	for hour := 7; hour <= 17; hour++ {
		l.at(day, hour)
		if hour == 11 {
			l.misfortune(day)
		}
		if day >= 8 {
			l.doorSeal()
		}
		l.work()
		l.demand()
		if l.chance(20) {
			l.correct()
		}
		if hour == 15 {
			l.tick()
		}
		if hour == 16 {
			l.ship()
		}
		if hour%thorough.Of(4, 1) == 0 {
			l.holds()
		}
	}
	l.copies()
}

// copies exports the shop as it stands, imports it into empty books, and
// exports it again, which must give the same.
func (l *living) copies() {
	l.Helper()
	file := export(l, l.Books)
	again := storetest.OpenIn(l, l.TempDir(), l.clock)
	l.must(again.Import(l.Context(), file))
	if diff := cmp.Diff(string(file), string(export(l, again))); diff != "" {
		l.Fatalf("at %s: exported again (-first +again):\n%s", l.local(), diff)
	}
	l.must(again.Close())
}

// Through three weeks of a shop's life, with all that goes wrong in one, the
// books balance at every hour (in a usual run, thrice a day), every snapshot is a valid shop, and every plan
// keeps all rules.
func TestLiving(t *testing.T) {
	t.Parallel()
	days := 21
	if testing.Short() {
		days = 5
	}
	l := newLiving(t, 3)
	for day := range days {
		l.day(day)
	}
	if testing.Short() {
		return
	}
	for _, what := range []string{
		"order", "claim", "plan", "release", "issue", "return", "begun", "done", "in", "out", "scrap", "correct", "correct refused",
		"ship", "hold", "lift", "mandrel broken", "oven down", "roll out", "trouble open", "trouble expired", "trouble oven",
	} {
		if l.seen[what] == 0 {
			t.Errorf("in all the time there was no %s", what)
		}
	}
	b, err := l.Balance(t.Context())
	l.must(err)
	if b.Trimmed < 50 || b.Scrapped == 0 {
		t.Errorf("the shop made little: %+v", b)
	}
}
