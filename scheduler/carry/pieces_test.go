package carry_test

import (
	"fmt"
	"testing"

	"github.com/google/go-cmp/cmp"

	"blankwright/scheduler/carry"
	"blankwright/scheduler/shop"
)

// A run of twelve pieces in two batches.
func twoBatches() carry.Work {
	w := carry.Work{Loads: []carry.Load{{Planned: shop.Load{ID: "L1"}}}}
	for _, stage := range shop.Stages() {
		for batch := range 2 {
			w.Tasks = append(w.Tasks, carry.Task{Planned: shop.Task{
				Load: "L1", Section: "S", Stage: stage, Pieces: 6,
				Start: shop.Instant{Minute: int64(stage)*100 + int64(batch)*10},
			}})
		}
	}
	return w
}

// done reports a stage's batch as done.
func done(w carry.Work, stage shop.Stage, batch, good, scrapped, dead int) {
	t := &w.Tasks[int(stage)*2+batch]
	t.Begun = new(t.Planned.Start)
	t.Done, t.Good, t.Scrapped, t.Dead = new(shop.Instant{Minute: t.Planned.Start.Minute + 5}), good, scrapped, dead
}

// What is scrapped is missing from there on, in the last tasks first; the
// mandrels of what was tacked are all pulled.
func TestPieces(t *testing.T) {
	for _, c := range []struct {
		what   string
		happen func(w carry.Work)
		want   string // pieces by stage and batch; of pull in brackets the live ones
	}{
		{"nothing", func(carry.Work) {}, "6+6 6+6 6+6 6+6 6+6[6+6] 6+6 6+6"},
		{"two flags scrapped", func(w carry.Work) { done(w, shop.Cut, 0, 4, 2, 0) }, "6+6 6+4 6+4 6+4 6+4[6+4] 6+4 6+4"},
		{"one mis-tack", func(w carry.Work) { done(w, shop.Tack, 0, 5, 1, 0) }, "6+6 6+6 6+5 6+5 6+6[6+5] 6+5 6+5"},
		{"seven scrapped when wrapped", func(w carry.Work) {
			done(w, shop.Wrap, 0, 0, 6, 0)
			done(w, shop.Wrap, 1, 5, 1, 0)
		}, "6+6 6+6 6+6 6+6 6+6[5+0] 5+0 5+0"},
		{"what was begun loses last", func(w carry.Work) {
			w.Tasks[int(shop.Roll)*2+1].Begun = new(shop.Instant{Minute: 1})
			done(w, shop.Tack, 0, 4, 2, 0)
		}, "6+6 6+6 4+6 6+4 6+6[6+4] 6+4 6+4"},
		{"the dead one was in the first batch", func(w carry.Work) {
			done(w, shop.Roll, 0, 5, 1, 0)
			done(w, shop.Pull, 0, 5, 0, 1)
		}, "6+6 6+6 6+6 6+5 6+6[5+6] 6+5 6+5"},
		{"scrapped at each end", func(w carry.Work) {
			done(w, shop.Cut, 1, 5, 1, 0)
			done(w, shop.Strip, 0, 3, 3, 0)
			done(w, shop.Trim, 0, 2, 4, 0)
		}, "6+6 6+5 6+5 6+5 6+5[6+5] 6+5 6+2"},
	} {
		w := twoBatches()
		c.happen(w)
		if diff := cmp.Diff(c.want, show(carry.Pieces(w))); diff != "" {
			t.Errorf("%s (-want +got):\n%s", c.what, diff)
		}
	}
}

func show(counts []carry.Count) string {
	out := ""
	for _, stage := range shop.Stages() {
		a, b := counts[int(stage)*2], counts[int(stage)*2+1]
		if stage > shop.Cut {
			out += " "
		}
		out += fmt.Sprintf("%d+%d", a.Pieces, b.Pieces)
		if stage == shop.Pull {
			out += fmt.Sprintf("[%d+%d]", a.Live, b.Live)
		}
	}
	return out
}

// A run is held back by the prepreg of which the fewest flags are good.
func TestPieces_TwoPrepregs(t *testing.T) {
	w := twoBatches()
	for batch := range 2 {
		w.Tasks = append(w.Tasks, carry.Task{Planned: shop.Task{Load: "L1", Section: "S", Stage: shop.Cut, Prepreg: "scrim", Pieces: 6}})
		last := &w.Tasks[len(w.Tasks)-1]
		last.Begun, last.Done, last.Good, last.Scrapped = new(shop.Instant{}), new(shop.Instant{Minute: 1}), 6-3*batch, 3*batch
	}
	done(w, shop.Cut, 0, 5, 1, 0)
	counts := carry.Pieces(w)
	if got := show(counts[:14]); got != "6+6 6+3 6+3 6+3 6+3[6+3] 6+3 6+3" {
		t.Errorf("the pieces are %s", got)
	}
}
