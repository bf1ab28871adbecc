package rest

import (
	"context"
	"net/http"
	"reflect"

	"github.com/danielgtaylor/huma/v2"

	"blankwright/api/respond"
	"blankwright/api/rest/schema"
	"blankwright/scheduler/fit"
	"blankwright/scheduler/shop"
	"blankwright/scheduler/strict"
)

// A fitBody says what fits a section, and why not what does not.
type fitBody struct {
	Section  string       `json:"section"`
	Makes    bool         `json:"makes" doc:"Some oven has a profile that cures it and takes a rack that clears it"`
	Why      string       `json:"why,omitempty" doc:"What is missing, where nothing makes it"`
	Profiles []fitProfile `json:"profiles" doc:"All of the shop's profiles"`
	Hangs    []fitHang    `json:"hangs" doc:"Each set-up of each rack in each oven"`
}

type fitProfile struct {
	Profile   string   `json:"profile"`
	Qualifies bool     `json:"qualifies"`
	Why       []string `json:"why" doc:"The reasons why it does not qualify"`
	Ovens     []string `json:"ovens" doc:"Those that run it"`
}

type fitHang struct {
	Oven   string     `json:"oven"`
	Rack   string     `json:"rack"`
	Setup  string     `json:"setup"`
	Clears bool       `json:"clears"`
	Why    string     `json:"why,omitempty" doc:"The reason why no level takes a piece"`
	Levels []fitLevel `json:"levels" doc:"Those that take a piece"`
}

type fitLevel struct {
	Level  int `json:"level" doc:"Its number in the set-up, the first is 1"`
	Pegs   int `json:"pegs" doc:"What one piece takes"`
	Pieces int `json:"pieces" doc:"How many the level has pegs for"`
}

type fitAnswer struct{ Body fitBody }

type fitsAnswer struct {
	Body struct {
		Items []fitBody `json:"items"`
	}
}

type fitInput struct {
	ID string `path:"id" maxLength:"200" doc:"The section's id"`
}

type tryFitInput struct {
	RawBody []byte `contentType:"application/json"`
}

// fits adds what tells at once whether sections can be made.
func fits(r *routes) {
	add(r, operation{
		name: "list-fits", may: "read-catalog", method: "GET", path: "/sections/fit", tag: "catalog",
		does: "What fits each section: which racks clear it, which profiles qualify, and why not",
	}, r.listFits)
	add(r, operation{
		name: "read-fit", may: "read-catalog", method: "GET", path: "/sections/{id}/fit", tag: "catalog",
		does: "What fits one section",
	}, r.readFit)
	add(r, operation{
		name: "try-fit", may: "read-catalog", method: "POST", path: "/sections/fit", tag: "catalog",
		does: "What would fit a section, as it is sent", more: "Nothing is kept.",
		shape: func(o *huma.Operation) {
			o.SkipValidateBody = true
			o.MaxBodyBytes = maxThing
			o.RequestBody = &huma.RequestBody{
				Description: "A section as a shop file states it", Required: true,
				Content: map[string]*huma.MediaType{"application/json": {Schema: schema.Of(reflect.TypeFor[shop.Section]())}},
			}
		},
	}, r.tryFit)
}

func (r *routes) listFits(ctx context.Context, _ *nothing) (*fitsAnswer, error) {
	s, err := r.Books.Catalog(ctx)
	if err != nil {
		return nil, err
	}
	answer := &fitsAnswer{}
	answer.Body.Items = []fitBody{}
	for i := range s.Products {
		for k := range s.Products[i].Sections {
			answer.Body.Items = append(answer.Body.Items, fitOf(fit.Of(s, &s.Products[i].Sections[k])))
		}
	}
	return answer, nil
}

func (r *routes) readFit(ctx context.Context, in *fitInput) (*fitAnswer, error) {
	s, err := r.Books.Catalog(ctx)
	if err != nil {
		return nil, err
	}
	for i := range s.Products {
		for k := range s.Products[i].Sections {
			if section := &s.Products[i].Sections[k]; section.ID == in.ID {
				return &fitAnswer{fitOf(fit.Of(s, section))}, nil
			}
		}
	}
	return nil, respond.New(http.StatusNotFound, "there is no section "+in.ID)
}

func (r *routes) tryFit(ctx context.Context, in *tryFitInput) (*fitAnswer, error) {
	s, err := r.Books.Catalog(ctx)
	if err != nil {
		return nil, err
	}
	var section shop.Section
	doc := strict.Read(in.RawBody, &section)
	if err := references(doc, s, &section); err != nil {
		return nil, err
	}
	return &fitAnswer{fitOf(fit.Of(s, &section))}, nil
}

func fitOf(report fit.Report) fitBody {
	body := fitBody{Section: report.Section, Makes: report.Makes, Why: report.Why, Profiles: []fitProfile{}, Hangs: []fitHang{}}
	for _, p := range report.Profiles {
		body.Profiles = append(body.Profiles, fitProfile{
			Profile: p.ID, Qualifies: p.Qualifies(), Why: append([]string{}, p.Why...), Ovens: append([]string{}, p.Ovens...),
		})
	}
	for _, h := range report.Hangs {
		hang := fitHang{Oven: h.Oven, Rack: h.Rack, Setup: h.Setup, Clears: len(h.Levels) > 0, Why: h.Why, Levels: []fitLevel{}}
		for _, l := range h.Levels {
			hang.Levels = append(hang.Levels, fitLevel{l.Number, l.Pegs, l.Pieces})
		}
		body.Hangs = append(body.Hangs, hang)
	}
	return body
}
