package rest

import (
	"context"
	"crypto/rand"
	"encoding/json"
	"net/http"
	"strings"

	"github.com/danielgtaylor/huma/v2"

	"blankwright/api/rest/schema"
	"blankwright/store"
)

// A thingItem is a thing of the catalog in a list: Value is what a shop file
// would state.
type thingItem struct {
	ID    string          `json:"id"`
	Rev   int64           `json:"rev"`
	Value json.RawMessage `json:"value"`
}

type thingsAnswer struct {
	Body struct {
		Items []thingItem `json:"items"`
	}
}

// A thingAnswer is one thing, its body as a shop file would state it.
type thingAnswer struct {
	Status      int
	ContentType string `header:"Content-Type"`
	ETag        string `header:"ETag"`
	Location    string `header:"Location"`
	Body        []byte
}

type thingInput struct {
	ID string `path:"id" maxLength:"200"`
}

type putThingInput struct {
	ID string `path:"id" maxLength:"200"`
	Fresh
	RawBody []byte `contentType:"application/json"`
}

type putOnlyInput struct {
	Match
	RawBody []byte `contentType:"application/json"`
}

type addThingInput struct {
	RawBody []byte `contentType:"application/json"`
}

type removeThingInput struct {
	ID string `path:"id" maxLength:"200"`
	Match
}

// catalog adds the operations of each kind of thing.
func catalog(r *routes) {
	for _, k := range kinds() {
		if k.only {
			r.only(k)
			continue
		}
		r.list(k)
		r.one(k)
	}
}

// only adds the operations of a kind of which there is one thing.
func (r *routes) only(k kind) {
	at := "/catalog/" + k.plural
	add(r, operation{
		name: "read-" + k.plural, may: "read-catalog", method: "GET", path: at, tag: "catalog",
		does: "Read " + k.what, shape: answers(k, false),
	}, func(ctx context.Context, _ *nothing) (*thingAnswer, error) {
		return answerThing(r.Books.Thing(ctx, k.name, k.name))
	})
	add(r, operation{
		name: "put-" + k.plural, may: k.may, method: "PUT", path: at, tag: "catalog",
		does: "Change " + k.what, more: putMore, shape: answers(k, true),
	}, func(ctx context.Context, in *putOnlyInput) (*thingAnswer, error) {
		rev, err := in.rev()
		if err != nil {
			return nil, err
		}
		return answerThing(r.Books.PutThing(ctx, k.name, k.name, in.RawBody, rev))
	})
}

const putMore = "It is refused, with every problem, unless the whole shop is valid with it. " +
	"Problems that it makes elsewhere are named from the shop file, after body.shop."

func (r *routes) list(k kind) {
	at := "/catalog/" + k.plural
	add(r, operation{
		name: "list-" + k.plural, may: "read-catalog", method: "GET", path: at, tag: "catalog",
		does: "List all of the kind: " + k.what,
		shape: func(o *huma.Operation) {
			o.Responses = map[string]*huma.Response{"200": jsonResponse("In the order of the shop file", listSchema(k))}
		},
	}, func(ctx context.Context, _ *nothing) (*thingsAnswer, error) {
		things, err := r.Books.Things(ctx, k.name)
		answer := &thingsAnswer{}
		answer.Body.Items = make([]thingItem, len(things))
		for i, t := range things {
			answer.Body.Items[i] = thingItem{t.ID, t.Rev, t.Body}
		}
		return answer, err
	})
	if !k.rows {
		return
	}
	add(r, operation{
		name: "add-" + k.plural, may: k.may, method: "POST", path: at, tag: "catalog", status: http.StatusCreated,
		does: "Add " + k.what, more: "The books give it an id, which the answer's Location ends with.", shape: answers(k, true),
	}, func(ctx context.Context, in *addThingInput) (*thingAnswer, error) {
		id := strings.ToLower(rand.Text())
		answer, err := answerThing(r.Books.PutThing(ctx, k.name, id, in.RawBody, store.MustBeNew))
		if err == nil {
			answer.Status, answer.Location = http.StatusCreated, Base+at+"/"+id
		}
		return answer, err
	})
}

// one adds the operations on one of a kind.
func (r *routes) one(k kind) {
	at := "/catalog/" + k.plural + "/{id}"
	singular := strings.ReplaceAll(k.name, "_", "-")
	add(r, operation{
		name: "read-" + singular, may: "read-catalog", method: "GET", path: at, tag: "catalog", does: "Read " + k.what, shape: answers(k, false),
	}, func(ctx context.Context, in *thingInput) (*thingAnswer, error) {
		return answerThing(r.Books.Thing(ctx, k.name, in.ID))
	})
	add(r, operation{
		name: "put-" + singular, may: k.may, method: "PUT", path: at, tag: "catalog",
		does: "Make or change " + k.what, more: putMore, shape: answers(k, true),
	}, func(ctx context.Context, in *putThingInput) (*thingAnswer, error) {
		rev, err := in.seen()
		if err != nil {
			return nil, err
		}
		return answerThing(r.Books.PutThing(ctx, k.name, in.ID, in.RawBody, rev))
	})
	if k.fixed {
		return
	}
	add(r, operation{
		name: "remove-" + singular, may: k.may, method: "DELETE", path: at, tag: "catalog",
		does: "Remove " + k.what, more: "It is refused while anything refers to it.",
	}, func(ctx context.Context, in *removeThingInput) (*nothing, error) {
		rev, err := in.rev()
		if err != nil {
			return nil, err
		}
		return &nothing{}, r.Books.RemoveThing(ctx, k.name, in.ID, rev)
	})
}

func answerThing(t store.Thing, err error) (*thingAnswer, error) {
	if err != nil {
		return nil, err
	}
	return &thingAnswer{Status: http.StatusOK, ContentType: "application/json", ETag: etag(t.Rev), Body: t.Body}, nil
}

// answers has an operation answer with a thing of a kind, and take one.
func answers(k kind, takes bool) func(*huma.Operation) {
	return func(o *huma.Operation) {
		status := "200"
		if o.DefaultStatus == http.StatusCreated {
			status = "201"
		}
		o.Responses = map[string]*huma.Response{status: jsonResponse("As a shop file states it", schema.Of(k.form))}
		if takes {
			o.SkipValidateBody = true // package strict tells all that is wrong with it at once
			o.MaxBodyBytes = maxThing
			o.RequestBody = &huma.RequestBody{
				Description: "As a shop file states it", Required: true,
				Content: map[string]*huma.MediaType{"application/json": {Schema: schema.Of(k.form)}},
			}
		}
	}
}

// maxThing is the most bytes of a thing.
const maxThing = 1 << 20

func jsonResponse(what string, s *huma.Schema) *huma.Response {
	return &huma.Response{Description: what, Content: map[string]*huma.MediaType{"application/json": {Schema: s}}}
}

func listSchema(k kind) *huma.Schema {
	item := &huma.Schema{
		Type: huma.TypeObject, AdditionalProperties: false, Required: []string{"id", "rev", "value"},
		Properties: map[string]*huma.Schema{"id": {Type: huma.TypeString}, "rev": {Type: huma.TypeInteger}, "value": schema.Of(k.form)},
	}
	return &huma.Schema{
		Type: huma.TypeObject, AdditionalProperties: false, Required: []string{"items"},
		Properties: map[string]*huma.Schema{"items": {Type: huma.TypeArray, Items: item}},
	}
}
