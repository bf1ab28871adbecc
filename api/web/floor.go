package web

import (
	"io"

	"blankwright/scheduler/sheet"
	"blankwright/scheduler/shop"
	"blankwright/store"
)

// A FloorPage leads to each station's queue and each oven.
type FloorPage struct {
	Frame
	Date     shop.Date
	Stations []StationTile
	Ovens    []StationTile
}

// A StationTile is the way to one position or oven, with what waits there.
type StationTile struct {
	Name, Address string
	Waiting, Done int
	Now           string // what is being worked, in a few words
	Next          string // what waits first
}

// Render writes the page.
func (p *FloorPage) Render(w io.Writer) error { return render(w, "floor", p) }

// A QueuePage is one position's day: the next task large, the queue below it.
type QueuePage struct {
	Frame
	Stage     shop.Stage
	Position  int
	Positions []StationTile
	Date      shop.Date
	Next      *TaskView // nil where all is done
	Scanned   bool      // it is shown because it was scanned, not because it is its turn
	Flags     []CutFlag // that the next task cuts or lays on
	Tasks     []TaskView
	Cautions  []sheet.Caution
	Report    bool // whether the caller may report
	Reasons   []string
	Rows      []int // of scrap that can be entered at once
	Problem   string
}

// Left are the tasks that are still to be done, the next first.
func (p *QueuePage) Left() []TaskView { return p.inState(false) }

// Done are those that are done.
func (p *QueuePage) Done() []TaskView { return p.inState(true) }

func (p *QueuePage) inState(done bool) (out []TaskView) {
	for _, t := range p.Tasks {
		if (t.State == store.TaskDone) == done {
			out = append(out, t)
		}
	}
	return out
}

// Listed is some of the queue's tasks as a list of that name.
func (p *QueuePage) Listed(name string, tasks []TaskView) QueueList {
	return QueueList{&p.Frame, p.Stage, p.Date, name, tasks}
}

// A QueueList is what a list of tasks is shown from.
type QueueList struct {
	*Frame
	Stage shop.Stage
	Date  shop.Date
	Name  string
	Tasks []TaskView
}

// A TaskView is one task of a queue.
type TaskView struct {
	ID, Load, Section, Product string
	Stage                      string
	Position                   int
	Pieces                     int // that it has; at pull mandrels
	Live                       int // of them good when it begins
	Prepreg, Mandrel, Tape     string
	Wrap                       *store.WrapTerms // of a task at wrap; nil where nobody has said
	SetUp                      string
	Start, End                 shop.Instant // as planned
	State                      string       // waiting, begun or done
	Good, Scrapped, Dead       int
	Ended                      *shop.Instant
}

// Gone is how many of its pieces were scrapped before it begins: at pull their
// mandrels are pulled all the same.
func (t *TaskView) Gone() int { return t.Pieces - t.Live }

// Takes is what has to be at hand for it.
func (t *TaskView) Takes() string {
	switch t.Stage {
	case shop.Cut.String():
		return "prepreg " + t.Prepreg
	case shop.Tack.String(), shop.Roll.String(), shop.Pull.String():
		return "mandrel " + t.Mandrel
	case shop.Wrap.String(), shop.Strip.String():
		return "tape " + t.Tape
	}
	return ""
}

// Waiting reports whether nobody has begun it.
func (t *TaskView) Waiting() bool { return t.State == "waiting" }

// Begun reports whether it is being worked.
func (t *TaskView) Begun() bool { return t.State == "begun" }

// Render writes the page.
func (p *QueuePage) Render(w io.Writer) error { return render(w, "queue", p) }

// An OvenPage says what goes into an oven when, and under which profile.
type OvenPage struct {
	Frame
	Oven     string
	Date     shop.Date
	Loads    []OvenLoad
	Cautions []sheet.Caution
	Report   bool
}

// An OvenLoad is a load at its oven with its pictures and the real times.
type OvenLoad struct {
	LoadView
	State           string // waiting, in, out
	WentIn, CameOut *shop.Instant
}

// Render writes the page.
func (p *OvenPage) Render(w io.Writer) error { return render(w, "oven", p) }

// DayBefore is the date before.
func (p *FloorPage) DayBefore() shop.Date { return p.Date - 1 }

// DayAfter is the next date.
func (p *FloorPage) DayAfter() shop.Date { return p.Date + 1 }
