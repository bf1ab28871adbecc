package web

import (
	"io"
	"math"
	"time"

	"blankwright/api/runs"
	"blankwright/api/web/draw"
	"blankwright/scheduler/cure"
	"blankwright/scheduler/sheet"
	"blankwright/scheduler/shop"
	"blankwright/store"
)

// A DayPage is the planner's: one working day of a plan, and what the plan as a
// whole needs of him.
type DayPage struct {
	Frame
	Plan     *store.Plan // nil where there is none yet
	Running  string      // the address of the run that goes on; empty where none does
	Day      *sheet.Day
	Loads    []LoadView
	Ribbons  []Ribbon
	Eyes     []store.Notice
	Late     []runs.LateLine
	Held     []OrderLine      // that are held back
	Moved    *runs.Difference // since the plan before; nil where there is none
	Compared string           // the address of all that is otherwise since then
	More     Cut              // what of the lists the page leaves out
	Terms    []runs.Term
	May      Planning
	Until    string // what is released is released up to here, unless the planner says otherwise
	Released []ReleaseRow
	Changes  []ChangeForm
	Lists    []IDList // for the inputs of the changes
}

// A Cut is how much of each list a page leaves out: a season has hundreds of
// lines, and the planner begins with the worst.
type Cut struct{ Eyes, Late, Moved, Held int }

// mostShown is how many rows of each list the planner's page shows.
const mostShown = 12

// cut shortens the page's lists; the rest is a page of its own.
func (p *DayPage) cut() {
	p.More.Eyes, p.More.Late = max(0, len(p.Eyes)-mostShown), max(0, len(p.Late)-mostShown)
	p.Eyes, p.Late = p.Eyes[:len(p.Eyes)-p.More.Eyes], p.Late[:len(p.Late)-p.More.Late]
	if p.Moved != nil {
		p.More.Moved = max(0, len(p.Moved.Lines)-mostShown)
		p.Moved = &runs.Difference{Lines: p.Moved.Lines[:len(p.Moved.Lines)-p.More.Moved]}
	}
}

// Planning says what a caller may do with plans.
type Planning struct{ Plan, Release, Change, Hold bool }

// A ReleaseRow is one release that can be looked at, or undone.
type ReleaseRow struct {
	ID    int64
	At    time.Time
	By    string
	Until time.Time
	Loads int
	Begun bool // it can no longer be undone
}

// A ChangeForm changes one thing that the plan is made from.
type ChangeForm struct {
	Title, Action, Button string
	Fields                []Field
	Open                  bool // it was refused, so it is shown
	Problem               string
}

// A Ribbon is a station's day as a picture.
type Ribbon struct {
	Name    string
	Address string // of its queue
	Picture draw.Picture
	Carries string // how much of what
}

// A LoadView is a load with its pictures.
type LoadView struct {
	*sheet.Load
	Racked draw.Picture
	Curve  draw.Picture
	Hangs  []HangView
}

// A HangView is one row of the list beside a load's racks.
type HangView struct {
	sheet.Hang
	Mark   draw.Mark
	Swatch draw.Picture
	Rack   int
	Level  int
}

// Render writes the page.
func (p *DayPage) Render(w io.Writer) error { return render(w, "day", p) }

// Show fills in what the page shows of a view of a plan.
func (p *DayPage) Show(v *runs.View, date shop.Date) {
	p.Title = p.Frame.Day(date)
	p.Day = sheet.Of(v.Shop, v.Plan, date)
	p.Loads = loadViews(v.Shop, p.Day, &p.Frame)
	p.Ribbons = ribbons(p.Day)
	p.Late, p.Terms = v.Report.Late, v.Report.Terms
	p.cut()
	p.Until = shop.InstantIn(p.Day.To.Minute, p.zone()).Time().Format(localForm)
}

// localForm is how a browser sends a local date and time.
const localForm = "2006-01-02T15:04"

// loadViews draws the loads of a day.
func loadViews(s *shop.Shop, d *sheet.Day, f *Frame) []LoadView {
	tubes := draw.Tubes(s)
	out := make([]LoadView, len(d.Loads))
	for i := range d.Loads {
		l := &d.Loads[i]
		out[i] = LoadView{
			Load:   l,
			Racked: draw.Load("load-"+l.ID, l, ovenOf(s, l.Oven), tubes, f.Units()),
			Curve:  curveOf(s, l, f).Draw(),
			Hangs:  hangViews(l),
		}
	}
	return out
}

// curveOf is the cure of a load at its local times.
func curveOf(s *shop.Shop, l *sheet.Load, f *Frame) draw.Curve {
	start := shop.InstantIn(l.CureStart.Minute, f.zone())
	lag := float64(l.CureEnd.Minute-l.CureStart.Minute) - cure.Span(&l.Profile, s.Policy.AmbientC, 0)
	return draw.Curve{
		ID: "cure-" + l.ID, Profile: l.Profile, AmbientC: s.Policy.AmbientC,
		LagMin: math.Max(0, math.Floor(lag)), Units: f.Units(), Start: &start,
	}
}

func hangViews(l *sheet.Load) []HangView {
	marks := draw.MarksOf(l)
	var out []HangView
	drawn := map[string]draw.Picture{}
	for i := range l.Racks {
		for j := range l.Racks[i].Levels {
			for _, h := range l.Racks[i].Levels[j].Hangs {
				mark := marks[h.Section]
				if drawn[h.Section] == "" {
					drawn[h.Section] = draw.Swatch(mark)
				}
				out = append(out, HangView{Hang: h, Mark: mark, Swatch: drawn[h.Section], Rack: i + 1, Level: j + 1})
			}
		}
	}
	return out
}

// Hung is what hangs in a load with what writes its measures.
func (f *Frame) Hung(hangs []HangView) Hung { return Hung{f, hangs} }

// Hung is what the list beside a load's racks is shown from.
type Hung struct {
	*Frame
	Hangs []HangView
}

func ovenOf(s *shop.Shop, id string) shop.Oven {
	for _, o := range s.Ovens {
		if o.ID == id {
			return o
		}
	}
	return shop.Oven{ID: id}
}

// ribbons draws the ovens' and each station's day, those that have work.
func ribbons(d *sheet.Day) []Ribbon {
	stretch := draw.StretchOf(d)
	out := []Ribbon{{Name: "ovens", Address: "/floor", Picture: draw.Ovens("ribbon-ovens", d, stretch), Carries: draw.Counted(len(d.Loads), "load")}}
	for i := range d.Stations {
		s := &d.Stations[i]
		tasks := 0
		for _, p := range s.Positions {
			tasks += len(p.Tasks)
		}
		if tasks > 0 {
			out = append(out, Ribbon{
				Name: s.Stage.String(), Address: "/floor",
				Picture: draw.Station("ribbon-"+s.Stage.String(), d, stretch, s), Carries: draw.Counted(tasks, "task"),
			})
		}
	}
	return out
}

// Saved is the share of the plan's cost that another plan could save at
// most.
func (p *DayPage) Saved() float64 { return p.Plan.Bound.Gap }

// Pieces are those of the day's loads.
func (p *DayPage) Pieces() (n int) {
	for i := range p.Loads {
		n += p.Loads[i].Pieces
	}
	return n
}

// AllLate is how many lines are late or not wholly planned, shown or not.
func (p *DayPage) AllLate() int { return len(p.Late) + p.More.Late }

// AllMoved is how many lines ship on another date than by the plan before.
func (p *DayPage) AllMoved() int { return len(p.Moved.Lines) + p.More.Moved }

// Term says what a term of the cost is paid for.
func (p *DayPage) Term(name string) string {
	switch name {
	case "late":
		return "sets that ship after they are due"
	case "hold":
		return "sets that wait to be shipped"
	case "oven":
		return "loads and cure hours"
	case "setup":
		return "set-ups at the stations"
	}
	return name
}

// DayBefore is the date before.
func (p *DayPage) DayBefore() shop.Date { return p.Day.Date - 1 }

// DayAfter is the next date.
func (p *DayPage) DayAfter() shop.Date { return p.Day.Date + 1 }

// Against is a difference with what writes its dates.
func (f *Frame) Against(d *runs.Difference) Against { return Against{f, d} }

// Against is what the difference of two plans is shown from.
type Against struct {
	*Frame
	Difference *runs.Difference
}

// Late says what a move makes of a line that was late, or is.
func (Against) Late(m runs.LineMove) string {
	switch was, is := m.WasLate(), m.IsLate(); {
	case is && (!was || m.New):
		return "late now"
	case is:
		return "still late"
	case was && !m.Gone:
		return "in time now"
	}
	return ""
}

// Moved says by how much a line's ship date moved.
func (Against) Moved(m runs.LineMove) string {
	days, both := m.Days()
	switch {
	case m.New:
		return "new line"
	case m.Gone:
		return "no longer asked for, or held back"
	case both && days > 0:
		return draw.Counted(days, "day") + " later"
	case both && days < 0:
		return draw.Counted(-days, "day") + " sooner"
	case m.UnplannedTo > 0 && m.UnplannedTo != m.UnplannedFrom:
		return draw.Counted(m.UnplannedTo, "set") + " not planned"
	case m.From == nil && m.To != nil:
		return "planned now"
	}
	return "other sets of it"
}
