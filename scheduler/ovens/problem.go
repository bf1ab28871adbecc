package ovens

import (
	"math/rand/v2"

	"blankwright/scheduler/alone"
	"blankwright/scheduler/cost"
	"blankwright/scheduler/instance"
	"blankwright/scheduler/line"
	"blankwright/scheduler/rack"
	"blankwright/scheduler/shop"
)

// A Tick is an instant or a span in minutes; see instance.Tick.
type Tick = instance.Tick

// Money is the smallest money; see instance.Money.
type Money = instance.Money

// A Claim is sets that ship together, and the lots that they wait for. A lot is
// pieces of one section that go through the oven together.
type Claim struct {
	Shares []Share
	Lots   []rack.Run
}

// A Share is so many sets of one line.
type Share struct{ Line, Sets int }

// A Load is one charge as planned: what the timetable is to place from its In on.
type Load struct {
	Oven, Profile int
	Runs          []rack.Run
	In            Tick
}

// A Problem is claims that wait for the ovens. It does not change once made.
type Problem struct {
	in     *instance.Instance
	empty  *line.Timetable // without any load
	claims []claim
	lots   []lot
}

type claim struct {
	shares []Share
	lots   []int32
}

// A lot is a Claim's lot with all that is asked of it time and again.
type lot struct {
	run   rack.Run
	mark  uint64 // drawn at random: names of loads are made of their lots' marks
	claim int32
	ready Tick // when it can go into an oven at the earliest
	ways  []instance.Way
	tails []*tail // by profile; nil where it does not qualify
	ship  []shop.Date
}

// New returns the problem of some claims. Lots that no load can carry, and
// claims with such a lot, are left out.
func New(in *instance.Instance, claims []Claim) *Problem {
	p := &Problem{in: in, empty: line.New(in)}
	tails := newTails(in)
	marks := rand.New(rand.NewPCG(1, 2))
	for _, c := range claims {
		if !carried(in, c.Lots) {
			continue
		}
		own := claim{shares: c.Shares}
		for _, run := range c.Lots {
			own.lots = append(own.lots, int32(len(p.lots)))
			p.lots = append(p.lots, newLot(in, run, len(p.claims), tails))
			p.lots[len(p.lots)-1].mark = marks.Uint64()
		}
		p.claims = append(p.claims, own)
	}
	return p
}

func carried(in *instance.Instance, lots []rack.Run) bool {
	for _, run := range lots {
		if !in.Carried(run.Section) {
			return false
		}
	}
	return true
}

func newLot(in *instance.Instance, run rack.Run, claim int, tails *tails) lot {
	section := &in.Sections[run.Section]
	l := lot{run: run, claim: int32(claim), ways: in.Ways(run.Section), ship: in.Products[section.Product].Ship}
	// Its last piece waits for as many mandrels as it has pieces.
	free := in.Mandrels[section.Mandrel].FreeFrom(run.Pieces)
	path := alone.Quickest(in, run.Section, free)
	l.ready = path.Ends[shop.Wrap]
	l.tails = make([]*tail, len(in.Profiles))
	for _, way := range l.ways {
		l.tails[way.Profile] = tails.of(run.Section, way.Profile)
	}
	return l
}

// cost returns what a claim costs whose last lot ships on a date, or never.
func (p *Problem) cost(c *claim, ship shop.Date) (sum Money) {
	for _, s := range c.shares {
		l := &p.in.Lines[s.Line]
		if ship == never {
			sum += Money(s.Sets) * cost.OfSet(p.in, s.Line, p.in.Products[l.Product].Never, true)
			continue
		}
		sum += Money(s.Sets) * cost.OfSet(p.in, s.Line, ship, false)
	}
	return sum
}

// never is the ship date of what is not done within the horizon.
const never = shop.Date(1 << 30)

// shipping returns when a lot ships that is out of the oven at an instant.
func (l *lot) shipping(profile int, out Tick) shop.Date {
	day := l.tails[profile].day(out)
	if day >= len(l.ship) {
		return never
	}
	return l.ship[day]
}
