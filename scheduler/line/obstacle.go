package line

// A Kind says what stood in the way of an oven start.
type Kind int

// The kinds of obstacles; Index of an Obstacle means what the comment says.
const (
	Now         Kind = iota // the stage that would have had to begin before now
	OvenBusy                // the oven
	StationBusy             // the stage
	CrewBusy                // the crew
	MandrelsOut             // the mandrel type
	RacksOut                // the rack type
	NoMaterial              // the prepreg
	OpenTime                // the prepreg
	GreenTime               // the section
	Horizon                 // nothing
)

// An Obstacle is why a load could not go into the oven at some instant.
type Obstacle struct {
	Kind  Kind
	Index int
	Need  int  // of the resource
	At    Tick // when the obstacle ends

	delay Tick // working minutes by which it would have to be later; 0 unknown
	fatal bool // no later start mends it
}

// A Watch gathers the obstacles that a placing meets, in order.
type Watch struct {
	Obstacles []Obstacle
	Stopped   Tick // the first start not tried any more, because there had been enough; 0 where all were
}

func (w *Watch) note(o Obstacle) {
	if w != nil {
		w.Obstacles = append(w.Obstacles, o)
	}
}

func (w *Watch) stopAt(t Tick) {
	if w != nil {
		w.Stopped = t
	}
}
