package sheet

import (
	"cmp"
	"slices"

	"blankwright/scheduler/shop"
)

// A MandrelFlow is one mandrel type's day at the crib: how many are issued to
// tack and how many come back from pull, wiped, and when. MostOut is the most
// that are out at once, of Ready. Times are nil where nothing moves.
type MandrelFlow struct {
	Type       string        `json:"type"`
	Issue      int           `json:"issue"`
	FirstIssue *shop.Instant `json:"first_issue"`
	Back       int           `json:"back"`
	LastBack   *shop.Instant `json:"last_back"`
	MostOut    int           `json:"most_out"`
	Ready      int           `json:"ready"` // at the end of the day, out or not
}

// A move is mandrels that go out, or come back where pieces is negative.
type move struct {
	at     int64
	pieces int
}

// mandrels returns the types that move on this day, by first issue; those
// that only come back stand last.
func (b *builder) mandrels() []MandrelFlow {
	moves := b.moves()
	out := []MandrelFlow{}
	for _, kind := range b.shop.MandrelTypes {
		f := b.flow(kind.ID, moves[kind.ID])
		if f.Issue > 0 || f.Back > 0 {
			out = append(out, f)
		}
	}
	slices.SortStableFunc(out, func(x, y MandrelFlow) int {
		return cmp.Compare(minuteOr(x.FirstIssue, b.to), minuteOr(y.FirstIssue, b.to))
	})
	return out
}

func minuteOr(i *shop.Instant, otherwise int64) int64 {
	if i == nil {
		return otherwise
	}
	return i.Minute
}

// flow follows one type's moves, which are in order, through the day.
func (b *builder) flow(kind string, moves []move) MandrelFlow {
	f := MandrelFlow{Type: kind, Ready: b.readyMandrels(kind)}
	var first, last int64
	out := 0
	for _, m := range moves {
		if m.at >= b.from {
			f.MostOut = max(f.MostOut, out)
		}
		out += m.pieces
		switch {
		case !b.holds(m.at):
		case m.pieces < 0:
			f.Back -= m.pieces
			last = m.at
		default:
			if f.Issue == 0 {
				first = m.at
			}
			f.Issue += m.pieces
		}
	}
	f.MostOut = max(f.MostOut, out)
	f.FirstIssue, f.LastBack = b.optional(first, f.Issue > 0), b.optional(last, f.Back > 0)
	return f
}

// moves returns each type's moves up to the end of the day, in order; at one
// instant those that come back go first, for they are free for what begins.
func (b *builder) moves() map[string][]move {
	out := map[string][]move{}
	for i := range b.plan.Tasks {
		t := &b.plan.Tasks[i]
		kind := b.section(t.Section).Mandrel
		switch t.Stage {
		case shop.Tack:
			if t.Start.Minute < b.to {
				out[kind] = append(out[kind], move{t.Start.Minute, t.Pieces})
			}
		case shop.Pull:
			if at, ok := b.back(t, b.mandrelType(kind).TurnaroundMinutes); ok {
				out[kind] = append(out[kind], move{at, -t.Pieces})
			}
		}
	}
	for _, moves := range out {
		slices.SortStableFunc(moves, func(x, y move) int {
			return cmp.Or(cmp.Compare(x.at, y.at), cmp.Compare(x.pieces, y.pieces))
		})
	}
	return out
}

// back returns when a pull task's mandrels are wiped and back in the crib,
// and whether that is before the end of the day.
func (b *builder) back(t *shop.Task, turnaround int) (int64, bool) {
	at, left := t.End.Minute, int64(turnaround)
	if left == 0 {
		return at, at < b.to
	}
	calendar := b.shop.Calendars[b.shop.Stations.Pull.Calendar]
	for _, open := range calendar.Spans(shop.DateAt(at, b.zone), b.date+1, b.zone) {
		from := max(open.From, at)
		if worked := open.To - from; worked >= left {
			return from + left, from+left < b.to
		} else if worked > 0 {
			left -= worked
		}
	}
	return 0, false
}

func (b *builder) readyMandrels(kind string) int {
	count := 0
	for _, m := range b.shop.Mandrels {
		if m.Type == kind && m.State == shop.Ready && (m.ReadyAt == nil || m.ReadyAt.Minute < b.to) {
			count++
		}
	}
	return count
}
