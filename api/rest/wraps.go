package rest

import (
	"context"

	"blankwright/store"
)

// A WrapTerms is how the tape goes onto a section. It is exported for huma,
// which looks into no other embedded types.
type WrapTerms struct {
	PitchMM  float64 `json:"pitch_mm" exclusiveMinimum:"0" maximum:"1000000000" doc:"How far the helix moves on with each turn"`
	TensionN float64 `json:"tension_n" exclusiveMinimum:"0" maximum:"1000000000" doc:"How hard the tape is pulled, in newtons"`
	Passes   int     `json:"passes" minimum:"1" maximum:"1000000000" doc:"How often it is wound from end to end"`
}

// A wrapBody is a section's recipe for its tape.
type wrapBody struct {
	Section string     `json:"section"`
	Product string     `json:"product"`
	Tape    string     `json:"tape"`
	Recipe  *WrapTerms `json:"recipe,omitempty" doc:"Absent until somebody has set it"`
	Rev     int64      `json:"rev" doc:"0 until then"`
}

type wrapInput struct {
	Section string `path:"section" maxLength:"200"`
}

type removeWrapInput struct {
	Section string `path:"section" maxLength:"200"`
	Match
}

type setWrapInput struct {
	Section string `path:"section" maxLength:"200"`
	Fresh
	Body WrapTerms
}

func wraps(r *routes) {
	add(r, operation{
		name: "list-wrap-recipes", may: "read-catalog", method: "GET", path: "/wrap-recipes", tag: "catalog",
		does: "How the tape goes onto each section, in the shop's order", more: "The shop file has none of it: no plan needs it, the wrap sheet does.",
	}, func(ctx context.Context, _ *nothing) (*listAnswer[wrapBody], error) {
		list, err := r.Books.WrapRecipes(ctx)
		return listed(list, err, wrapOf)
	})
	add(r, operation{
		name: "read-wrap-recipe", may: "read-catalog", method: "GET", path: "/wrap-recipes/{section}", tag: "catalog", does: "How the tape goes onto a section",
	}, func(ctx context.Context, in *wrapInput) (*revAnswer[wrapBody], error) {
		w, err := r.Books.WrapRecipe(ctx, in.Section)
		return told(wrapOf(&w), w.Rev, err)
	})
	add(r, operation{
		name: "set-wrap-recipe", method: "PUT", path: "/wrap-recipes/{section}", tag: "catalog", does: "Say how the tape goes onto a section",
	}, func(ctx context.Context, in *setWrapInput) (*revAnswer[wrapBody], error) {
		rev, err := in.seen()
		if err != nil {
			return nil, err
		}
		w, err := r.Books.SetWrapRecipe(ctx, in.Section, store.WrapTerms(in.Body), rev)
		return told(wrapOf(&w), w.Rev, err)
	})
	add(r, operation{
		name: "remove-wrap-recipe", may: "set-wrap-recipe", method: "DELETE", path: "/wrap-recipes/{section}", tag: "catalog",
		does: "Take away what was said of a section's tape",
	}, func(ctx context.Context, in *removeWrapInput) (*nothing, error) {
		rev, err := in.rev()
		if err != nil {
			return nil, err
		}
		return &nothing{}, r.Books.RemoveWrapRecipe(ctx, in.Section, rev)
	})
}

func wrapOf(w *store.WrapRecipe) wrapBody {
	body := wrapBody{Section: w.Section, Product: w.Product, Tape: w.Tape, Rev: w.Rev}
	if w.Rev > 0 {
		terms := WrapTerms(w.WrapTerms)
		body.Recipe = &terms
	}
	return body
}
