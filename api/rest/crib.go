package rest

import (
	"context"
	"errors"
	"maps"
	"slices"
	"time"

	"github.com/danielgtaylor/huma/v2"

	"blankwright/scheduler/shop"
	"blankwright/store"
	"blankwright/store/crib"
)

// A Revision of a record, in a body where no header can say it. It is exported
// for huma.
type Revision int64

// Schema says which numbers are revisions: those that JSON holds exactly.
func (Revision) Schema(huma.Registry) *huma.Schema {
	return &huma.Schema{Type: huma.TypeInteger, Format: "int64", Minimum: new(1.0), Maximum: new(float64(1 << 53))}
}

// Which is the mandrels that a move is for. It is exported for huma.
type Which struct {
	IDs    []string            `json:"ids" minItems:"1" maxItems:"500" doc:"All of them are moved, or none is"`
	Seen   map[string]Revision `json:"seen,omitempty" doc:"By id, the revisions that the caller saw: a mandrel that has another by now is refused"`
	At     *time.Time          `json:"at,omitempty" doc:"When it was; without, now"`
	Remark string              `json:"remark,omitempty" maxLength:"200"`
}

func (w Which) mandrels() []store.Seen {
	out := make([]store.Seen, len(w.IDs))
	for i, id := range w.IDs {
		out[i] = store.Seen{ID: id, Rev: int64(w.Seen[id])}
	}
	return out
}

type issueInput struct {
	Once
	Body struct {
		Which
		Load string `json:"load" minLength:"1" maxLength:"200" doc:"A released load"`
	}
}

type returnInput struct {
	Once
	Body struct {
		Which
		Unused  bool       `json:"unused,omitempty" doc:"They were not worked with: no cycle counts, and they are in the crib at once"`
		Damaged bool       `json:"damaged,omitempty" doc:"They go into quarantine; the remark says why"`
		Until   *time.Time `json:"until,omitempty" doc:"When they are cleaned; without, after the turnaround of their type"`
	}
}

type moveInput struct {
	Once
	Body struct {
		Which
		Move  crib.Move  `json:"move" enum:"crib,clean,recoat,inspect,pass,fail,quarantine,regrind,scrap"`
		Until *time.Time `json:"until,omitempty" doc:"When they are to be in the crib again, where anybody knows: plans count on it"`
	}
}

type limitBody struct {
	Type       string `json:"type"`
	Recoat     int    `json:"recoat" doc:"Cycles; 0 sets no limit"`
	Inspection int    `json:"inspection" doc:"Cycles; 0 sets no limit"`
	Rev        int64  `json:"rev" doc:"0 where nobody has set any"`
}

type setLimitInput struct {
	Type string `path:"type" maxLength:"200"`
	Match
	Body struct {
		Recoat     int `json:"recoat" minimum:"0" maximum:"1000000000"`
		Inspection int `json:"inspection" minimum:"0" maximum:"1000000000"`
	}
}

type pickInput struct {
	Release int64     `query:"release" minimum:"1" doc:"Only what it released"`
	Loads   []string  `query:"load,explode" maxItems:"100" doc:"Released loads; without, all"`
	Until   time.Time `query:"until" doc:"Only what is tacked before it"`
}

type choiceBody struct {
	Load     string       `json:"load"`
	Section  string       `json:"section"`
	Type     string       `json:"type"`
	Pieces   int          `json:"pieces" doc:"For which the load has no mandrel yet"`
	Out      time.Time    `json:"out" doc:"When they are tacked"`
	Back     *time.Time   `json:"back,omitempty" doc:"When they are pulled and clean again"`
	Mandrels []chosenBody `json:"mandrels" doc:"The least used first; none that comes due within the work"`
	Lacking  int          `json:"lacking" doc:"Pieces for which there is none"`
}

type chosenBody struct {
	ID    string     `json:"id"`
	Place crib.Place `json:"place" enum:"crib,issued,cleaning,recoating,inspection,regrind" doc:"Where it is now, or will be by then"`
	Back  *time.Time `json:"back,omitempty" doc:"When it is to be in the crib, where it is not there now"`
}

type aheadInput struct {
	Days int `query:"days" minimum:"1" maximum:"60" default:"14"`
}

type aheadAnswer struct {
	Body struct {
		Plan  int64         `json:"plan,omitempty" doc:"The latest, which tells the need beside the released work; absent where none was made"`
		Items []outlookBody `json:"items" doc:"By type in the shop's order, then by day"`
	}
}

type outlookBody struct {
	Type   string    `json:"type"`
	Date   shop.Date `json:"date" format:"date"`
	Ready  int       `json:"ready" doc:"In the crib and not due, now or by the day's end"`
	Out    int       `json:"out" doc:"On a load that does not give them back by the day's end"`
	Due    int       `json:"due" doc:"In the crib by then, but due for recoating or inspection, also by what the plan works before"`
	Away   int       `json:"away" doc:"Elsewhere, and not known to be back by then"`
	Needed int       `json:"needed" doc:"The most that the plan has out at once on the day"`
	Short  int       `json:"short" doc:"What of that neither ready nor out meet"`
}

type countsBody struct {
	Type     string `json:"type"`
	In       int    `json:"in" doc:"In the crib"`
	Out      int    `json:"out" doc:"On loads"`
	Held     int    `json:"held" doc:"Elsewhere"`
	Scrapped int    `json:"scrapped"`
	All      int    `json:"all"`
}

func cribWork(r *routes) {
	add(r, operation{
		name: "issue-mandrels", method: "POST", path: "/crib/issue", tag: "crib", shape: stale, does: "Issue mandrels to a released load",
	}, r.issueMandrels)
	add(r, operation{
		name: "return-mandrels", method: "POST", path: "/crib/return", tag: "crib", shape: stale, does: "Take mandrels back from their loads",
		more: "Each has one cycle more. They are cleaned, and then back in the crib by a move of their own.",
	}, r.returnMandrels)
	add(r, operation{
		name: "move-mandrels", method: "POST", path: "/crib/moves", tag: "crib", shape: stale,
		does: "Clean, recoat, inspect, hold or scrap mandrels, or put them back into the crib",
		more: "What is not possible is refused with what is.",
	}, r.moveMandrels)
	add(r, operation{
		name: "pick-mandrels", method: "GET", path: "/crib/pick", tag: "crib", does: "The very mandrels to issue for released work, by when they are needed",
	}, r.pickMandrels)
	add(r, operation{
		name: "read-mandrels-ahead", method: "GET", path: "/crib/ahead", tag: "crib", does: "By type and day: what is ready, out, due, and needed by the plan",
	}, r.readAhead)
	add(r, operation{
		name: "count-mandrels", method: "GET", path: "/crib/counts", tag: "crib", does: "How many of each type are where",
	}, r.countMandrels)
	add(r, operation{
		name: "list-mandrel-limits", method: "GET", path: "/crib/limits", tag: "crib", does: "After how many cycles mandrels are due, by type in the shop's order",
	}, r.listLimits)
	add(r, operation{
		name: "set-mandrel-limit", method: "PUT", path: "/crib/limits/{type}", tag: "crib", does: "Say after how many cycles mandrels of a type are due",
		more: "A type for which nobody has set any has no ETag: say If-Match: *.",
	}, r.setLimit)
}

func (r *routes) issueMandrels(ctx context.Context, in *issueInput) (*listAnswer[MandrelBody], error) {
	return r.move(in.in(ctx), in.Body.Which, crib.Order{Move: crib.Issue, Load: in.Body.Load})
}

func (r *routes) returnMandrels(ctx context.Context, in *returnInput) (*listAnswer[MandrelBody], error) {
	return r.move(in.in(ctx), in.Body.Which, crib.Order{
		Move: crib.Return, Unused: in.Body.Unused, Damaged: in.Body.Damaged, Until: stated(in.Body.Until),
	})
}

func (r *routes) moveMandrels(ctx context.Context, in *moveInput) (*listAnswer[MandrelBody], error) {
	return r.move(in.in(ctx), in.Body.Which, crib.Order{Move: in.Body.Move, Until: stated(in.Body.Until)})
}

func (r *routes) move(ctx context.Context, w Which, o crib.Order) (*listAnswer[MandrelBody], error) {
	o.At, o.Remark = stated(w.At), w.Remark
	list, err := r.Books.MoveMandrels(ctx, w.mandrels(), o)
	return listed(list, err, mandrelOf)
}

// stated is an instant that a request may leave out.
func stated(at *time.Time) time.Time {
	if at == nil {
		return time.Time{}
	}
	return at.UTC()
}

func (r *routes) pickMandrels(ctx context.Context, in *pickInput) (*listAnswer[choiceBody], error) {
	choices, err := r.Books.Pick(ctx, store.PickFilter{Release: in.Release, Loads: in.Loads, Until: in.Until})
	return listed(choices, inQuery(err, "load"), choiceOf)
}

func choiceOf(c *crib.Choice) choiceBody {
	out := choiceBody{
		Load: c.Load, Section: c.Section, Type: c.Type, Pieces: c.Pieces, Out: c.Out, Back: optional(c.Back),
		Mandrels: make([]chosenBody, len(c.Mandrels)), Lacking: c.Lacking,
	}
	for i, m := range c.Mandrels {
		out.Mandrels[i] = chosenBody{m.ID, m.Place, optional(m.Back)}
	}
	return out
}

func (r *routes) readAhead(ctx context.Context, in *aheadInput) (*aheadAnswer, error) {
	answer := &aheadAnswer{}
	var tasks []shop.Task
	switch view, err := r.Runs.Views().Latest(ctx); {
	case err == nil:
		answer.Body.Plan, tasks = view.ID, view.Plan.Tasks
	case !errors.Is(err, store.ErrNotFound):
		return nil, err
	}
	outlook, err := r.Books.MandrelsAhead(ctx, tasks, in.Days)
	answer.Body.Items = make([]outlookBody, len(outlook))
	for i, o := range outlook {
		answer.Body.Items[i] = outlookBody(o)
	}
	return answer, err
}

func (r *routes) countMandrels(ctx context.Context, _ *nothing) (*listAnswer[countsBody], error) {
	counts, err := r.Books.MandrelCounts(ctx)
	return listed(slices.Sorted(maps.Keys(counts)), err, func(kind *string) countsBody {
		c := counts[*kind]
		return countsBody{*kind, c.In, c.Out, c.Held, c.Scrapped, c.All}
	})
}

func (r *routes) listLimits(ctx context.Context, _ *nothing) (*listAnswer[limitBody], error) {
	limits, err := r.Books.MandrelLimits(ctx)
	return listed(limits, err, limitOf)
}

func (r *routes) setLimit(ctx context.Context, in *setLimitInput) (*revAnswer[limitBody], error) {
	rev, err := in.rev()
	if err != nil {
		return nil, err
	}
	l, err := r.Books.SetMandrelLimit(ctx, in.Type, crib.Limits{Recoat: in.Body.Recoat, Inspection: in.Body.Inspection}, rev)
	return told(limitOf(&l), l.Rev, err)
}

func limitOf(l *store.MandrelLimit) limitBody {
	return limitBody{l.Type, l.Recoat, l.Inspection, l.Rev}
}
