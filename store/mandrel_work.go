package store

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"time"

	"gorm.io/gorm"

	"blankwright/scheduler/shop"
	"blankwright/store/crib"
)

// backs returns, by type, when mandrels that are returned are back in the
// crib: after their turnaround. Other moves tell that themselves, or nobody
// does.
func (m *mover) backs() (map[string]time.Time, error) {
	if m.order.Move != crib.Return || m.order.Unused || m.order.Damaged {
		return nil, nil
	}
	s, err := catalog(m.tx)
	if err != nil {
		return nil, err
	}
	out := map[string]time.Time{}
	at := minuteFrom(m.order.At, s.Zone()).Minute
	for _, kind := range s.MandrelTypes {
		out[kind.ID] = shop.Instant{Minute: crib.Worked(s, at, kind.TurnaroundMinutes, s.Zone())}.Time()
	}
	return out, nil
}

// checkLoad refuses an issue to a load that is not in work, and of mandrels
// that it has no use for.
func (m *mover) checkLoad() error {
	needs, err := workNeeds(m.tx)
	if err != nil {
		return err
	}
	wanted, loads := map[string]int{}, map[string]bool{}
	for _, n := range needs {
		loads[n.Load] = true
		if n.Load == m.order.Load {
			wanted[n.Type] += n.Pieces
		}
	}
	var found findings
	if !loads[m.order.Load] {
		found.say("load", "no released load %q; %s", m.order.Load, among(loads))
		return found.err()
	}
	for i, row := range m.rows {
		if wanted[row.Type] == 0 {
			found.say(fmt.Sprintf("ids[%d]", i), "%s is of type %s, of which load %s needs none; of what it needs %s",
				row.ID, row.Type, m.order.Load, among(wanted))
		}
	}
	if err := found.err(); err != nil {
		return err
	}
	return m.checkCount(wanted)
}

// checkCount refuses more mandrels than a load has pieces: those that it has,
// and those that came back from it used, are for others of them.
func (m *mover) checkCount(wanted map[string]int) error {
	used, err := usedOn(m.tx, []string{m.order.Load})
	if err != nil {
		return err
	}
	issued := map[string]int{}
	for _, row := range m.rows {
		issued[row.Type]++
	}
	for _, kind := range sortedKeys(issued) {
		var has int64
		err := m.tx.Model(&mandrelRow{}).Where("load = ? AND type = ?", m.order.Load, kind).Count(&has).Error
		if err != nil {
			return err
		}
		had := int(has) + used[crib.LoadType{Load: m.order.Load, Type: kind}]
		if had+issued[kind] > wanted[kind] {
			return conflict("load %s needs %d of %s and has had %d, so %d more are too many",
				m.order.Load, wanted[kind], kind, had, issued[kind])
		}
	}
	return nil
}

// usedOn counts the mandrels that came back used from loads.
func usedOn(tx *gorm.DB, loads []string) (map[crib.LoadType]int, error) {
	var rows []struct {
		Load, Type string
		Count      int
	}
	err := tx.Model(&mandrelMoveRow{}).Select("mandrel_moves.load, type, count(*) AS count").
		Joins("JOIN mandrels ON mandrels.id = mandrel").
		Where("mandrel_moves.load IN ? AND mandrel_moves.cycles > 0", loads).
		Group("mandrel_moves.load, type").Scan(&rows).Error
	out := map[crib.LoadType]int{}
	for _, r := range rows {
		out[crib.LoadType{Load: r.Load, Type: r.Type}] = r.Count
	}
	return out, err
}

// workNeeds returns what the released work takes of the crib.
func workNeeds(tx *gorm.DB) ([]crib.Need, error) {
	s, err := assemble(tx)
	if err != nil {
		return nil, err
	}
	return releasedNeeds(s), nil
}

func releasedNeeds(s *shop.Shop) []crib.Need {
	if s.Released == nil {
		return nil
	}
	return crib.Needs(s, s.Released.Tasks)
}

// outstanding returns what of some needs is still to be issued, and all
// mandrels, those that are issued with when they are back.
func outstanding(tx *gorm.DB, needs []crib.Need, at shop.Instant) ([]crib.Need, []crib.Mandrel, error) {
	mandrels, err := allMandrels(tx)
	if err != nil {
		return nil, nil, err
	}
	used, err := usedFor(tx, needs)
	left, known := crib.Outstanding(needs, mandrels, used, instantOf(at))
	return left, known, err
}

// usedFor counts the mandrels that came back used from the loads of some needs.
func usedFor(tx *gorm.DB, needs []crib.Need) (map[crib.LoadType]int, error) {
	loads := map[string]bool{}
	for _, n := range needs {
		loads[n.Load] = true
	}
	return usedOn(tx, sortedKeys(loads))
}

// catalog returns the shop without what changes from hour to hour.
func catalog(tx *gorm.DB) (*shop.Shop, error) {
	s := &shop.Shop{Format: shop.Format}
	if err := loadThings(tx, s); err != nil {
		return nil, err
	}
	if s.Timezone == "" {
		return nil, errEmpty
	}
	s.Now = shop.InstantOf(now(tx).In(s.Zone()))
	return s, nil
}

func sortedKeys[V any](m map[string]V) []string {
	out := make([]string, 0, len(m))
	for key := range m {
		out = append(out, key)
	}
	slices.Sort(out)
	return out
}

// among says what there is to choose from.
func among[V any](m map[string]V) string {
	if len(m) == 0 {
		return "there is none"
	}
	return "there are " + strings.Join(sortedKeys(m), ", ")
}

// A PickFilter asks for the mandrels of some released work. What is empty asks
// for any.
type PickFilter struct {
	Release int64
	Loads   []string
	Until   time.Time // what is tacked before it
}

// holds reports whether a need is asked for; of is the release's loads.
func (f PickFilter) holds(n crib.Need, of []string) bool {
	return (f.Release == 0 || slices.Contains(of, n.Load)) &&
		(len(f.Loads) == 0 || slices.Contains(f.Loads, n.Load)) && (f.Until.IsZero() || n.Out.Before(f.Until))
}

// Pick names the very mandrels to issue to released work that does not have
// them yet, task by task as they are tacked: the least used first, none that
// comes due within the work. What is not asked for is picked for, too, so that
// nothing is named twice, whoever asks for what.
func (b *Books) Pick(ctx context.Context, f PickFilter) ([]crib.Choice, error) {
	var out []crib.Choice
	err := b.read(ctx, func(tx *gorm.DB) error {
		s, err := b.atWork(tx)
		if err != nil {
			return err
		}
		needs := releasedNeeds(s)
		if err := f.check(needs); err != nil {
			return err
		}
		left, mandrels, err := outstanding(tx, needs, s.Now)
		if err != nil {
			return err
		}
		limits, err := limitsByType(tx)
		if err != nil {
			return err
		}
		var of []string
		if f.Release != 0 {
			if _, of, err = releaseOf(tx, f.Release); err != nil {
				return err
			}
		}
		out = slices.DeleteFunc(crib.Pick(left, mandrels, limits), func(c crib.Choice) bool { return !f.holds(c.Need, of) })
		return nil
	})
	return out, doing(err, "pick")
}

// check reports loads that are not in work.
func (f PickFilter) check(needs []crib.Need) error {
	loads := map[string]bool{}
	for _, n := range needs {
		loads[n.Load] = true
	}
	var found findings
	for i, load := range f.Loads {
		if !loads[load] {
			found.say(fmt.Sprintf("loads[%d]", i), "no released load %q; %s", load, among(loads))
		}
	}
	return found.err()
}

// MandrelsAhead returns the outlook of every mandrel type on so many days,
// today first. tasks are those of the plan that tells the need beside the
// released work, of which the books know better.
func (b *Books) MandrelsAhead(ctx context.Context, tasks []shop.Task, days int) ([]crib.Outlook, error) {
	var out []crib.Outlook
	err := b.read(ctx, func(tx *gorm.DB) error {
		s, err := b.atWork(tx)
		if err != nil {
			return err
		}
		needs := crib.Needs(s, tasksAhead(s, tasks))
		left, mandrels, err := outstanding(tx, needs, s.Now)
		if err != nil {
			return err
		}
		limits, err := limitsByType(tx)
		if err != nil {
			return err
		}
		types := make([]string, len(s.MandrelTypes))
		for i, kind := range s.MandrelTypes {
			types[i] = kind.ID
		}
		used, err := usedFor(tx, needs)
		if err != nil {
			return err
		}
		needs, _ = crib.StillOut(needs, used)
		out = crib.Ahead(crib.DaysFrom(s.Today(), days, s.Zone()), types, needs, left, mandrels, limits)
		return nil
	})
	return out, doing(err, "mandrels ahead")
}

// tasksAhead returns the released tasks of a shop, and those of a plan's other
// loads that are still to begin: one that was not released in time is not
// worked as it was planned. A load can be released under another name than the
// plan's, and is known by its tasks: no two loads have one at the same position
// at the same time.
func tasksAhead(s *shop.Shop, planned []shop.Task) []shop.Task {
	var out []shop.Task
	known, taken := map[string]bool{}, map[slot]bool{}
	if s.Released != nil {
		out = append(out, s.Released.Tasks...)
		for _, l := range s.Released.Loads {
			known[l.ID] = true
		}
	}
	for _, t := range out {
		taken[slotOf(t)] = true
	}
	for _, t := range planned {
		known[t.Load] = known[t.Load] || t.Start.Minute < s.Now.Minute || taken[slotOf(t)]
	}
	for _, t := range planned {
		if !known[t.Load] {
			out = append(out, t)
		}
	}
	return out
}

// A slot is where and when a task is worked, and on which section.
type slot struct {
	stage    shop.Stage
	position int
	start    int64
	section  string
}

func slotOf(t shop.Task) slot { return slot{t.Stage, t.Position, t.Start.Minute, t.Section} }
