package runs

import (
	"fmt"
	"math"
	"strings"

	"blankwright/scheduler/plan"
	"blankwright/scheduler/shop"
	"blankwright/store/crib"
)

// The kinds of notices.
const (
	NoticeLate      = "late"      // a line is late or not wholly planned
	NoticePromise   = "promise"   // a line does not ship on the date that was promised, or is held back
	NoticeMandrels  = "mandrels"  // mandrels of a type are short
	NoticeExpires   = "expires"   // a roll expires with prepreg left
	NoticeRunsOut   = "runs out"  // a prepreg runs out
	NoticeTool      = "tool"      // a mandrel is due for something
	NoticeOvertaken = "overtaken" // released work that can no longer happen
	NoticeFailed    = "failed"    // a plan could not be made
)

// A Notice is one thing that needs eyes. The same kind and subject is the same
// notice, however its text changes.
type Notice struct{ Kind, Subject, Text string }

// A Sight is all that notices are taken from.
type Sight struct {
	Shop   *shop.Shop
	Plan   *plan.Plan
	Report Report
	// Before is when the lines shipped by the plan before; it may be empty.
	Before []Shipping
	// Promised are the dates that were promised, by line.
	Promised map[string]shop.Date
	// Held are the promised lines that are held back, which no plan knows.
	Held []HeldLine
	// Due are the mandrels that are due for something.
	Due []DueTool
	// Troubles are what can no longer happen as it was released.
	Troubles []Trouble
	// OffLoads are the mandrels that came off loads which the plan still counts as
	// holding them: scrapped, they are missing once, not twice.
	OffLoads []crib.Need
}

// A HeldLine is a line that was promised for a date and is held back: until a day,
// or with nil until somebody lifts it.
type HeldLine struct {
	Line, Product string
	Sets          int
	Promised      shop.Date
	Why           string
	Until         *shop.Date
}

// A DueTool is a mandrel that is due, and for what: "due for recoating".
type DueTool struct{ Mandrel, Type, Why string }

// A Trouble is a thing that can no longer happen, and what would mend it.
type Trouble struct{ What, Text string }

// Notices tells what of a new plan needs eyes.
func Notices(v Sight) []Notice {
	var list []Notice
	list = append(list, overtaken(v.Troubles)...)
	list = append(list, lateLines(v.Report)...)
	list = append(list, promises(v)...)
	list = append(list, heldPromises(v.Held)...)
	list = append(list, shortMandrels(v)...)
	list = append(list, rolls(v)...)
	return append(list, dueTools(v.Due)...)
}

func overtaken(troubles []Trouble) []Notice {
	var list []Notice
	for _, t := range troubles {
		list = append(list, Notice{NoticeOvertaken, t.What, t.Text})
	}
	return list
}

func lateLines(r Report) []Notice {
	var list []Notice
	for _, l := range r.Late {
		list = append(list, Notice{NoticeLate, l.Line, l.sentence()})
	}
	return list
}

// sentence tells of the line, and what binds it.
func (l *LateLine) sentence() string {
	var say []string
	if l.LateSets > 0 {
		say = append(say, fmt.Sprintf("%s late", counted(l.LateSets, "set")))
	}
	if l.UnallocatedSets > 0 {
		say = append(say, fmt.Sprintf("%s not planned", counted(l.UnallocatedSets, "set")))
	}
	if l.Ship != nil {
		say = append(say, fmt.Sprintf("ships by %s", *l.Ship))
	}
	text := fmt.Sprintf("Line %s, %d × %s, due %s: %s.", l.Line, l.Quantity, l.Product, l.Due, strings.Join(say, ", "))
	for _, b := range l.Binds {
		text += fmt.Sprintf(" What binds it: %s.", strings.TrimSuffix(b.title(), "."))
	}
	return text
}

// title names what binds before it says what it does.
func (b *Bind) title() string {
	if b.ID == "" {
		return b.Kind + ": " + b.What
	}
	return b.Kind + " " + b.ID + ": " + b.What
}

// promises tells of the lines that ship later than was promised, or no longer
// wholly.
func promises(v Sight) []Notice {
	before := map[string]*Shipping{}
	for i := range v.Before {
		before[v.Before[i].Line.ID] = &v.Before[i]
	}
	var list []Notice
	for _, s := range Shippings(v.Shop, v.Plan) {
		promised, ok := v.Promised[s.Line.ID]
		if !ok || s.Unplanned == 0 && *s.Ship <= promised {
			continue
		}
		text := fmt.Sprintf("Line %s, %d × %s, is promised for %s; by this plan %s", s.Line.ID, s.Line.Quantity, s.Line.Product, promised, s.fate())
		if old := before[s.Line.ID]; old != nil && old.fate() != s.fate() {
			text += ", by the one before " + old.fate()
		}
		list = append(list, Notice{NoticePromise, s.Line.ID, text + "."})
	}
	return list
}

// heldPromises tells of promised lines that no plan works on.
func heldPromises(held []HeldLine) []Notice {
	var list []Notice
	for _, h := range held {
		until := "until somebody lifts that"
		if h.Until != nil {
			until = fmt.Sprintf("until %s", *h.Until)
		}
		list = append(list, Notice{NoticePromise, h.Line, fmt.Sprintf("Line %s, %d × %s, is promised for %s and held back %s: %s. No plan works on it.", h.Line, h.Sets, h.Product, h.Promised, until, h.Why)})
	}
	return list
}

// fate says when the line ships.
func (s *Shipping) fate() string {
	if s.Unplanned > 0 {
		return fmt.Sprintf("%s of it are not planned", counted(s.Unplanned, "set"))
	}
	return fmt.Sprintf("it ships on %s", *s.Ship)
}

// shortMandrels tells of the types of which more are out than are ready, which only
// released work can do, and of those that hold back a late line.
func shortMandrels(v Sight) []Notice {
	over := map[string]Need{}
	for _, n := range needs(v.Shop, v.Plan, v.OffLoads) {
		if worst, ok := over[n.Type]; n.Out > n.Ready && (!ok || n.Out-n.Ready > worst.Out-worst.Ready) {
			over[n.Type] = n
		}
	}
	var list []Notice
	for i := range v.Shop.MandrelTypes {
		kind := v.Shop.MandrelTypes[i].ID
		var say []string
		if n, ok := over[kind]; ok {
			say = append(say, fmt.Sprintf("%d are needed on %s and %d are ready", n.Out, n.Day, n.Ready))
		}
		if lines := v.heldBack("mandrel", kind); len(lines) > 0 {
			say = append(say, "they hold back "+strings.Join(lines, ", "))
		}
		if len(say) > 0 {
			list = append(list, Notice{NoticeMandrels, kind, fmt.Sprintf("Mandrels %s are short: %s.", kind, strings.Join(say, "; "))})
		}
	}
	return list
}

const (
	expiresWithin = 7 * 24 * 60 // minutes before a roll's end in which it needs eyes
	spareDays     = 7           // what is left when the plan ends lasts for fewer days: it runs out
	aLittle       = 0.01        // m², of which nobody needs to hear
)

// rolls tells of the prepreg that goes to waste, and of the prepreg that will lack.
func rolls(v Sight) []Notice {
	all := Rolls(v.Shop, v.Plan)
	var list []Notice
	for i := range all {
		r := &all[i]
		if r.Left > aLittle && r.Supply.Expires.Minute <= v.Shop.Now.Minute+expiresWithin {
			end := r.Supply.Expires.Time().In(v.Shop.Zone()).Format("2006-01-02 15:04")
			list = append(list, Notice{
				NoticeExpires, r.Supply.ID,
				fmt.Sprintf("Roll %s of %s expires on %s; the plan leaves %.1f m² of it.", r.Supply.ID, r.Supply.Prepreg, end, r.Left),
			})
		}
	}
	for i := range v.Shop.Prepregs {
		if text := v.runsOut(v.Shop.Prepregs[i].ID, all); text != "" {
			list = append(list, Notice{NoticeRunsOut, v.Shop.Prepregs[i].ID, text})
		}
	}
	return list
}

// runsOut says how a prepreg runs out, and "" where it does not, or is without end.
func (v *Sight) runsOut(prepreg string, all []Roll) string {
	var drawn, left float64
	last := v.Shop.Now
	for i := range all {
		r := &all[i]
		if r.Supply.Prepreg != prepreg {
			continue
		}
		drawn += r.Drawn
		if r.Last != nil && r.Last.Minute > last.Minute {
			last = *r.Last
		}
	}
	for i := range all {
		if r := &all[i]; r.Supply.Prepreg == prepreg && r.Supply.Expires.Minute > last.Minute {
			left += r.Left
		}
	}
	if lines := v.heldBack("material", prepreg); len(lines) > 0 {
		return fmt.Sprintf("Prepreg %s runs out: it holds back %s.", prepreg, strings.Join(lines, ", "))
	}
	days := max(1, math.Ceil(float64(last.Minute-v.Shop.Now.Minute)/(24*60)))
	if drawn <= aLittle || left >= drawn/days*spareDays {
		return ""
	}
	return fmt.Sprintf("Prepreg %s runs out: %.1f m² are left on %s, when the plan has cut %.1f m² in %s.",
		prepreg, left, shop.DateAt(last.Minute, v.Shop.Zone()), drawn, counted(int(days), "day"))
}

// heldBack returns the late lines that something binds.
func (v *Sight) heldBack(kind, id string) []string {
	var lines []string
	for _, l := range v.Report.Late {
		for _, b := range l.Binds {
			if b.Kind == kind && b.ID == id {
				lines = append(lines, l.Line)
			}
		}
	}
	return lines
}

func dueTools(due []DueTool) []Notice {
	var list []Notice
	for _, d := range due {
		list = append(list, Notice{NoticeTool, d.Mandrel, fmt.Sprintf("Mandrel %s of %s is %s.", d.Mandrel, d.Type, d.Why)})
	}
	return list
}

// counted puts a number before a word.
func counted(n int, word string) string {
	if n == 1 {
		return "1 " + word
	}
	return fmt.Sprintf("%d %ss", n, word)
}
