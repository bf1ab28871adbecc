package web

import (
	"io"
	"time"

	"blankwright/api/web/draw"
	"blankwright/scheduler/shop"
)

// A CribPage is the mandrel crib: by type, what is ready, out and due, and what
// the days ahead need.
type CribPage struct {
	Frame
	Types  []TypeRow
	Rolls  []RollRow
	Picks  []PickLink
	Change bool
	May    Keeping
	Move   MoveForm
}

// A TypeRow is one mandrel type as it stands.
type TypeRow struct {
	Type                            string
	Ready, Out, Due, Away, Scrapped int
	Where                           []Whereabouts // of those that are not in the crib
	Ahead                           draw.Picture  // the days ahead, need against ready
	Needed                          int           // the most that are out at once on the next days
	Short                           int
	ShortOn                         *shop.Date
}

// A Whereabouts is how many mandrels are at one place out of the crib.
type Whereabouts struct {
	Place string // or the load
	Count int
}

// A RollRow is one roll of prepreg as it stands.
type RollRow struct {
	ID, Prepreg, Lot, Place string
	Left, Received          float64
	Expires                 time.Time // by shelf or out-time, whichever is first
	OutLeft                 string    // out-time that is left, or why it is held
	Soon                    bool      // it expires within a week
}

// A PickLink leads to what to issue for a release or a day.
type PickLink struct{ Name, Address string }

// A MoveForm moves many mandrels at once, or one from its card.
type MoveForm struct {
	Action  string
	Fields  []Field
	Problem string
	Done    []string // what was moved, in words
	Refused []string // what was not, and what would be possible
}

// Render writes the page.
func (p *CribPage) Render(w io.Writer) error { return render(w, "crib", p) }

// A TypePage is one mandrel type: the days ahead and each mandrel.
type TypePage struct {
	Frame
	Type     shop.MandrelType
	Need     draw.Picture
	Days     []draw.NeedDay
	Mandrels []MandrelRow
	May      Keeping
}

// Keeping says what a caller may do with what the crib keeps.
type Keeping struct{ Enter, Limit bool }

// A MandrelRow is one mandrel of a list.
type MandrelRow struct {
	ID, Place, Load string
	Back            time.Time // when it is to be back; zero where nobody knows
	Due             []string  // what it is due for
	All             int       // cycles
	SinceRecoat     int
	SinceInspection int
}

// Render writes the page.
func (p *TypePage) Render(w io.Writer) error { return render(w, "crib-type", p) }

// A MandrelPage is the card of one mandrel.
type MandrelPage struct {
	Frame
	Mandrel MandrelRow
	Type    string
	Note    string
	History []Event
	Failed  []Event // what it made that failed
	Change  bool
	Move    MoveForm
	Remove  string // the address that takes it out of the books; empty where it cannot be
	Rev     int64
}

// An Event is one row of a history.
type Event struct {
	At   time.Time
	By   string
	What string
	Note string
}

// Render writes the page.
func (p *MandrelPage) Render(w io.Writer) error { return render(w, "crib-mandrel", p) }

// A RollPage is the out-time card of one roll.
type RollPage struct {
	Frame
	Roll    RollRow
	History []Event
	Change  bool
	Move    MoveForm
	Remove  string // the address that takes it out of the books; empty where it cannot be
	Rev     int64
}

// Render writes the page.
func (p *RollPage) Render(w io.Writer) error { return render(w, "crib-roll", p) }

// A PickPage names the very mandrels to issue, by load.
type PickPage struct {
	Frame
	Name   string
	Loads  []PickLoad
	Issue  string // where the form issues a load's mandrels; empty where the caller may not
	Prints string
}

// A PickLoad is what one load takes from the crib.
type PickLoad struct {
	Load    string
	From    shop.Instant
	Choices []PickChoice
	IDs     []string // those in the crib, to be issued at once
}

// A PickChoice is one need and its mandrels.
type PickChoice struct {
	Section, Type string
	Pieces        int
	At            shop.Instant
	IDs           []string
	Lacking       int
}

// Render writes the page.
func (p *PickPage) Render(w io.Writer) error { return render(w, "crib-pick", p) }
