package rest

import (
	"encoding/json"
	"errors"
	"fmt"
	"net/http"
	"unicode/utf8"

	"github.com/danielgtaylor/huma/v2"
	"github.com/danielgtaylor/huma/v2/validation"

	"blankwright/api/respond"
)

// huma makes its own errors and schemas by these variables of its package; it
// offers no other way.
func init() {
	huma.NewError = problem
	huma.NewErrorWithContext = func(ctx huma.Context, status int, detail string, errs ...error) huma.StatusError {
		p := newProblem(status, detail, errs)
		besides(ctx.Context(), p)
		p.Request = respond.Request(ctx.Context())
		return p
	}
	huma.DefaultArrayNullable = false
}

func config() huma.Config {
	c := huma.DefaultConfig("blankwright", "1")
	c.Info.Description = "The books of a shop of rolled blanks, and its plans. " +
		"Nothing here says that an oven or a machine is safe, and nothing starts, holds or clears one."
	c.Servers = []*huma.Server{{URL: Base}}
	c.OpenAPIPath, c.DocsPath, c.SchemasPath = "", "", ""
	c.CreateHooks = nil
	c.RejectUnknownQueryParameters = true
	format := huma.Format{Marshal: huma.DefaultJSONFormat.Marshal, Unmarshal: unmarshal}
	c.Formats = map[string]huma.Format{"application/json": format, "json": format}
	c.Components.SecuritySchemes = map[string]*huma.SecurityScheme{
		"token":   {Type: "http", Scheme: "bearer", Description: "A token, made by an admin"},
		"session": {Type: "apiKey", In: "cookie", Name: "session", Description: "A session, begun by signing in"},
	}
	return c
}

// unmarshal refuses what is no UTF-8, which encoding/json would pass over.
func unmarshal(data []byte, v any) error {
	if !utf8.Valid(data) {
		return errors.New("is not text in UTF-8")
	}
	err := json.Unmarshal(data, v)
	var misfit *json.UnmarshalTypeError
	if errors.As(err, &misfit) { // it would name our types
		return fmt.Errorf(misfitForm, misfit.Field)
	}
	return err
}

// misfitForm tells of a value that has the right type and yet does not fit, as
// 1.0 for a whole number.
const misfitForm = "%s is not written as it should be"

func problem(status int, detail string, errs ...error) huma.StatusError {
	return newProblem(status, detail, errs)
}

// newProblem makes huma's findings about a request a problem document. What
// was sent is not sent back, and an error of the inside is not told.
func newProblem(status int, detail string, errs []error) *respond.Problem {
	if detail == "cannot read request body" { // it was cut short or badly framed
		status, detail, errs = http.StatusBadRequest, "the request's body can't be read", nil
	}
	if status >= http.StatusInternalServerError {
		detail, errs = "internal error", nil
	}
	p := respond.New(status, detail)
	for _, err := range errs {
		var d huma.ErrorDetailer
		if errors.As(err, &d) {
			p.Errors = append(p.Errors, field(d.ErrorDetail()))
		} else if err != nil {
			p.Errors = append(p.Errors, respond.Field{Location: "body", Message: err.Error()})
		}
	}
	return p
}

// field tells of a finding at the place where it is to be mended: huma tells
// of a missing field at the object that lacks it.
func field(d *huma.ErrorDetail) respond.Field {
	var name string
	if _, err := fmt.Sscanf(d.Message, validation.MsgExpectedRequiredProperty, &name); err == nil {
		return respond.Field{Location: d.Location + "." + name, Message: "is missing"}
	}
	if _, err := fmt.Sscanf(d.Message, misfitForm, &name); err == nil {
		return respond.Field{Location: d.Location + "." + name, Message: "is not written as it should be: whole numbers have neither fraction nor exponent"}
	}
	return respond.Field{Location: d.Location, Message: d.Message}
}
