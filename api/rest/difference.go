package rest

import (
	"context"
	"time"

	"blankwright/api/runs"
	"blankwright/scheduler/plan"
	"blankwright/scheduler/shop"
)

type differenceInput struct {
	ID    int64 `path:"id" minimum:"1" doc:"The earlier plan"`
	Later int64 `path:"later" minimum:"1"`
}

type differenceAnswer struct {
	Body struct {
		Cost struct {
			From plan.Cost `json:"from"`
			To   plan.Cost `json:"to"`
		} `json:"cost"`
		Lines []lineMoveBody   `json:"lines" doc:"Whose ship date moved, or of which other sets ship"`
		Loads []loadChangeBody `json:"loads" doc:"By when they go in"`
	}
}

type lineMoveBody struct {
	Line          string     `json:"line"`
	Order         string     `json:"order"`
	Product       string     `json:"product"`
	From          *shop.Date `json:"from,omitempty" format:"date" doc:"When its last set shipped; absent where it shipped nothing"`
	To            *shop.Date `json:"to,omitempty" format:"date"`
	Days          *int       `json:"days,omitempty" doc:"Later; below 0: sooner"`
	UnplannedFrom int        `json:"unplanned_from" doc:"Sets that were not planned"`
	UnplannedTo   int        `json:"unplanned_to"`
	New           bool       `json:"new" doc:"Only the later shop has the line"`
	Gone          bool       `json:"gone" doc:"Only the earlier shop has it"`
}

type loadChangeBody struct {
	What   string    `json:"what" enum:"added,removed,changed"`
	Before *loadBody `json:"before,omitempty"`
	After  *loadBody `json:"after,omitempty"`
}

// A loadBody is a load without how its racks hang, which the plan file tells.
type loadBody struct {
	ID        string    `json:"id"`
	Oven      string    `json:"oven"`
	Profile   string    `json:"profile"`
	In        time.Time `json:"in"`
	CureStart time.Time `json:"cure_start"`
	CureEnd   time.Time `json:"cure_end"`
	Out       time.Time `json:"out"`
	Runs      []runSize `json:"runs"`
}

// A runSize is how many pieces of a section hang in a load.
type runSize struct {
	Section string `json:"section"`
	Pieces  int    `json:"pieces"`
}

func differences(r *routes) {
	add(r, operation{
		name: "compare-plans", may: "read-plans", method: "GET", path: "/plans/{id}/difference/{later}", tag: "plans",
		does: "What is otherwise in a later plan", more: "A load is known again by what hangs in it, or by its oven and time: its id is another in each plan.",
	}, r.comparePlans)
}

func (r *routes) comparePlans(ctx context.Context, in *differenceInput) (*differenceAnswer, error) {
	before, err := r.Runs.Views().Plan(ctx, in.ID)
	if err != nil {
		return nil, err
	}
	after, err := r.Runs.Views().Plan(ctx, in.Later)
	if err != nil {
		return nil, err
	}
	d := runs.Compare(before.Shop, before.Plan, after.Shop, after.Plan)
	answer := &differenceAnswer{}
	body := &answer.Body
	body.Cost.From, body.Cost.To = before.Plan.Cost, after.Plan.Cost
	body.Lines, body.Loads = make([]lineMoveBody, len(d.Lines)), make([]loadChangeBody, len(d.Loads))
	for i := range d.Lines {
		body.Lines[i] = moveOf(&d.Lines[i])
	}
	for i, c := range d.Loads {
		body.Loads[i] = loadChangeBody{c.What, loadOf(c.Before), loadOf(c.After)}
	}
	return answer, nil
}

func moveOf(m *runs.LineMove) lineMoveBody {
	body := lineMoveBody{
		Line: m.Line, Order: m.Order, Product: m.Product, From: m.From, To: m.To,
		UnplannedFrom: m.UnplannedFrom, UnplannedTo: m.UnplannedTo, New: m.New, Gone: m.Gone,
	}
	if days, ok := m.Days(); ok {
		body.Days = &days
	}
	return body
}

func loadOf(l *shop.Load) *loadBody {
	if l == nil {
		return nil
	}
	body := &loadBody{
		ID: l.ID, Oven: l.Oven, Profile: l.Profile, In: l.In.Time(), CureStart: l.CureStart.Time(), CureEnd: l.CureEnd.Time(),
		Out: l.Out.Time(), Runs: []runSize{},
	}
	at := map[string]int{}
	for _, rack := range l.Racks {
		for _, level := range rack.Levels {
			for _, hang := range level {
				if _, ok := at[hang.Section]; !ok {
					at[hang.Section] = len(body.Runs)
					body.Runs = append(body.Runs, runSize{Section: hang.Section})
				}
				body.Runs[at[hang.Section]].Pieces += hang.Pieces
			}
		}
	}
	return body
}
