package relax

import (
	"fmt"
	"strconv"

	"blankwright/scheduler/shop"
)

// A Kind says what there is one more of.
type Kind string

// The kinds of relaxations; the comment says what the ID names.
const (
	Mandrel  Kind = "mandrel"  // mandrel type: one more, ready now
	Rack     Kind = "rack"     // rack type: one more
	Oven     Kind = "oven"     // oven: another like it, free now
	Hours    Kind = "hours"    // oven: open around the clock
	Position Kind = "position" // stage: one more position
	Crew     Kind = "crew"     // crew: one more person in each of its shifts
	Material Kind = "material" // prepreg: so much more of it, now
	Expiry   Kind = "expiry"   // prepreg: all of it keeps beyond the horizon
	Open     Kind = "open"     // prepreg: twice its open time
	Green    Kind = "green"    // nothing: twice the shop's green time
)

// A Relaxation is one thing more.
type Relaxation struct {
	Kind Kind
	ID   string
	M2   float64 // of material only
}

// String says what there is more, as what may follow "with".
func (r Relaxation) String() string {
	switch r.Kind {
	case Mandrel:
		return "one more mandrel " + r.ID
	case Rack:
		return "one more rack " + r.ID
	case Oven:
		return "another oven like " + r.ID
	case Hours:
		return "oven " + r.ID + " open around the clock"
	case Position:
		return "one more position at " + r.ID
	case Crew:
		return "one more person in each shift of crew " + r.ID
	case Material:
		return fmt.Sprintf("%s m² more of prepreg %s, there now", strconv.FormatFloat(r.M2, 'f', -1, 64), r.ID)
	case Expiry:
		return "prepreg " + r.ID + " that does not expire"
	case Open:
		return "twice the open time of prepreg " + r.ID
	case Green:
		return "twice the green time"
	}
	panic(fmt.Sprintf("relax: no kind %q", string(r.Kind)))
}

// Apply returns the shop with one thing more.
func (r Relaxation) Apply(s *shop.Shop) *shop.Shop {
	out := *s
	switch r.Kind {
	case Mandrel:
		r.addMandrel(&out)
	case Rack:
		changed(&out.Racks, r.isRack, func(k *shop.Rack) { k.Count++ })
	case Oven:
		r.addOven(&out)
	case Hours:
		id := always(&out)
		changed(&out.Ovens, r.isOven, func(o *shop.Oven) { o.Calendar = id })
	case Position:
		r.addPosition(&out)
	case Crew:
		changed(&out.Crews, r.isCrew, onePersonMore)
	case Material:
		r.addSupply(&out)
	case Expiry:
		changed(&out.Supply, r.isSupply, func(row *shop.Supply) { row.Expires = beyond(s, row.Expires) })
	case Open:
		changed(&out.Prepregs, r.isPrepreg, func(p *shop.Prepreg) { p.MaxOpenMinutes = twice(p.MaxOpenMinutes) })
	case Green:
		out.Policy.MaxGreenMinutes = twice(out.Policy.MaxGreenMinutes)
	}
	return &out
}
