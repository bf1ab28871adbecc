package construct

import (
	"blankwright/scheduler/answer"
	"blankwright/scheduler/instance"
	"blankwright/scheduler/line"
	"blankwright/scheduler/ovens"
	"blankwright/scheduler/rack"
)

// ByOvens returns an answer for which the ovens were planned alone: its loads find
// their places in the timetable one after the other. What has found none is built
// by the first rule. Told to stop, it leaves out what is in no load by then. It
// reports whether that costs hardly more than if there were nothing but ovens.
func ByOvens(in *instance.Instance, o ovens.Options) (a *answer.Answer, alike bool) {
	b := newBuilder(answer.New(in), Rules[0])
	over := func() bool { return o.Stop != nil && o.Stop() }
	loads, cost := ovens.New(in, b.lots()).Solve(o)
	for _, l := range loads {
		if over() {
			return b.a, false
		}
		d := b.draft(l.Oven, l.Profile, l.In)
		d.runs, d.full = l.Runs, 0 // nothing else goes in, also where it must wait
		b.try(d)
		b.a.Table.Keep()
	}
	b.build(over)
	return b.a, b.a.Cost().Total() <= cost+cost/hardlyMore
}

// hardlyMore is of which part of a cost it makes no difference.
const hardlyMore = 20

// mostLots is about how many lots the ovens are planned with.
const mostLots = 300

// lots cuts the wants into lots: single pieces where there are few in all.
func (b *builder) lots() []ovens.Claim {
	pieces := 0
	for _, w := range b.wants {
		for _, run := range w.runs {
			pieces += run.Pieces
		}
	}
	size := (pieces + mostLots - 1) / mostLots
	var claims []ovens.Claim
	ofOrder := map[int]int{}
	for _, w := range b.wants {
		parts := b.inLots(w, size)
		order := b.in.Lines[w.line].Order
		if order == instance.None {
			claims = append(claims, parts...)
			continue
		}
		k, ok := ofOrder[order]
		if !ok {
			k = len(claims)
			ofOrder[order], claims = k, append(claims, ovens.Claim{})
		}
		for _, part := range parts {
			claims[k].Shares = append(claims[k].Shares, part.Shares...)
			claims[k].Lots = append(claims[k].Lots, part.Lots...)
		}
	}
	return claims
}

// inLots cuts a want into claims whose lots have about so many pieces, and none
// more than one load takes.
func (b *builder) inLots(w *want, size int) (claims []ovens.Claim) {
	parts := 1
	for _, run := range w.runs {
		n := min(size, b.largest(run))
		parts = max(parts, (run.Pieces+n-1)/n)
	}
	parts = min(parts, w.sets)
	for k := range parts {
		upTo := func(n int) int { return n*(k+1)/parts - n*k/parts }
		c := ovens.Claim{Shares: []ovens.Share{{Line: w.line, Sets: upTo(w.sets)}}}
		for _, run := range w.runs {
			if run.Pieces = upTo(run.Pieces); run.Pieces > 0 {
				c.Lots = append(c.Lots, run)
			}
		}
		claims = append(claims, c)
	}
	return claims
}

// largest returns how many pieces of a run some oven takes in one load, 1 at
// least.
func (b *builder) largest(run rack.Run) int {
	most := 1
	for _, way := range b.in.Ways(run.Section) {
		for n := run.Pieces; n > most; n = (n + most) / 2 {
			if line.Fits(b.in, way.Oven, []rack.Run{{Section: run.Section, Pieces: n}}) {
				most = n
			}
		}
	}
	return most
}
