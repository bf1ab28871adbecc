package rest

import (
	"context"
	"net/http"
	"reflect"
	"time"

	"github.com/danielgtaylor/huma/v2"

	"blankwright/api/rest/schema"
	"blankwright/scheduler/shop"
)

// importTime is how long a shop file may take to arrive.
const importTime = time.Minute

// maxImport is the most bytes of a shop file.
const maxImport = 32 << 20

type importInput struct {
	RawBody []byte `contentType:"application/json"`
}

type fileAnswer struct {
	ContentType string `header:"Content-Type"`
	Disposition string `header:"Content-Disposition"`
	Body        []byte
}

// exchange adds what takes in a whole shop file, and gives one out.
func exchange(r *routes) {
	file := func() *huma.Schema { return schema.Of(reflect.TypeFor[shop.Shop]()) }
	add(r, operation{
		name: "import", method: "POST", path: "/import", tag: "shop file", mostBytes: maxImport, status: http.StatusNoContent,
		does: "Take a whole shop file into empty books", more: "Every problem of the file is told, and nothing is kept where there is one.",
		shape: func(o *huma.Operation) {
			o.SkipValidateBody = true
			o.BodyReadTimeout = importTime
			o.RequestBody = &huma.RequestBody{
				Description: "A shop file, blankwright/shop/1", Required: true,
				Content: map[string]*huma.MediaType{"application/json": {Schema: file()}},
			}
		},
	}, func(ctx context.Context, in *importInput) (*nothing, error) {
		return &nothing{}, r.Books.Import(ctx, in.RawBody)
	})
	add(r, operation{
		name: "export", method: "GET", path: "/export", tag: "shop file",
		does: "The shop as the books have it now, as a shop file", more: "It is what the next plan is made from.",
		shape: func(o *huma.Operation) {
			o.Responses = map[string]*huma.Response{"200": jsonResponse("A shop file, blankwright/shop/1", file())}
		},
	}, func(ctx context.Context, _ *nothing) (*fileAnswer, error) {
		text, err := r.Books.Export(ctx)
		return &fileAnswer{ContentType: "application/json", Disposition: `attachment; filename="shop.json"`, Body: text}, err
	})
}
