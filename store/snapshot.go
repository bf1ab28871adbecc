package store

import (
	"context"
	"slices"
	"time"

	"gorm.io/gorm"

	"blankwright/scheduler/shop"
	"blankwright/store/crib"
)

// A Snapshot is the shop as a plan begins from it, and what the planner has to
// know beside.
type Snapshot struct {
	Shop     *shop.Shop
	Troubles []Trouble
	// OffLoads are the mandrels that came off their loads, back or scrapped, while
	// the shop's released tasks still count them as out.
	OffLoads []crib.Need
}

// A Trouble is something released that can no longer happen as it was meant.
type Trouble struct {
	Kind string // one of package carry's, or TroubleWaiting
	Load string
	Task int64  // 0 where the whole load has it
	What string // is wrong, with its numbers
	Mend string // what would mend it
	At   time.Time
}

// Snapshot makes a shop file of the books at this instant: stock and loose
// pieces, open demand, rolls with what is left and until when they are good,
// mandrels, and the released work, at the times that were reported and, where
// reality has overtaken it, moved on to what is still possible. It is always a
// valid shop.
func (b *Books) Snapshot(ctx context.Context) (*Snapshot, error) {
	out := new(Snapshot)
	err := b.read(ctx, func(tx *gorm.DB) error {
		s, f, err := assembleFloor(tx)
		if err != nil {
			return err
		}
		out.Shop, out.Troubles = s, f.troubles()
		out.OffLoads, err = offLoads(tx, s)
		return err
	})
	return out, doing(err, "snapshot")
}

func offLoads(tx *gorm.DB, s *shop.Shop) ([]crib.Need, error) {
	if s.Released == nil {
		return nil, nil
	}
	needs := slices.DeleteFunc(crib.Needs(s, s.Released.Tasks), func(n crib.Need) bool { return !n.Holds(instantOf(s.Now)) })
	used, err := usedFor(tx, needs)
	_, off := crib.StillOut(needs, used)
	return off, err
}

func (f *floor) troubles() []Trouble {
	var out []Trouble
	for _, t := range f.standing.Troubles {
		told := Trouble{Kind: t.Kind, Load: t.Load, What: t.What, Mend: t.Mend, At: t.At.Time().UTC()}
		if t.Task >= 0 {
			told.Task = f.tasks[t.Task].ID
		}
		out = append(out, told)
	}
	return append(out, f.waits...)
}
