package rest

import (
	"context"

	"blankwright/store"
)

// A levelBody is a product's stock level as the interface tells it.
type levelBody struct {
	Product string  `json:"product"`
	Sets    int     `json:"sets"`
	Days    int     `json:"days"`
	Weight  float64 `json:"weight"`
	Rev     int64   `json:"rev"`
}

type levelInput struct {
	Product string `path:"product" maxLength:"200"`
}

type putLevelInput struct {
	Product string `path:"product" maxLength:"200"`
	Fresh
	Body struct {
		Sets   int     `json:"sets" minimum:"0" maximum:"1000000000" doc:"Sets that should lie on the shelf when all lines are served"`
		Days   int     `json:"days" minimum:"0" maximum:"36525" doc:"What is missing is due so many days after it came to be missing"`
		Weight float64 `json:"weight" minimum:"0" maximum:"1000000000" doc:"Of what is missing, as demand"`
	}
}

type removeLevelInput struct {
	Product string `path:"product" maxLength:"200"`
	Match
}

func levels(r *routes) {
	add(r, operation{
		name: "list-levels", may: "read-demand", method: "GET", path: "/levels", tag: "restock", does: "All stock levels, by product",
	}, func(ctx context.Context, _ *nothing) (*listAnswer[levelBody], error) {
		list, err := r.Books.Levels(ctx)
		return listed(list, err, levelOf)
	})
	add(r, operation{
		name: "read-level", may: "read-demand", method: "GET", path: "/levels/{product}", tag: "restock", does: "A product's stock level",
	}, func(ctx context.Context, in *levelInput) (*revAnswer[levelBody], error) {
		l, err := r.Books.Level(ctx, in.Product)
		return told(levelOf(&l), l.Rev, err)
	})
	add(r, operation{
		name: "put-level", may: "change-restock", method: "PUT", path: "/levels/{product}", tag: "restock",
		does: "Set a product's stock level", more: "What falls below it becomes demand by itself.",
	}, r.putLevel)
	add(r, operation{
		name: "remove-level", may: "change-restock", method: "DELETE", path: "/levels/{product}", tag: "restock",
		does: "Keep a product on the shelf no more",
	}, func(ctx context.Context, in *removeLevelInput) (*nothing, error) {
		rev, err := in.rev()
		if err != nil {
			return nil, err
		}
		return &nothing{}, r.Books.RemoveLevel(ctx, in.Product, rev)
	})
}

func (r *routes) putLevel(ctx context.Context, in *putLevelInput) (*revAnswer[levelBody], error) {
	rev, err := in.seen()
	if err != nil {
		return nil, err
	}
	terms := store.LevelTerms{Sets: in.Body.Sets, Days: in.Body.Days, Weight: in.Body.Weight}
	l, err := r.Books.PutLevel(ctx, in.Product, terms, rev)
	return told(levelOf(&l), l.Rev, err)
}

func levelOf(l *store.Level) levelBody {
	return levelBody{Product: l.Product, Sets: l.Sets, Days: l.Days, Weight: l.Weight, Rev: l.Rev}
}
