package web

import (
	"io"
	"slices"

	"blankwright/api/web/draw"
	"blankwright/scheduler/plan"
	"blankwright/scheduler/sheet"
	"blankwright/scheduler/shop"
)

// A Paper is what is printed for one day: one leaf after the other, each to be
// pinned up or to go along with the work.
type Paper struct {
	Frame
	Date  shop.Date
	Plan  int64
	Kinds []PaperKind
	Cut   []CutTicket
	Roll  []RunSheet
	Wrap  []RunSheet
	Racks []LoadSheet
	Cures []LoadSheet
	Picks []TypePick
	Rule  string // what has the last word
	// Wrappings are how the sections are wrapped, by id.
	Wrappings map[string]Wrapping
}

// A PaperKind is one sort of leaf that can be chosen.
type PaperKind struct {
	Name, Address string
	Here          bool
}

// A CutTicket is what one position at the cut does, in order.
type CutTicket struct {
	Position int
	Prepregs []sheet.PrepregNeed
	Tasks    []CutTask
	Cautions []sheet.Caution
}

// A CutTask is one task at the cut with the flags that it takes.
type CutTask struct {
	sheet.Task
	Flags []CutFlag
}

// A CutFlag is one pattern, and how many of it.
type CutFlag struct {
	shop.Flag
	Count int
}

// A RunSheet goes along with a load's runs to the benches.
type RunSheet struct {
	Load     *sheet.Load
	Code     draw.Picture // empty where the load's id cannot be in a code
	Runs     []RunRow
	Cautions []sheet.Caution
}

// A RunRow is one run at the benches.
type RunRow struct {
	Section, Product, Mandrel, Tape string
	Wrapping                        Wrapping
	Turns                           float64 // of the tape; 0 where nobody has said
	ODMM                            float64
	Flags                           []shop.Flag
	Tasks                           []RunTask // of the stages that the sheet is for
	Code                            draw.Picture
}

// A RunTask is one task of a run.
type RunTask struct {
	sheet.Task
	Stage    shop.Stage
	Position int
}

// A LoadSheet is a load's rack map or its cure ticket.
type LoadSheet struct {
	LoadView
	Code     draw.Picture
	Cautions []sheet.Caution
}

// A TypePick is how many mandrels of a type leave the crib on the day.
type TypePick struct{ sheet.MandrelFlow }

// Crowd says how long the list below a rack map's drawing is: the shorter, the
// larger the drawing, so that both are on one sheet of A4 or Letter.
func (l *LoadSheet) Crowd() string {
	switch n := len(l.Hangs); {
	case n <= 6:
		return "few"
	case n <= 22:
		return "some"
	case n <= 34:
		return "many"
	}
	return "most"
}

// hanging are the cautions of who hangs a load's racks: what hangs is uncured, and
// the steel may be hot from the last load.
func hanging() []sheet.Caution {
	all := slices.Concat(sheet.StationCautions(shop.Tack), sheet.StationCautions(shop.Pull))
	return slices.DeleteFunc(all, func(c sheet.Caution) bool { return c.About != "resin" && c.About != "hot steel" })
}

// Chosen reports whether some leaves were asked for.
func (p *Paper) Chosen() bool {
	return slices.ContainsFunc(p.Kinds, func(k PaperKind) bool { return k.Here })
}

// Render writes the leaves.
func (p *Paper) Render(w io.Writer) error { return renderSheet(w, "paper-day", p) }

// paperKinds are the sorts of leaves, in the order of the work.
var paperKinds = []struct{ name, word string }{
	{"cut", "Cut tickets"},
	{"roll", "Tack and roll sheets"},
	{"wrap", "Wrap sheets"},
	{"racks", "Rack maps"},
	{"cure", "Cure tickets"},
	{"pick", "Mandrel pick list"},
}

// Fill makes the leaves of one sort, or of all.
func (p *Paper) Fill(s *shop.Shop, made *plan.Plan, only string) {
	d := sheet.Of(s, made, p.Date)
	p.Rule = sheet.Rule
	b := papers{shop: s, plan: made, day: d, frame: &p.Frame, sections: sectionsOf(s), wrappings: p.Wrappings}
	wanted := func(kind string) bool { return only == "all" || only == kind }
	if wanted("cut") {
		p.Cut = b.cut()
	}
	if wanted("roll") {
		p.Roll = b.runs([]shop.Stage{shop.Tack, shop.Roll})
	}
	if wanted("wrap") {
		p.Wrap = b.runs([]shop.Stage{shop.Wrap})
	}
	if wanted("racks") {
		p.Racks = b.loads(hanging(), "map-")
	}
	if wanted("cure") {
		p.Cures = b.loads(sheet.OvenCautions(), "cure-")
	}
	if wanted("pick") {
		for _, flow := range d.Mandrels {
			if flow.Issue > 0 {
				p.Picks = append(p.Picks, TypePick{flow})
			}
		}
	}
}

// papers makes the leaves of a day.
type papers struct {
	shop     *shop.Shop
	plan     *plan.Plan
	day      *sheet.Day
	frame    *Frame
	sections map[string]*shop.Section

	wrappings map[string]Wrapping
}

func sectionsOf(s *shop.Shop) map[string]*shop.Section {
	out := map[string]*shop.Section{}
	for i := range s.Products {
		for j := range s.Products[i].Sections {
			out[s.Products[i].Sections[j].ID] = &s.Products[i].Sections[j]
		}
	}
	return out
}

func (b *papers) cut() []CutTicket {
	var out []CutTicket
	station := &b.day.Stations[shop.Cut]
	for _, position := range station.Positions {
		if len(position.Tasks) == 0 {
			continue
		}
		ticket := CutTicket{Position: position.Number, Cautions: sheet.StationCautions(shop.Cut)}
		if len(out) == 0 {
			ticket.Prepregs = b.day.Prepregs
		}
		for _, t := range position.Tasks {
			ticket.Tasks = append(ticket.Tasks, CutTask{t, b.flags(t)})
		}
		out = append(out, ticket)
	}
	return out
}

// flags are the patterns that a cut task takes of its prepreg.
func (b *papers) flags(t sheet.Task) []CutFlag {
	if section := b.sections[t.Section]; section != nil {
		return cutFlags(section, t.Prepreg, t.Pieces)
	}
	return nil
}

// cutFlags are the patterns that some pieces of a section take of one prepreg.
func cutFlags(section *shop.Section, prepreg string, pieces int) []CutFlag {
	var out []CutFlag
	for _, f := range section.Flags {
		if f.Prepreg == prepreg {
			out = append(out, CutFlag{f, pieces})
		}
	}
	return out
}

// runs makes a sheet for each load that is worked at some stages on the day.
func (b *papers) runs(stages []shop.Stage) []RunSheet {
	var out []RunSheet
	at := map[string]int{}
	for _, stage := range stages {
		for _, position := range b.day.Stations[stage].Positions {
			for _, t := range position.Tasks {
				i, ok := at[t.Load]
				if !ok {
					i = len(out)
					at[t.Load] = i
					out = append(out, RunSheet{Load: b.load(t.Load), Code: stripes(stages[0].String()+"-"+t.Load, t.Load), Cautions: sheet.StationCautions(stages[len(stages)-1])})
				}
				b.addTask(&out[i], RunTask{t, stage, position.Number}, stages[0])
			}
		}
	}
	return out
}

// load is a load of the day, or what is known of one that is not in it.
func (b *papers) load(id string) *sheet.Load {
	for i := range b.day.Loads {
		if b.day.Loads[i].ID == id {
			return &b.day.Loads[i]
		}
	}
	out := &sheet.Load{ID: id}
	for i := range b.plan.Loads {
		if l := &b.plan.Loads[i]; l.ID == id {
			out.Oven, out.In, out.Profile.ID = l.Oven, l.In, l.Profile
		}
	}
	return out
}

// addTask puts a task into its run's row.
func (b *papers) addTask(of *RunSheet, t RunTask, first shop.Stage) {
	for i := range of.Runs {
		if of.Runs[i].Section == t.Section {
			of.Runs[i].Tasks = append(of.Runs[i].Tasks, t)
			return
		}
	}
	row := RunRow{Section: t.Section, Product: t.Product, Mandrel: t.Mandrel, Tape: t.Tape, Tasks: []RunTask{t}}
	if section := b.sections[t.Section]; section != nil {
		row.Flags, row.ODMM = section.Flags, section.ODMM
		if row.Wrapping = b.wrappings[t.Section]; row.Wrapping.Terms != nil {
			row.Turns = row.Wrapping.Terms.Turns(section)
		}
	}
	if code, err := draw.Square(first.String()+"-"+t.Load+"-"+t.Section, t.Load+" "+t.Section); err == nil {
		row.Code = code
	}
	of.Runs = append(of.Runs, row)
}

func (b *papers) loads(cautions []sheet.Caution, id string) []LoadSheet {
	var out []LoadSheet
	for _, v := range loadViews(b.shop, b.day, b.frame) {
		out = append(out, LoadSheet{LoadView: v, Code: stripes(id+v.ID, v.ID), Cautions: cautions})
	}
	return out
}

// stripes is the code of a load, or nothing where its id cannot be in one.
func stripes(id, text string) draw.Picture {
	code, err := draw.Stripes("code-"+id, text)
	if err != nil {
		return ""
	}
	return code
}

// A PackingPaper goes into the parcel of an order.
type PackingPaper struct {
	Frame
	Order OrderHead
	Lines []LineRow
	Code  draw.Picture
	Date  shop.Date
}

// Render writes the leaf.
func (p *PackingPaper) Render(w io.Writer) error { return renderSheet(w, "paper-order", p) }

// A PickPaper names the very mandrels to issue.
type PickPaper struct {
	Frame
	Loads []PickLoad
	Codes map[string]draw.Picture // by load
}

// Rule is what has the last word.
func (p *PickPaper) Rule() string { return sheet.Rule }

// Render writes the leaves.
func (p *PickPaper) Render(w io.Writer) error { return renderSheet(w, "paper-pick", p) }
