// Package shop holds the planning problem as a shop file states it: its
// types, its units, how it is read and checked, and its calendars.
//
// It knows no algorithm. Every other package of the engine may import it; it
// imports none of them but strict.
package shop

// Format is the only value of Shop.Format that this package reads.
const Format = "blankwright/shop/1"

// A Shop is one planning problem: what there is, what is asked for, and the
// instant from which to plan. Lengths are millimetres, weights kilograms,
// areas square metres, temperatures degrees Celsius, durations minutes, and
// money is in the shop's own unit.
//
// The tags min, max and above say which numbers, and how many entries of a
// list, a file may state; counts of days end at a century.
type Shop struct {
	Format       string              `json:"format"`
	Name         string              `json:"name"`
	Timezone     string              `json:"timezone"`
	Now          Instant             `json:"now"`
	HorizonDays  int                 `json:"horizon_days" min:"1" max:"36525"`
	Calendars    map[string]Calendar `json:"calendars"`
	Policy       Policy              `json:"policy"`
	Crews        []Crew              `json:"crews,omitempty"`
	Stations     Stations            `json:"stations"`
	Resins       []Resin             `json:"resins,omitempty"`
	Tapes        []Tape              `json:"tapes,omitempty"`
	Prepregs     []Prepreg           `json:"prepregs,omitempty"`
	Supply       []Supply            `json:"supply,omitempty"`
	Profiles     []Profile           `json:"profiles,omitempty"`
	Ovens        []Oven              `json:"ovens,omitempty"`
	Racks        []Rack              `json:"racks,omitempty"`
	MandrelTypes []MandrelType       `json:"mandrel_types,omitempty"`
	Mandrels     []Mandrel           `json:"mandrels,omitempty"`
	Products     []Product           `json:"products,omitempty"`
	Demand       []Line              `json:"demand,omitempty"`
	Incoming     []Incoming          `json:"incoming,omitempty"`
	Downtime     []Downtime          `json:"downtime,omitempty"`
	Released     *Released           `json:"released,omitempty"`
}

// A Calendar says when something is open: by weekday, and otherwise on the
// dates that Exceptions names, each of which replaces its whole day.
type Calendar struct {
	Weekly     Weekly            `json:"weekly,omitzero"`
	Exceptions map[Date][]Window `json:"exceptions,omitempty"`
}

// Weekly holds the windows of each weekday; a day without any is closed.
type Weekly struct {
	Mon []Window `json:"mon,omitempty"`
	Tue []Window `json:"tue,omitempty"`
	Wed []Window `json:"wed,omitempty"`
	Thu []Window `json:"thu,omitempty"`
	Fri []Window `json:"fri,omitempty"`
	Sat []Window `json:"sat,omitempty"`
	Sun []Window `json:"sun,omitempty"`
}

// Policy holds the shop's rules of thumb and its prices.
type Policy struct {
	AmbientC         float64 `json:"ambient_c"`
	GapMM            float64 `json:"gap_mm" min:"0"`
	MaxGreenMinutes  int     `json:"max_green_minutes" min:"0"`
	TransferPieces   int     `json:"transfer_pieces" min:"1"`
	ShippingCalendar string  `json:"shipping_calendar"`
	LateCost         float64 `json:"late_cost" min:"0"`   // per set and day
	HoldCost         float64 `json:"hold_cost" min:"0"`   // per set and day
	LabourCost       float64 `json:"labour_cost" min:"0"` // per minute of set-up
	UnplannedDays    int     `json:"unplanned_days" min:"0" max:"36525"`
}

// A Crew is a pool of people that stations and ovens draw from.
type Crew struct {
	ID     string  `json:"id"`
	Shifts []Shift `json:"shifts,omitempty"`
}

// A Shift puts People there in every window of its calendar; shifts add up.
type Shift struct {
	Calendar string `json:"calendar"`
	People   int    `json:"people" min:"1"`
}

// A Station is one stage's workplaces. Crew and People are empty and 0 where
// it needs no person. LastSetup's n-th key is position n's; nil says that
// nothing is set up there.
type Station struct {
	Positions    int       `json:"positions" min:"1"`
	Calendar     string    `json:"calendar"`
	SetupMinutes int       `json:"setup_minutes" min:"0"`
	Crew         string    `json:"crew,omitempty"`
	People       int       `json:"people,omitempty" min:"1"`
	LastSetup    []*string `json:"last_setup,omitempty"`
}

// Stations holds one Station for each stage.
type Stations struct {
	Cut   Station `json:"cut"`
	Tack  Station `json:"tack"`
	Roll  Station `json:"roll"`
	Wrap  Station `json:"wrap"`
	Pull  Station `json:"pull"`
	Strip Station `json:"strip"`
	Trim  Station `json:"trim"`
}

// At returns the station of a stage.
func (s *Stations) At(stage Stage) *Station {
	return [StageCount]*Station{&s.Cut, &s.Tack, &s.Roll, &s.Wrap, &s.Pull, &s.Strip, &s.Trim}[stage]
}

// A Resin says how fast it may be heated, how hot it may get, and the minutes
// that it must soak at a temperature, linear between the points of Soak.
type Resin struct {
	ID             string      `json:"id"`
	MaxRampCPerMin float64     `json:"max_ramp_c_per_min" above:"0"`
	MaxC           float64     `json:"max_c"`
	Soak           []SoakPoint `json:"soak" min:"1"`
}

// A SoakPoint is one temperature and the least minutes of soak at it.
type SoakPoint struct {
	C       float64 `json:"c"`
	Minutes float64 `json:"minutes" min:"0"`
}

// A Tape must reach ShrinkFromC in the cure, and may not exceed MaxC.
type Tape struct {
	ID          string  `json:"id"`
	ShrinkFromC float64 `json:"shrink_from_c"`
	MaxC        float64 `json:"max_c"`
}

// A Prepreg may lie cut for MaxOpenMinutes before its cure starts.
type Prepreg struct {
	ID             string  `json:"id"`
	Resin          string  `json:"resin"`
	MaxOpenMinutes int     `json:"max_open_minutes" min:"0"`
	NestYield      float64 `json:"nest_yield" above:"0" max:"1"`
}

// Supply is M2 of one prepreg, there from From, good for cures until Expires.
type Supply struct {
	ID      string  `json:"id"`
	Prepreg string  `json:"prepreg"`
	M2      float64 `json:"m2" min:"0"`
	From    Instant `json:"from"`
	Expires Instant `json:"expires"`
}

// A Profile is a cure: its heating and soaking segments, then the cooling,
// then the rest before pulling.
type Profile struct {
	ID          string    `json:"id"`
	Segments    []Segment `json:"segments" min:"1"`
	CoolCPerMin float64   `json:"cool_c_per_min" above:"0"`
	CoolToC     float64   `json:"cool_to_c"`
	RestMinutes int       `json:"rest_minutes" min:"0"`
}

// A Segment ramps to a temperature and soaks there.
type Segment struct {
	RampCPerMin float64 `json:"ramp_c_per_min" above:"0"`
	ToC         float64 `json:"to_c"`
	SoakMinutes float64 `json:"soak_minutes" min:"0"`
}

// An Oven cures one load at a time under one of its profiles.
type Oven struct {
	ID              string   `json:"id"`
	Bays            int      `json:"bays" min:"1"`
	HeightMM        float64  `json:"height_mm" min:"0"`
	MaxKg           float64  `json:"max_kg" min:"0"`
	Profiles        []string `json:"profiles,omitempty"`
	Calendar        string   `json:"calendar"`
	Unattended      bool     `json:"unattended,omitempty"`
	LoadMinutes     int      `json:"load_minutes" min:"1"`
	UnloadMinutes   int      `json:"unload_minutes" min:"1"`
	LagMinutesPerKg float64  `json:"lag_minutes_per_kg,omitempty" min:"0"`
	RunCost         float64  `json:"run_cost" min:"0"`
	HourCost        float64  `json:"hour_cost" min:"0"`
	Crew            string   `json:"crew,omitempty"`
	People          int      `json:"people,omitempty" min:"1"`
	BusyUntil       *Instant `json:"busy_until,omitempty"`
}

// A Rack is a rack type, of which the shop has Count.
type Rack struct {
	ID        string    `json:"id"`
	Count     int       `json:"count" min:"0"`
	TareKg    float64   `json:"tare_kg" min:"0"`
	MaxKg     float64   `json:"max_kg" min:"0"`
	Setups    []Setup   `json:"setups" min:"1"`
	BusyUntil []Instant `json:"busy_until,omitempty"`
}

// A Setup is one way to hang the bars of a rack.
type Setup struct {
	ID            string  `json:"id"`
	OuterHeightMM float64 `json:"outer_height_mm" min:"0"`
	Levels        []Level `json:"levels" min:"1"`
}

// A Level is one row of pegs and the clear height below it.
type Level struct {
	ClearMM float64 `json:"clear_mm" min:"0"`
	Pegs    int     `json:"pegs" min:"1"`
	PitchMM float64 `json:"pitch_mm" above:"0"`
}

// A MandrelType is what mandrels of one shape share.
type MandrelType struct {
	ID                string  `json:"id"`
	HangMM            float64 `json:"hang_mm" min:"0"`
	Kg                float64 `json:"kg" min:"0"`
	TurnaroundMinutes int     `json:"turnaround_minutes" min:"0"`
}

// Ready is the one Mandrel.State in which a mandrel counts.
const Ready = "ready"

// A Mandrel is one tool. It counts when its State is Ready, from ReadyAt on.
type Mandrel struct {
	ID      string   `json:"id"`
	Type    string   `json:"type"`
	State   string   `json:"state"`
	ReadyAt *Instant `json:"ready_at,omitempty"`
}

// A Product is one blank: the sections of which it needs one each.
type Product struct {
	ID         string    `json:"id"`
	Name       string    `json:"name"`
	FinishDays int       `json:"finish_days" min:"0" max:"36525"`
	Stock      int       `json:"stock,omitempty" min:"0"`
	Sections   []Section `json:"sections" min:"1"`
}

// A Section is one tube, rolled on one mandrel.
type Section struct {
	ID       string   `json:"id"`
	Mandrel  string   `json:"mandrel"`
	Tape     string   `json:"tape"`
	ODMM     float64  `json:"od_mm" min:"0"`
	Kg       float64  `json:"kg" min:"0"`
	Yield    float64  `json:"yield" above:"0" max:"1"`
	Profiles []string `json:"profiles,omitempty"`
	Flags    []Flag   `json:"flags" min:"1"`
	Minutes  Minutes  `json:"minutes"`
}

// A Flag is a flat pattern cut from one prepreg.
type Flag struct {
	Prepreg    string  `json:"prepreg"`
	LengthMM   float64 `json:"length_mm" min:"0"`
	ButtMM     float64 `json:"butt_mm" min:"0"`
	TipMM      float64 `json:"tip_mm" min:"0"`
	CutMinutes float64 `json:"cut_minutes" min:"0"`
}

// Minutes holds a section's minutes per piece at each stage after cut.
type Minutes struct {
	Tack  float64 `json:"tack" min:"0"`
	Roll  float64 `json:"roll" min:"0"`
	Wrap  float64 `json:"wrap" min:"0"`
	Pull  float64 `json:"pull" min:"0"`
	Strip float64 `json:"strip" min:"0"`
	Trim  float64 `json:"trim" min:"0"`
}

// At returns the minutes per piece at a stage; 0 at cut, whose minutes are
// the flags'.
func (m *Minutes) At(stage Stage) float64 {
	return [StageCount]float64{0, m.Tack, m.Roll, m.Wrap, m.Pull, m.Strip, m.Trim}[stage]
}

// A Line is one row of demand. Order is empty where it belongs to none.
type Line struct {
	ID       string  `json:"id"`
	Kind     string  `json:"kind"`
	Product  string  `json:"product"`
	Quantity int     `json:"quantity" min:"1"`
	Due      Date    `json:"due"`
	Weight   float64 `json:"weight" min:"0"`
	Order    string  `json:"order,omitempty"`
	Complete bool    `json:"complete,omitempty"`
}

// The two kinds of demand.
const (
	KindOrder   = "order"
	KindRestock = "restock"
)

// Incoming is good pieces from work that was started before.
type Incoming struct {
	Section string  `json:"section"`
	Pieces  int     `json:"pieces" min:"0"`
	At      Instant `json:"at"`
}

// Downtime closes "oven:ID", a stage, or "stage/POSITION" for a time.
type Downtime struct {
	Resource string  `json:"resource"`
	From     Instant `json:"from"`
	To       Instant `json:"to"`
	Why      string  `json:"why" empty:"ok"`
}

// Released is work that every plan keeps as it stands (rule R15).
type Released struct {
	Loads []Load `json:"loads,omitempty"`
	Tasks []Task `json:"tasks,omitempty"`
}

// A Load is one oven charge: racks cured together under one profile.
type Load struct {
	ID        string    `json:"id"`
	Oven      string    `json:"oven"`
	Profile   string    `json:"profile"`
	In        Instant   `json:"in"`
	CureStart Instant   `json:"cure_start"`
	CureEnd   Instant   `json:"cure_end"`
	Out       Instant   `json:"out"`
	Racks     []RackUse `json:"racks"`
}

// A RackUse is one rack of a load: its type, set-up, and what hangs on each
// level, in the set-up's order.
type RackUse struct {
	Rack   string   `json:"rack"`
	Setup  string   `json:"setup"`
	Levels [][]Hang `json:"levels"`
}

// A Hang is some pieces of one section on one level.
type Hang struct {
	Section string `json:"section"`
	Pieces  int    `json:"pieces"`
}

// A Task is some pieces of one run, worked at one stage on one position.
// Prepreg stands on cut tasks only.
type Task struct {
	Load     string  `json:"load"`
	Section  string  `json:"section"`
	Stage    Stage   `json:"stage"`
	Prepreg  string  `json:"prepreg,omitempty"`
	Position int     `json:"position"`
	Pieces   int     `json:"pieces"`
	Setup    bool    `json:"setup"`
	Start    Instant `json:"start"`
	End      Instant `json:"end"`
}
