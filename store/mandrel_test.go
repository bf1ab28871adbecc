package store_test

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"blankwright/scheduler/shop"
	"blankwright/scheduler/shoptest"
	"blankwright/scheduler/strict"
	"blankwright/store"
	"blankwright/store/crib"
	"blankwright/store/storetest"
)

// toolShop is the bare shop with five mandrels of its type and one of another,
// which clean for half an hour, and a released load L1 of three pieces that is
// tacked at six in the morning and pulled at ten.
func toolShop() *shop.Shop {
	s := shoptest.Bare()
	s.MandrelTypes[0].TurnaroundMinutes = 30
	s.MandrelTypes = append(s.MandrelTypes, shop.MandrelType{ID: "odd", HangMM: 1000})
	s.Mandrels = nil
	shoptest.AddMandrels(s, "mandrel", 5)
	shoptest.AddMandrels(s, "odd", 1)
	s.Released = workOf(s, "L1", 3, 6*60)
	return s
}

// workOf is a load of so many pieces of section S, tacked some minutes after
// the shop's now.
func workOf(s *shop.Shop, load string, pieces int, minutes int64) *shop.Released {
	at := func(m int64) shop.Instant { return shop.Instant{Minute: s.Now.Minute + minutes + m} }
	w := &shop.Released{Loads: []shop.Load{{
		ID: load, Oven: "oven", Profile: "cure", In: at(120), CureStart: at(121), CureEnd: at(181), Out: at(182),
		Racks: []shop.RackUse{{Rack: "rack", Setup: "one level", Levels: [][]shop.Hang{{{Section: "S", Pieces: pieces}}}}},
	}}}
	for i, stage := range shop.Stages() {
		from := []int64{-60, 0, 30, 60, 240, 270, 300}[i]
		t := shop.Task{Load: load, Section: "S", Stage: stage, Position: 1, Pieces: pieces, Start: at(from), End: at(from + 10)}
		if stage == shop.Cut {
			t.Prepreg = "prepreg"
		}
		w.Tasks = append(w.Tasks, t)
	}
	return w
}

// openCrib returns new books that hold toolShop.
func openCrib(t testing.TB) (*store.Books, *storetest.Clock) {
	t.Helper()
	b, clock := storetest.Open(t)
	storetest.Import(t, b, toolShop())
	return b, clock
}

func some(ids ...string) []store.Seen {
	var out []store.Seen
	for _, id := range ids {
		out = append(out, store.Seen{ID: id})
	}
	return out
}

// move makes a move that must be possible.
func move(t testing.TB, b *store.Books, o crib.Order, ids ...string) []store.Mandrel {
	t.Helper()
	moved, err := b.MoveMandrels(t.Context(), some(ids...), o)
	if err != nil {
		t.Fatal(err)
	}
	return moved
}

func mandrel(t testing.TB, b *store.Books, id string) store.Mandrel {
	t.Helper()
	m, err := b.Mandrel(t.Context(), id)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func verify(t testing.TB, b *store.Books) {
	t.Helper()
	if err := b.Verify(t.Context()); err != nil {
		t.Error(err)
	}
}

// A mandrel goes out to its load and comes back through cleaning, with a cycle
// counted, its history told, and the trail's.
func TestMoveMandrels(t *testing.T) {
	b, clock := openCrib(t)
	ctx := store.WithActor(t.Context(), "ann")
	if _, err := b.MoveMandrels(ctx, some("m2", "m1"), crib.Order{Move: crib.Issue, Load: "L1"}); err != nil {
		t.Fatal(err)
	}
	clock.Advance(10 * time.Hour)
	returned := move(t, b, crib.Order{Move: crib.Return, Remark: "pulled hard"}, "m1")[0]
	if want := clock.Now().Add(30 * time.Minute); returned.Place != crib.Cleaning || !returned.Back.Equal(want) || returned.All != 1 {
		t.Errorf("returned it is %+v, back by %v", returned, want)
	}
	move(t, b, crib.Order{Move: crib.ToCrib}, "m1")
	history, err := b.MandrelHistory(t.Context(), "m1", 0)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, h := range history {
		got = append(got, fmt.Sprintf("%s: %s to %s, load %q, %d, %q, by %s", h.Move, h.From, h.To, h.Load, h.Cycles, h.Remark, h.Actor))
	}
	want := []string{
		`crib: cleaning to crib, load "", 0, "", by system`,
		`return: issued to cleaning, load "L1", 1, "pulled hard", by system`,
		`issue: crib to issued, load "L1", 0, "", by ann`,
		`entered:  to crib, load "", 0, "from a shop file", by system`,
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("history (-want +got)\n%s", diff)
	}
	entries, err := b.Trail(t.Context(), store.TrailFilter{Kind: "mandrel", Of: "m1"})
	if err != nil || len(entries) != 3 || !strings.Contains(string(entries[1].To), `"place":"cleaning"`) {
		t.Errorf("the trail tells %+v, %v", entries, err)
	}
	verify(t, b)
}

// What cannot be done with one is done with none, and of each that cannot it
// says what can.
func TestMoveMandrels_Impossible(t *testing.T) {
	b, _ := openCrib(t)
	move(t, b, crib.Order{Move: crib.Issue, Load: "L1"}, "m1")
	move(t, b, crib.Order{Move: crib.ToQuarantine, Remark: "bent"}, "m2")
	_, err := b.MoveMandrels(t.Context(), some("m3", "m1", "m2"), crib.Order{Move: crib.Recoat})
	var impossible *store.Impossible
	if !errors.As(err, &impossible) || !errors.Is(err, store.ErrConflict) || len(impossible.Refusals) != 2 {
		t.Fatalf("got %v", err)
	}
	for _, want := range []string{
		"m1 is issued to load L1, so recoat is not possible; possible: return, quarantine, scrap",
		"m2 is in quarantine, so recoat is not possible; possible: inspect, regrind, scrap",
	} {
		if !strings.Contains(err.Error(), want) {
			t.Errorf("%v\ndoes not say %s", err, want)
		}
	}
	if m := mandrel(t, b, "m3"); m.Place != crib.InCrib || m.Rev != 1 {
		t.Errorf("m3 is %+v", m)
	}
	verify(t, b)
}

// Everything that is wrong with what is asked is told at once, at its path.
func TestMoveMandrels_Refused(t *testing.T) {
	b, clock := openCrib(t)
	later := clock.Now().Add(time.Minute)
	tests := []struct {
		name  string
		which []store.Seen
		order crib.Order
		want  string
	}{
		{"none", nil, crib.Order{Move: crib.Clean}, "ids"},
		{"unknown, twice", some("m1", "x", "m1"), crib.Order{Move: crib.Clean}, "ids[1] ids[2]"},
		{"no such move, not yet", some("m1"), crib.Order{Move: "melt", At: later}, "move at"},
		{"before its last move", some("m1"), crib.Order{Move: crib.Clean, At: clock.Now().Add(-time.Hour)}, "at"},
		{"to a load that is not there", some("m1"), crib.Order{Move: crib.Issue, Load: "L9"}, "load"},
		{"to a load that needs none of the type", some("m1", "m6"), crib.Order{Move: crib.Issue, Load: "L1"}, "ids[1]"},
	}
	for _, test := range tests {
		_, err := b.MoveMandrels(t.Context(), test.which, test.order)
		if got := pathsOf(err); got != test.want {
			t.Errorf("%s: %v, want problems at %s", test.name, err, test.want)
		}
	}
	_, err := b.MoveMandrels(t.Context(), some("m1", "m2", "m3", "m4"), crib.Order{Move: crib.Issue, Load: "L1"})
	if !errors.Is(err, store.ErrConflict) || !strings.Contains(err.Error(), "needs 3 of mandrel and has had 0, so 4 more are too many") {
		t.Errorf("too many for the load: %v", err)
	}
}

// pathsOf returns the paths of an error's problems.
func pathsOf(err error) string {
	var problems strict.Problems
	if !errors.As(err, &problems) {
		return ""
	}
	var paths []string
	for _, p := range problems {
		paths = append(paths, p.Path)
	}
	return strings.Join(paths, " ")
}

// Two who saw the same revision cannot both move a mandrel, and the same
// request again is the same move.
func TestMoveMandrels_Once(t *testing.T) {
	b, _ := openCrib(t)
	keyed := store.WithKey(t.Context(), "k")
	seen := []store.Seen{{ID: "m1", Rev: 1}}
	for range 2 {
		moved, err := b.MoveMandrels(keyed, seen, crib.Order{Move: crib.Clean})
		if err != nil || moved[0].Place != crib.Cleaning || moved[0].Rev != 2 {
			t.Fatalf("%+v, %v", moved, err)
		}
	}
	if _, err := b.MoveMandrels(t.Context(), seen, crib.Order{Move: crib.Scrap, Remark: "worn"}); !errors.Is(err, store.ErrStale) {
		t.Errorf("seen before the move: %v", err)
	}
	if _, err := b.MoveMandrels(store.WithTrial(t.Context()), some("m1"), crib.Order{Move: crib.Scrap, Remark: "worn"}); err != nil {
		t.Errorf("tried: %v", err)
	}
	if m := mandrel(t, b, "m1"); m.Place != crib.Cleaning || m.Rev != 2 {
		t.Errorf("m1 is %+v", m)
	}
}

// At its type's limit a mandrel is due: it cannot be issued, it keeps out of
// the shop file, and recoating mends that.
func TestMandrelLimits(t *testing.T) {
	b, clock := openCrib(t)
	limit, err := b.SetMandrelLimit(t.Context(), "mandrel", crib.Limits{Recoat: 1}, 0)
	if err != nil || limit.Rev != 1 {
		t.Fatalf("%+v, %v", limit, err)
	}
	move(t, b, crib.Order{Move: crib.Issue, Load: "L1"}, "m1")
	move(t, b, crib.Order{Move: crib.Return}, "m1")
	move(t, b, crib.Order{Move: crib.ToCrib}, "m1")
	if m := mandrel(t, b, "m1"); len(m.Dues) != 1 || m.Dues[0].Move != crib.Recoat {
		t.Errorf("due: %+v", m.Dues)
	}
	due, err := b.Mandrels(t.Context(), store.MandrelFilter{Due: true})
	if err != nil || len(due) != 1 || due[0].ID != "m1" {
		t.Errorf("due are %+v, %v", due, err)
	}
	if s := exported(t, b); s.Mandrels[0].State != "due" {
		t.Errorf("the file says %+v", s.Mandrels[0])
	}
	var impossible *store.Impossible
	if _, err := b.MoveMandrels(t.Context(), some("m1"), crib.Order{Move: crib.Issue, Load: "L1"}); !errors.As(err, &impossible) {
		t.Errorf("issued though due: %v", err)
	}
	move(t, b, crib.Order{Move: crib.Recoat, Until: clock.Now().Add(48 * time.Hour)}, "m1")
	if m := exported(t, b).Mandrels[0]; m.State != shop.Ready || m.ReadyAt == nil || m.ReadyAt.Minute != clock.Now().Unix()/60+48*60 {
		t.Errorf("at recoating the file says %+v", m)
	}
	if _, err := b.SetMandrelLimit(t.Context(), "mandrel", crib.Limits{}, 7); !errors.Is(err, store.ErrStale) {
		t.Errorf("a limit that nobody saw: %v", err)
	}
	if _, err := b.SetMandrelLimit(t.Context(), "none", crib.Limits{}, 0); !errors.Is(err, store.ErrNotFound) {
		t.Errorf("a type that is not there: %v", err)
	}
	if _, err := b.SetMandrelLimit(t.Context(), "odd", crib.Limits{Recoat: -1, Inspection: -1}, 0); pathsOf(err) != "recoat inspection" {
		t.Errorf("limits below 0: %v", err)
	}
	limits, err := b.MandrelLimits(t.Context())
	if diff := cmp.Diff([]store.MandrelLimit{{Type: "mandrel", Limits: crib.Limits{Recoat: 1}, Rev: 1}, {Type: "odd"}}, limits); diff != "" || err != nil {
		t.Errorf("%v (-want +got)\n%s", err, diff)
	}
}

// Mandrels are entered, listed and corrected.
func TestAddMandrel(t *testing.T) {
	b, _ := openCrib(t)
	added, err := b.AddMandrel(t.Context(), store.NewMandrel{
		ID: "old", Type: "odd", Place: crib.Inspection, Cycles: crib.Cycles{All: 200, SinceRecoat: 12, SinceInspection: 60},
	})
	if err != nil || added.Place != crib.Inspection || added.SinceInspection != 60 || added.Rev != 1 {
		t.Fatalf("%+v, %v", added, err)
	}
	_, err = b.AddMandrel(t.Context(), store.NewMandrel{ID: "m1", Type: "none", Place: crib.Issued, Cycles: crib.Cycles{All: 1, SinceRecoat: 2}})
	if got := pathsOf(err); got != "id type place since_recoat" {
		t.Errorf("problems at %s: %v", got, err)
	}
	changed, err := b.ChangeMandrel(t.Context(), "old", store.MandrelChange{Type: new("mandrel"), All: new(210)}, 1)
	if err != nil || changed.Type != "mandrel" || changed.All != 210 || changed.SinceRecoat != 12 || changed.Rev != 2 {
		t.Errorf("%+v, %v", changed, err)
	}
	if _, err := b.ChangeMandrel(t.Context(), "old", store.MandrelChange{Type: new("odd")}, 1); !errors.Is(err, store.ErrStale) {
		t.Errorf("changed from revision 1: %v", err)
	}
	if _, err := b.ChangeMandrel(t.Context(), "old", store.MandrelChange{Type: new("none"), All: new(1)}, 0); pathsOf(err) != "type since_recoat since_inspection" {
		t.Errorf("changed to what cannot be: %v", err)
	}
	listed, err := b.Mandrels(t.Context(), store.MandrelFilter{Type: "mandrel", After: "m3"})
	if err != nil || len(listed) != 3 || listed[2].ID != "old" {
		t.Errorf("listed %+v, %v", listed, err)
	}
	listed, err = b.Mandrels(t.Context(), store.MandrelFilter{Place: crib.Inspection, Limit: 1})
	if err != nil || len(listed) != 1 || listed[0].ID != "old" {
		t.Errorf("in inspection are %+v, %v", listed, err)
	}
	verify(t, b)
}

// A type that mandrels are of cannot go, and says of which.
func TestRemoveThing_MandrelType(t *testing.T) {
	b, _ := openCrib(t)
	if err := b.RemoveThing(t.Context(), "mandrel_type", "odd", 0); !strings.Contains(fmt.Sprint(err), "shop.mandrels[5].type") {
		t.Errorf("removed: %v", err)
	}
	if err := b.RemoveThing(t.Context(), "prepreg", "prepreg", 0); pathsOf(err) == "" {
		t.Errorf("removed: %v", err)
	}
}

// What a shop file says of mandrels becomes places, and those that its released
// work has out are on that load.
func TestImport_Mandrels(t *testing.T) {
	b, _ := storetest.Open(t)
	s := toolShop()
	s.Released = workOf(s, "L1", 2, -30) // tacked half an hour ago
	later := shop.Instant{Minute: s.Now.Minute + 90, Offset: 60}
	s.Mandrels[0].State = "lent to a friend"
	s.Mandrels[1].ReadyAt = &later
	s.Mandrels[4].State = "recoating"
	storetest.Import(t, b, s)
	for id, want := range map[string]crib.Place{
		"m1": crib.Quarantine, "m2": crib.Cleaning, "m3": crib.Issued, "m4": crib.Issued, "m5": crib.Recoating, "m6": crib.InCrib,
	} {
		if m := mandrel(t, b, id); m.Place != want || (m.Load == "L1") != (want == crib.Issued) {
			t.Errorf("%s is %+v, want %s", id, m, want)
		}
	}
	if diff := cmp.Diff(string(s.Encode()), string(export(t, b))); diff != "" {
		t.Errorf("exported (-imported +exported)\n%s", diff)
	}
	verify(t, b)
}

// The very mandrels for a load are named, less those that it has.
func TestPick(t *testing.T) {
	b, _ := openCrib(t)
	if _, err := b.ChangeMandrel(t.Context(), "m1", store.MandrelChange{All: new(3)}, 0); err != nil {
		t.Fatal(err)
	}
	move(t, b, crib.Order{Move: crib.Issue, Load: "L1"}, "m2")
	choices, err := b.Pick(t.Context(), store.PickFilter{Loads: []string{"L1"}})
	if err != nil || len(choices) != 1 {
		t.Fatalf("%+v, %v", choices, err)
	}
	want := []crib.Chosen{{ID: "m3", Place: crib.InCrib}, {ID: "m4", Place: crib.InCrib}}
	if diff := cmp.Diff(want, choices[0].Mandrels); diff != "" || choices[0].Pieces != 2 || choices[0].Lacking != 0 {
		t.Errorf("%+v (-want +got)\n%s", choices[0], diff)
	}
	none, err := b.Pick(t.Context(), store.PickFilter{Until: storetest.Start.Add(6 * time.Hour)})
	if err != nil || len(none) != 0 {
		t.Errorf("before six: %+v, %v", none, err)
	}
	if _, err := b.Pick(t.Context(), store.PickFilter{Loads: []string{"L1", "L9"}}); pathsOf(err) != "loads[1]" {
		t.Errorf("for a load that is not there: %v", err)
	}
}

// What is named for one load is not what another needs before it, and what a
// release asks for is that of its loads.
func TestPick_SharedType(t *testing.T) {
	b, _ := storetest.Open(t)
	s := toolShop()
	later := workOf(s, "L2", 2, 6*60+30)
	s.Released.Loads, s.Released.Tasks = slices.Concat(s.Released.Loads, later.Loads), slices.Concat(s.Released.Tasks, later.Tasks)
	storetest.Import(t, b, s)
	choices, err := b.Pick(t.Context(), store.PickFilter{Loads: []string{"L2"}})
	if err != nil || len(choices) != 1 {
		t.Fatalf("%+v, %v", choices, err)
	}
	want := []crib.Chosen{{ID: "m4", Place: crib.InCrib}, {ID: "m5", Place: crib.InCrib}}
	if diff := cmp.Diff(want, choices[0].Mandrels); diff != "" {
		t.Errorf("for the later load (-want +got)\n%s", diff)
	}
	if both, err := b.Pick(t.Context(), store.PickFilter{Release: 1}); err != nil || len(both) != 2 {
		t.Errorf("for the release: %+v, %v", both, err)
	}
	if _, err := b.Pick(t.Context(), store.PickFilter{Release: 9}); !errors.Is(err, store.ErrNotFound) {
		t.Errorf("for a release that is not there: %v", err)
	}
}

// By type and day it is told what is ready and needed.
func TestMandrelsAhead(t *testing.T) {
	b, clock := openCrib(t)
	move(t, b, crib.Order{Move: crib.Issue, Load: "L1"}, "m2", "m3")
	move(t, b, crib.Order{Move: crib.Clean, Until: clock.Now().Add(30 * time.Hour)}, "m4")
	s := exported(t, b)
	planned := workOf(s, "L2", 2, 26*60).Tasks
	past := workOf(s, "L3", 4, -60).Tasks     // was never released
	renamed := slices.Clone(s.Released.Tasks) // as the plan calls it that it was released from
	for i := range renamed {
		renamed[i].Load = "L4"
	}
	got, err := b.MandrelsAhead(t.Context(), slices.Concat(past, planned, s.Released.Tasks, renamed), 2)
	day := shop.DateOf(clock.Now())
	want := []crib.Outlook{
		{Type: "mandrel", Date: day, Ready: 4, Away: 1, Needed: 3},
		{Type: "mandrel", Date: day + 1, Ready: 5, Needed: 2},
		{Type: "odd", Date: day, Ready: 1},
		{Type: "odd", Date: day + 1, Ready: 1},
	}
	if diff := cmp.Diff(want, got); diff != "" || err != nil {
		t.Errorf("%v (-want +got)\n%s", err, diff)
	}
}

// A mandrel that is scrapped while its load is out is missing once: its load's
// piece needs it no more.
func TestMandrelsAhead_Scrapped(t *testing.T) {
	b, _ := openCrib(t)
	move(t, b, crib.Order{Move: crib.Issue, Load: "L1"}, "m1", "m2", "m3")
	before := must[[]crib.Outlook](t)(b.MandrelsAhead(t.Context(), nil, 1))[0]
	move(t, b, crib.Order{Move: crib.Scrap, Remark: "snapped"}, "m2")
	after := must[[]crib.Outlook](t)(b.MandrelsAhead(t.Context(), nil, 1))[0]
	if after.Needed != before.Needed-1 || after.Out+after.Ready != before.Out+before.Ready-1 || after.Short != before.Short {
		t.Errorf("ahead is %+v, was %+v", after, before)
	}
}

// While its load counts it as out, a snapshot tells that a mandrel came off it.
func TestSnapshot_OffLoads(t *testing.T) {
	b := newBench(t)
	load := b.released()
	move(t, b.Books, crib.Order{Move: crib.Issue, Load: load}, "m1", "m2")
	b.stage(load, "cut")
	b.stage(load, "tack")
	move(t, b.Books, crib.Order{Move: crib.Scrap, Remark: "snapped"}, "m2")
	if snapshot := must[*store.Snapshot](t)(b.Snapshot(b.Context())); len(snapshot.OffLoads) != 1 || snapshot.OffLoads[0].Type != "mandrel" || snapshot.OffLoads[0].Pieces != 1 {
		t.Errorf("off their loads are %+v", snapshot.OffLoads)
	}
}

// Every mandrel is counted where it is, and in all.
func TestMandrelCounts(t *testing.T) {
	b, _ := openCrib(t)
	move(t, b, crib.Order{Move: crib.Issue, Load: "L1"}, "m1", "m2")
	move(t, b, crib.Order{Move: crib.Recoat}, "m3")
	move(t, b, crib.Order{Move: crib.Scrap, Remark: "snapped"}, "m4")
	got, err := b.MandrelCounts(t.Context())
	want := map[string]store.MandrelCounts{"mandrel": {In: 1, Out: 2, Held: 1, Scrapped: 1, All: 5}, "odd": {In: 1, All: 1}}
	if diff := cmp.Diff(want, got); diff != "" || err != nil {
		t.Errorf("%v (-want +got)\n%s", err, diff)
	}
}

// What failed of the runs that a mandrel was in is on its card; flags spoilt at
// cut, and loads that it came back from unused, are not.
func TestMandrelFailures(t *testing.T) {
	b := newBench(t)
	load := b.released()
	move(t, b.Books, crib.Order{Move: crib.Issue, Load: load}, "m1", "m2")
	move(t, b.Books, crib.Order{Move: crib.Return, Unused: true}, "m2")
	b.do(b.tasks(load, "TWO-A", "cut")[0], store.Scrap{Reason: "wrong flag", Pieces: 1})
	b.stage(load, "cut")
	tack := b.tasks(load, "TWO-A", "tack")[0]
	b.do(tack, store.Scrap{Reason: "mis-tack", Pieces: 1}, store.Scrap{Reason: "stuck", Pieces: 1})
	all, err := b.Reports(b.Context(), store.ReportFilter{Task: tack.ID, Limit: 1})
	b.must(err)
	_, err = b.Correct(b.Context(), store.Correction{Report: all[0].ID, Good: tack.Pieces - 1, Scrap: []store.Scrap{{Reason: "mis-tack", Pieces: 1}}, Reason: "it was not stuck"})
	b.must(err)
	got, err := b.MandrelFailures(b.Context(), "m1")
	b.must(err)
	if len(got) != 1 || got[0].Reason != "mis-tack" || got[0].Pieces != 1 || got[0].Stage != "tack" || got[0].Load != load || got[0].Of < tack.Pieces {
		t.Errorf("of m1 failed %+v", got)
	}
	if got, err := b.MandrelFailures(b.Context(), "m2"); err != nil || len(got) != 0 {
		t.Errorf("of m2 failed %+v, %v", got, err)
	}
	if _, err := b.MandrelFailures(b.Context(), "none"); !errors.Is(err, store.ErrNotFound) {
		t.Errorf("no such mandrel: %v", err)
	}
	b.must(b.Verify(b.Context()))
}
