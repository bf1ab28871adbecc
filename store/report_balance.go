package store

import (
	"context"
	"errors"
	"fmt"

	"gorm.io/gorm"

	"blankwright/scheduler/shop"
)

// A Balance says what became of all pieces that were tacked.
type Balance struct {
	Started  int // tacked
	Trimmed  int // of them trimmed, and good
	Scrapped int
	InWork   int // neither yet
}

// Balance counts the pieces of all released work.
func (b *Books) Balance(ctx context.Context) (Balance, error) {
	var out Balance
	err := b.read(ctx, func(tx *gorm.DB) (err error) {
		out, err = balanceOf(tx)
		return err
	})
	return out, doing(err, "balance")
}

// balanceOf counts started, trimmed and scrapped pieces from the tasks, and
// those in work stage by stage: what one has brought, and the next has not
// taken up.
func balanceOf(tx *gorm.DB) (Balance, error) {
	var out Balance
	work, err := releasedWorkOf(tx, func(q *gorm.DB) *gorm.DB { return q })
	if err != nil {
		return out, err
	}
	type run struct{ load, section string }
	passed := map[run]*[shop.StageCount]int{} // into a stage, and done there
	brought := map[run]*[shop.StageCount]int{}
	for i := range work.tasks {
		t := &work.tasks[i]
		at, stage := run{t.Load, t.Section}, t.stage()
		if passed[at] == nil {
			passed[at], brought[at] = new([shop.StageCount]int), new([shop.StageCount]int)
		}
		if t.Done == nil || stage == shop.Cut {
			continue
		}
		passed[at][stage] += t.Good + t.Scrapped
		brought[at][stage] += t.Good
		out.Scrapped += t.Scrapped
	}
	for at, in := range passed {
		out.Started += in[shop.Tack]
		out.Trimmed += brought[at][shop.Trim]
		for stage := shop.Tack; stage < shop.Trim; stage++ {
			waiting := brought[at][stage] - in[stage+1]
			if waiting < 0 {
				err = errors.Join(err, fmt.Errorf("load %s, section %s: %d pieces more have passed %s than came", at.load, at.section, -waiting, stage+1))
			}
			out.InWork += waiting
		}
	}
	return out, err
}

// checkPieces holds that every piece that was tacked is trimmed, scrapped, or
// in work, and that the tasks bear what their reports say.
func checkPieces(tx *gorm.DB) error {
	out, err := balanceOf(tx)
	if sum := out.Trimmed + out.Scrapped + out.InWork; sum != out.Started {
		err = errors.Join(err, fmt.Errorf("%d pieces were tacked; %d are trimmed, %d scrapped, %d in work", out.Started, out.Trimmed, out.Scrapped, out.InWork))
	}
	return errors.Join(err, checkReports(tx))
}

// checkReports holds every task and load to the reports of it.
func checkReports(tx *gorm.DB) error {
	work, err := releasedWorkOf(tx, func(q *gorm.DB) *gorm.DB { return q })
	if err != nil {
		return err
	}
	all, err := reportsWith(tx, func(q *gorm.DB) *gorm.DB { return q.Order("id") })
	if err != nil {
		return err
	}
	told := replay(all)
	var found []error
	for i := range work.tasks {
		t := &work.tasks[i]
		begun, done := told.tasks[taskFact{t.ID, reportBegun}], told.tasks[taskFact{t.ID, reportDone}]
		same := sameInstant(t.Begun, begun) && sameInstant(t.Done, done)
		if !same || done != nil && (done.Good != t.Good || piecesOf(done.Scrap) != t.Scrapped || done.Dead != t.Dead) {
			found = append(found, fmt.Errorf("task %d is not as its reports say", t.ID))
		}
	}
	for i := range work.loads {
		l := &work.loads[i]
		if !sameInstant(l.InAt, told.loads[l.ID+reportIn]) || !sameInstant(l.OutAt, told.loads[l.ID+reportOut]) {
			found = append(found, fmt.Errorf("load %s is not as its reports say", l.ID))
		}
	}
	return errors.Join(found...)
}

// facts are what reports say in the end, without what was withdrawn.
type facts struct {
	tasks map[taskFact]*Report
	loads map[string]*Report // by the load's id and what it did
}

type taskFact struct {
	task int64
	what string
}

func replay(all []Report) facts {
	chains := map[int64][]Report{}
	var order []int64
	for _, r := range all {
		first := r.ID
		if r.Corrects != 0 {
			first = r.Corrects
		} else {
			order = append(order, r.ID)
		}
		chains[first] = append(chains[first], r)
	}
	out := facts{map[taskFact]*Report{}, map[string]*Report{}}
	for _, id := range order {
		switch r := standsAs(chains[id]); {
		case r.Withdrawn:
		case r.Task != 0:
			out.tasks[taskFact{r.Task, r.What}] = &r
		default:
			out.loads[r.Load+r.What] = &r
		}
	}
	return out
}

// sameInstant reports whether a record has the instant of a report, or neither
// is there.
func sameInstant(have *int64, told *Report) bool {
	if have == nil || told == nil {
		return have == nil && told == nil
	}
	return *have == told.At.UnixMilli()
}
