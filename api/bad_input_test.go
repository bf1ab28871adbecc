package api_test

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"net/http"
	"net/http/httptest"
	"net/url"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"blankwright/api"
	"blankwright/api/apitest"
	"blankwright/api/respond"
	"blankwright/scheduler"
	"blankwright/scheduler/shop"
	"blankwright/scheduler/shoptest"
)

// object is JSON as it comes.
type object = map[string]any

// An endpoint is one operation as the document tells of it.
type endpoint struct {
	name, method, path string
	body               object // the schema; nil where it takes none
	query              []string
}

// Every handler refuses whatever is wrong with a request, at its place, and
// never by an error of its own. The handlers, and what they take, are read
// from the document, so that new ones are tried as well.
func TestEveryHandler_BadInput(t *testing.T) {
	h := busyHouse(t)
	var doc object
	h.As().Loose().Get("/openapi.json").Must(http.StatusOK).Into(&doc)
	tried := 0
	for _, e := range endpoints(doc) {
		if e.name == "read-events" {
			continue // its stream has no end; TestEvents_BadInput tries it
		}
		b := &badInput{t: t, admin: h.Admin().Loose().With("If-Match", "*"), endpoint: e, doc: doc}
		b.paths()
		b.queries()
		b.headers()
		b.bodies()
		tried += b.tried
	}
	if tried < 2000 {
		t.Errorf("only %d requests tried", tried)
	}
	for line := range strings.Lines(h.Log.String()) {
		if strings.Contains(line, `"level":"ERROR"`) && !strings.Contains(line, "nobody plans here") {
			t.Errorf("the log holds an error: %.500s", line)
		}
	}
}

// busyHouse has books that hold something of most kinds.
func busyHouse(t *testing.T) *apitest.House {
	t.Helper()
	h := apitest.Open(t, func(c *api.Config) {
		c.Planning.Plan = func(context.Context, *shop.Shop, scheduler.Options) (*scheduler.Result, error) {
			return nil, errors.New("nobody plans here")
		}
	})
	admin := h.Admin().Loose()
	fresh := admin.With("If-None-Match", "*")
	admin.Do("POST", "/import", shoptest.Bare().Encode()).Must(http.StatusNoContent)
	fresh.Do("PUT", "/dealers/cove", object{"name": "Cove"}).Must(http.StatusOK)
	admin.Do("POST", "/orders", object{"id": "O1", "dealer": "cove", "lines": []object{{"product": "P", "quantity": 4, "due": "2027-03-20"}}}).Must(http.StatusCreated)
	admin.Do("POST", "/claims", object{"product": "P", "sold": "2026-05-01", "failed": "2027-02-20", "reason": "bow"}).Must(http.StatusCreated)
	fresh.Do("PUT", "/levels/P", object{"sets": 5, "days": 20, "weight": 0.5}).Must(http.StatusOK)
	return h
}

// known are values that the busy house knows, by the names of fields and of
// parameters: with them a request gets beyond its form.
var known = object{
	"dealer": "cove", "product": "P", "line": "O1/1", "order": "O1", "section": "S", "oven": "oven", "resin": "resin",
	"prepreg": "prepreg", "tape": "tape", "mandrel": "mandrel", "calendar": "always", "station": "tack", "day": "2027-03-02",
	"timezone": "UTC", "password": "a long enough password", "type": "mandrel",
}

// badInput tries one endpoint.
type badInput struct {
	endpoint
	t     *testing.T
	admin *apitest.Client
	doc   object
	tried int
}

// ask sends a request and judges what comes back.
func (b *badInput) ask(c *apitest.Client, what, path string, body any) *apitest.Answer {
	b.t.Helper()
	b.tried++
	a := c.Do(b.method, path, body)
	switch {
	case a.Status >= 500:
		b.t.Errorf("%s, %s: status %d: %.300s", b.name, what, a.Status, a.Text)
	case a.Status >= 400 && a.Header.Get("Content-Type") != respond.ContentType:
		b.t.Errorf("%s, %s: status %d without a problem document: %.300s", b.name, what, a.Status, a.Text)
	case a.Status == http.StatusUnprocessableEntity && len(a.Locations()) == 0:
		b.t.Errorf("%s, %s: nothing says where: %s", b.name, what, a.Text)
	case a.Status >= 400 && a.Problem().Detail == "":
		b.t.Errorf("%s, %s: status %d says nothing: %s", b.name, what, a.Status, a.Text)
	}
	return a
}

// hostile are texts that belong in no id and no number.
var hostile = []string{
	"x", "-1", "0", "1.5", "99999999999999999999", "'; DROP TABLE trail; --", "<script>alert(1)</script>", "../../etc/passwd",
	"=1+1", "${7*7}", "\u202e", "\x00", "\xff", strings.Repeat("x", 3000),
}

// paths puts hostile texts, and what is not there, in the place of parameters.
func (b *badInput) paths() {
	if !strings.Contains(b.path, "{") {
		return
	}
	for _, text := range hostile {
		a := b.ask(b.admin, fmt.Sprintf("path with %.40q", text), fill(b.path, text), b.sample())
		if a.Status == http.StatusOK && b.method == http.MethodGet {
			b.t.Errorf("%s: there is something at %.40q", b.name, text)
		}
	}
}

func (b *badInput) queries() {
	for _, name := range b.query {
		for _, text := range hostile {
			b.ask(b.admin, fmt.Sprintf("query %s=%.40q", name, text), b.good()+"?"+name+"="+url.QueryEscape(text), b.sample())
		}
	}
	a := b.ask(b.admin, "a query that is unknown", b.good()+"?frob=1", b.sample())
	if a.Status < 400 {
		b.t.Errorf("%s: an unknown query is accepted", b.name)
	}
}

// headers are wrong in form, and stale.
func (b *badInput) headers() {
	for _, match := range []string{"", "x", "3", `"x"`, `"-1"`, `W/"1"`, `"999999"`, "\xff", strings.Repeat("9", 100)} {
		b.ask(b.admin.With("If-Match", match), fmt.Sprintf("If-Match: %.20q", match), b.good(), b.sample())
	}
	b.ask(b.admin.With("Idempotency-Key", strings.Repeat("k", 101)), "a key too long", b.good(), b.sample())
}

// bodies are no JSON, too large, of another type, or wrong in one place.
func (b *badInput) bodies() {
	if b.body == nil {
		return
	}
	raw := map[string]string{
		"nothing": "", "half": "{", "a list": "[]", "null": "null", "a text": `"x"`, "two": "{}{}",
		"no UTF-8": "{\"id\": \"\xff\"}", "deep": strings.Repeat("[", 20000), "too large": `{"id": "` + strings.Repeat("x", 1<<20) + `"}`,
	}
	for what, text := range raw {
		if a := b.ask(b.admin, "body is "+what, b.good(), text); a.Status < 400 {
			b.t.Errorf("%s: accepts a body that is %s", b.name, what)
		}
	}
	if a := b.ask(b.admin.With("Content-Type", "text/plain"), "another content type", b.good(), b.sample()); a.Status < 400 && b.sample() == nil {
		b.t.Errorf("%s: accepts text", b.name)
	}
	whole := b.sample()
	spoil(whole, func(any) {}, 0, func(place string) { b.ask(b.admin, "body with "+place, b.good(), whole) })
}

// spoil puts wrong values in each place of a body, one after the other.
func spoil(v any, put func(any), depth int, try func(place string)) {
	if depth > 0 {
		for _, wrong := range []any{nil, true, -1e12, 0.5, "", "no such\u0000thing", hostile[5], strings.Repeat("ж", 5000), []any{}, object{}} {
			put(wrong)
			try(fmt.Sprintf("%.20q at depth %d", fmt.Sprint(wrong), depth))
		}
		put(v)
	}
	switch v := v.(type) {
	case object:
		v["frob"] = 1
		try("an unknown field")
		delete(v, "frob")
		for _, name := range slices.Sorted(maps.Keys(v)) {
			was := v[name]
			delete(v, name)
			try("no " + name)
			spoil(was, func(w any) { v[name] = w }, depth+1, try)
			v[name] = was
		}
	case []any:
		for i := range v {
			spoil(v[i], func(w any) { v[i] = w }, depth+1, try)
		}
	}
}

// good is the path with what the house knows.
func (b *badInput) good() string {
	id := "1"
	for prefix, of := range map[string]string{
		"/catalog/": "", "/lines/": "O1%2F1", "/orders/": "O1", "/dealers/": "cove", "/levels/": "P", "/sections/": "S",
		"/mandrels/": "m1", "/queues/": "tack", "/accounts/": "none", "/oven-queues/": "oven",
	} {
		if strings.HasPrefix(b.path, prefix) && of != "" {
			id = of
		}
	}
	catalog := object{"ovens": "oven", "racks": "rack", "tapes": "tape", "resins": "resin", "prepregs": "prepreg", "profiles": "cure", "products": "P", "calendars": "always", "stations": "tack", "mandrel-types": "mandrel"}
	for plural, of := range catalog {
		if strings.HasPrefix(b.path, "/catalog/"+plural) {
			id = of.(string)
		}
	}
	return fill(strings.ReplaceAll(b.path, "{day}", "2027-03-02"), id)
}

// sample is a body that is right in its form.
func (b *badInput) sample() any {
	if b.body == nil {
		return nil
	}
	return b.value(b.body, "", 0)
}

// value makes a value that a schema takes.
func (b *badInput) value(s object, name string, depth int) any {
	if v, ok := known[name]; ok {
		return v
	}
	if ref, ok := s["$ref"].(string); ok {
		s = b.doc["components"].(object)["schemas"].(object)[strings.TrimPrefix(ref, "#/components/schemas/")].(object)
	}
	if list, ok := s["enum"].([]any); ok {
		return list[0]
	}
	kind := s["type"]
	if several, ok := kind.([]any); ok {
		kind = several[0]
	}
	switch kind {
	case "object":
		out := object{}
		properties, _ := s["properties"].(object)
		for field, of := range properties {
			if depth < 6 {
				out[field] = b.value(of.(object), field, depth+1)
			}
		}
		return out
	case "array":
		items, _ := s["items"].(object)
		n := 1.0
		if least, ok := s["minItems"].(float64); ok {
			n = least
		}
		var out []any
		for range int(n) {
			out = append(out, b.value(items, strings.TrimSuffix(name, "s"), depth+1))
		}
		return out
	case "integer", "number":
		if least, ok := s["minimum"].(float64); ok && least > 0 {
			return least
		}
		return 1.0
	case "boolean":
		return true
	}
	switch s["format"] {
	case "date":
		return "2027-03-20"
	case "date-time":
		return "2027-03-20T08:00:00Z"
	}
	return "some text"
}

// fill puts one text in the place of every parameter of a path.
func fill(path, text string) string {
	if !strings.Contains(text, "%2F") {
		text = url.PathEscape(text)
	}
	parts := strings.Split(path, "/")
	for i, part := range parts {
		if strings.HasPrefix(part, "{") {
			parts[i] = text
		}
	}
	return strings.Join(parts, "/")
}

// endpoints reads the document, in a fixed order: what removes things comes
// last, so that there is something to try the others on.
func endpoints(doc object) []endpoint {
	var list []endpoint
	for path, item := range doc["paths"].(object) {
		for method, of := range item.(object) {
			op := of.(object)
			e := endpoint{name: op["operationId"].(string), method: strings.ToUpper(method), path: path}
			if body, ok := op["requestBody"].(object); ok {
				for _, media := range body["content"].(object) {
					e.body, _ = media.(object)["schema"].(object)
				}
			}
			params, _ := op["parameters"].([]any)
			for _, p := range params {
				if p.(object)["in"] == "query" {
					e.query = append(e.query, p.(object)["name"].(string))
				}
			}
			list = append(list, e)
		}
	}
	slices.SortFunc(list, func(a, b endpoint) int {
		return strings.Compare(rank(a)+a.name, rank(b)+b.name)
	})
	return list
}

func rank(e endpoint) string {
	switch {
	case e.method == http.MethodDelete || strings.HasSuffix(e.path, "/cancel"):
		return "2"
	case e.method == http.MethodGet:
		return "0"
	}
	return "1"
}

// anything draws a JSON value of any kind; deeper ones are smaller.
func anything(depth int) *rapid.Generator[any] {
	plain := rapid.OneOf(
		rapid.Just[any](nil), rapid.Bool().AsAny(), rapid.String().AsAny(), rapid.Int64().AsAny(), rapid.Float64Range(-1e15, 1e15).AsAny(),
		rapid.SampledFrom([]any{"P", "cove", "2027-03-20", "2027-02-30", "", 0, 1, "O1/1"}),
	)
	if depth == 0 {
		return plain
	}
	return rapid.OneOf(plain, rapid.SliceOfN(anything(depth-1), 0, 3).AsAny(),
		rapid.MapOfN(rapid.SampledFrom([]string{"product", "quantity", "due", "weight", "promised", "frob"}), anything(depth-1), 0, 6).AsAny())
}

// orderLike draws a body that is an order, or something like one, or no JSON.
func orderLike(t *rapid.T) []byte {
	body := rapid.MapOfN(rapid.SampledFrom([]string{"id", "dealer", "reference", "complete", "note", "lines", "frob"}), anything(3), 0, 7).Draw(t, "body")
	if rapid.Bool().Draw(t, "of a dealer") {
		body["dealer"] = "cove"
		body["lines"] = []any{object{"product": "P", "quantity": rapid.IntRange(-1, 9).Draw(t, "quantity"), "due": "2027-03-20", "weight": anything(0).Draw(t, "weight")}}
	}
	text, err := json.Marshal(body)
	if err != nil {
		t.Fatal(err)
	}
	if rapid.IntRange(0, 9).Draw(t, "spoilt") == 0 {
		text[rapid.IntRange(0, len(text)-1).Draw(t, "at")] = rapid.Byte().Draw(t, "byte")
	}
	return text
}

// orderHouse knows the product P and the dealer Cove, and takes orders.
func orderHouse(t testing.TB) func(*rapid.T) {
	h := apitest.Open(t)
	admin := h.Admin().Loose()
	admin.Do("POST", "/import", shoptest.Bare().Encode()).Must(http.StatusNoContent)
	admin.With("If-None-Match", "*").Do("PUT", "/dealers/cove", object{"name": "Cove"}).Must(http.StatusOK)
	return func(t *rapid.T) {
		body := orderLike(t)
		r := httptest.NewRequestWithContext(context.Background(), http.MethodPost, "/api/v1/orders", bytes.NewReader(body))
		r.Header = admin.Header.Clone()
		w := httptest.NewRecorder()
		h.Server.ServeHTTP(w, r)
		if w.Code >= 500 || !json.Valid(w.Body.Bytes()) {
			t.Errorf("%q: status %d: %s", body, w.Code, w.Body)
		}
	}
}

// Whatever is sent as an order is entered, or refused with a problem document,
// and never an error of ours.
func TestEnterOrder_Anything(t *testing.T) { rapid.Check(t, orderHouse(t)) }

// FuzzEnterOrder tries the same for as long as it is let.
func FuzzEnterOrder(f *testing.F) { f.Fuzz(rapid.MakeFuzz(orderHouse(f))) }
