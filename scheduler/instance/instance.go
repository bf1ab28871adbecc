package instance

import (
	"time"

	"blankwright/scheduler/rack"
	"blankwright/scheduler/shop"
)

// None is the index of nothing: no key, no crew, no order.
const None = -1

// An Instance is a shop compiled for planning. It does not change once made,
// and may be shared.
type Instance struct {
	Shop    *shop.Shop
	Horizon Tick

	Stations [shop.StageCount]Station
	Crews    []Crew
	Ovens    []Oven
	Racks    []Pool // by rack type
	Mandrels []Pool // by mandrel type
	Prepregs []Prepreg
	Profiles []Profile
	Sections []Section
	Products []Product
	Lines    []Line
	Orders   []Order // those that ship complete
	Hanger   *rack.Hanger
	Released Released

	Cleaning     *Calendar // the pull station's, in which mandrels are cleaned
	Transfer     int       // the most pieces of a task
	MaxGreen     Tick
	HoldPrice    Money // per set and day
	scale        float64
	base         int64 // the minute of now
	zone         *time.Location
	today        shop.Date
	midnights    []Tick // the local midnights that begin the days from today on
	sectionIndex map[string]int
}

// A Station is one stage's positions.
type Station struct {
	Stage      shop.Stage
	Setup      Tick
	SetupPrice Money // of one set-up
	Crew       int   // None where it needs no person
	People     int
	Calendar   *Calendar   // without downtime
	Positions  []*Calendar // each position's calendar, less its downtime
	Last       []int       // each position's key, None where nothing known is set up
}

// A Crew is so many people at a time.
type Crew struct {
	ID     string
	Shifts []Shift
}

// A Shift puts people there in the spans of a calendar.
type Shift struct {
	Calendar *Calendar
	People   int
}

// An Oven cures loads.
type Oven struct {
	ID           string
	Calendar     *Calendar
	Blocked      []Span // busy_until, downtime and released loads
	Unattended   bool
	Load, Unload Tick
	Lag          float64 // minutes per kg
	RunCost      float64
	HourCost     float64
	Crew, People int
	Profiles     []int
	Room         *rack.Oven
}

// A Pool is how many of something there are over time: Count[i] from From[i]
// on. From[0] is now or before.
type Pool struct {
	ID    string
	From  []Tick
	Count []int
	Total int // how many there are in the end
	Turns int // of mandrels: how often each must be used for the demand, rounded up
}

// FreeFrom returns the first instant at which there are n, Never where there
// never are.
func (p *Pool) FreeFrom(n int) Tick {
	for i, count := range p.Count {
		if count >= n {
			return p.From[i]
		}
	}
	return Never
}

// A Prepreg is cut into flags. Limited says that Rows is all there is of it.
type Prepreg struct {
	ID      string
	MaxOpen Tick
	Limited bool
	Rows    []Supply // those that expire first come first
}

// Supply is area that cut tasks from From on may draw, whose cure starts by
// Expires.
type Supply struct {
	Area          float64
	From, Expires Tick
}

// A Profile is a cure.
type Profile struct {
	ID   string
	Rest Tick
}

// A Section is one tube of a product.
type Section struct {
	ID       string
	Index    int
	Product  int
	Mandrel  int // type
	Tape     int
	Yield    float64
	Cuts     []Cut // one for each prepreg of its flags, in the shop's order
	Minutes  [shop.StageCount]float64
	MaxOpen  Tick // the least of its prepregs'
	Profiles []bool
	Incoming []Good  // good pieces from other work, in order of time
	Trimmed  []Good  // pieces of released trim tasks still to end, in order of time
	Anew     int     // pieces that may be started beyond those that must, to be there sooner than what comes in
	splits   [][]int // by pieces of a run: see Split
}

// A Cut is what one piece of a section takes of one prepreg.
type Cut struct {
	Prepreg int
	Minutes float64
	Area    float64
}

// Good is some pieces at an instant.
type Good struct {
	At     Tick
	Pieces int
}

// A Product is a set of sections.
type Product struct {
	ID       string
	Index    int
	Stock    int
	Sections []int
	Lines    []int       // by claim, then the heavier, then the file's order
	Ship     []shop.Date // ship date by day of completion, from today to the horizon's own date
	Never    shop.Date   // when a set that is left out counts as shipped
}

// A Line is one row of demand.
type Line struct {
	ID        string
	Index     int
	Product   int
	Quantity  int
	Due       shop.Date
	LatePrice Money // per set and day
	Order     int   // the complete order that it ships with, or None
	// Claim is the due date by which its turn comes among the lines of its
	// product: its own, or the earliest of the order that it ships with.
	Claim shop.Date
	// Press is what a late day of a set costs in the eyes of the other lines of
	// its product: its own price, or, where all of an order waits for it, its
	// share of the whole order's.
	Press Money
	// Free says that leaving the line out costs nothing, so that no plan gains
	// by making it.
	Free bool
}

// An Order is the lines that ship together.
type Order struct {
	ID    string
	Lines []int
}

// Released is the work that every plan keeps.
type Released struct {
	Loads []FixedLoad
	Tasks []FixedTask
}

// A FixedLoad is a released load: how long it takes its oven and racks.
type FixedLoad struct {
	Oven                 int
	In, CureStart, Start Tick
	CureMinutes          Tick
	Out, Until           Tick // the racks are taken from Start to Until
	Racks                []int
}

// A FixedTask is a released task.
type FixedTask struct {
	Load, Section, Position, Pieces int
	Stage                           shop.Stage
	Prepreg                         int
	Setup                           bool
	Start, End                      Tick
}

// Key returns what a station must be set up for to work a section; cut is the
// section's prepreg there. None where the stage has no set-up.
func (in *Instance) Key(stage shop.Stage, section, prepreg int) int {
	switch stage {
	case shop.Cut:
		return prepreg
	case shop.Tack:
		return in.Sections[section].Mandrel
	case shop.Wrap:
		return in.Sections[section].Tape
	}
	return None
}

// Day returns how many local days after today a tick lies.
func (in *Instance) Day(t Tick) int {
	day := min(max(t/1440, 0), len(in.midnights)-1)
	for day > 0 && in.midnights[day] > t {
		day--
	}
	for day+1 < len(in.midnights) && in.midnights[day+1] <= t {
		day++
	}
	return day
}

// Midnight returns the tick at which the day-th day after today begins.
func (in *Instance) Midnight(day int) Tick {
	return in.midnights[min(max(day, 0), len(in.midnights)-1)]
}

// Instant returns a tick as a shop file states it.
func (in *Instance) Instant(t Tick) shop.Instant {
	return shop.InstantIn(in.base+int64(t), in.zone)
}

// Date returns the local date of a tick.
func (in *Instance) Date(t Tick) shop.Date { return in.today + shop.Date(in.Day(t)) }
