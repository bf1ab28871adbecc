package strict_test

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"blankwright/scheduler/strict"
)

// A shelf has one field of every form that Read knows.
type shelf struct {
	Name   string           `json:"name"`
	Colour colour           `json:"colour"`
	Count  int              `json:"count" min:"1" max:"9"`
	Pitch  float64          `json:"pitch" above:"0"`
	Depth  float64          `json:"depth"`
	Aside  string           `json:"aside" empty:"ok"`
	Open   bool             `json:"open"`
	Rows   []row            `json:"rows" min:"1"`
	Marks  []*string        `json:"marks,omitempty"`
	Spans  map[colour][]gap `json:"spans"`
	Spare  map[string]row   `json:"spare,omitempty"`
	Grid   [][]int          `json:"grid"`
	Note   string           `json:"note,omitempty"`
	Limit  *float64         `json:"limit,omitempty" min:"0"`
	Top    row              `json:"top,omitzero"`
}

type row struct {
	ID string `json:"id"`
}

type gap [2]int

// A colour is a type with a text form.
type colour int

func (c colour) MarshalText() ([]byte, error) { return []byte{"rg"[c]}, nil }

func (c *colour) UnmarshalText(text []byte) error {
	at := strings.Index("rg", string(text))
	if len(text) != 1 || at < 0 {
		return fmt.Errorf("%q is no colour, which is r or g", text)
	}
	*c = colour(at)
	return nil
}

const good = `{"name":"A","colour":"g","count":3,"pitch":2.5,"depth":-1e2,"aside":"","open":false,"rows":[{"id":"r1"}],"spans":{"r":[[1,2]]}}`

func problems(t *testing.T, data string) strict.Problems {
	t.Helper()
	err := strict.Read([]byte(data), new(shelf)).Err()
	if err == nil {
		return nil
	}
	var all strict.Problems
	if !errors.As(err, &all) {
		t.Fatalf("the error is a %T, not strict.Problems", err)
	}
	return all
}

// What fits is read, absent and null fields alike.
func TestRead_Good(t *testing.T) {
	want := shelf{
		Name: "A", Colour: 1, Count: 3, Pitch: 2.5, Depth: -100,
		Rows: []row{{"r1"}}, Spans: map[colour][]gap{0: {{1, 2}}},
	}
	for _, more := range []string{
		``, `,"note":null,"limit":null,"top":null,"marks":null,"grid":null,"spare":null`, `,"marks":[],"grid":[],"spare":{}`, `,"spare":{"x":null}`,
	} {
		var got shelf
		data := strings.TrimSuffix(good, "}") + more + "}"
		if err := strict.Read([]byte(data), &got).Err(); err != nil {
			t.Fatalf("%s:\n%v", more, err)
		}
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("%s read wrongly (-want +got):\n%s", more, diff)
		}
	}
}

// Each change to a good file is refused at its place, with what would be right.
func TestRead_Refuses(t *testing.T) {
	for _, c := range []struct{ old, new, path, message string }{
		{`"name":"A",`, ``, "name", "is missing"},
		{`"A"`, `null`, "name", "is missing"},
		{`"A"`, `""`, "name", "is empty"},
		{`"A"`, `7`, "name", "is a number, not text"},
		{`"A"`, `["A"]`, "name", "is a list, not text"},
		{`"name"`, `"Name":"A","name"`, "Name", "is unknown; the fields here are name, colour, count, pitch, depth, aside, open, rows, marks, spans, spare, grid, note, limit, top"},
		{`"name"`, `"a b":"A","name"`, `["a b"]`, "is unknown; the fields here are name, colour, count, pitch, depth, aside, open, rows, marks, spans, spare, grid, note, limit, top"},
		{`"open"`, `"name":"B","open"`, "name", "is here a second time"},
		{`"open"`, `"n\u0061me":"B","open"`, "name", "is here a second time"},
		{`"aside":""`, `"aside":null`, "aside", "is missing"},
		{`"g"`, `"b"`, "colour", `"b" is no colour, which is r or g`},
		{`"g"`, `1`, "colour", "is a number, not text"},
		{`3`, `3.0`, "count", "3.0 is no whole number, which has neither fraction nor exponent"},
		{`3`, `3e0`, "count", "3e0 is no whole number, which has neither fraction nor exponent"},
		{`3`, `"3"`, "count", "is text, not a number"},
		{`3`, `true`, "count", "is true or false, not a number"},
		{`3`, `0`, "count", "is 0, but must be at least 1"},
		{`3`, `10`, "count", "is 10, but must be at most 9"},
		{`3`, `99999999999999999999`, "count", "is 99999999999999999999, but must be at most 9"},
		{`2.5`, `0`, "pitch", "is 0, but must be above 0"},
		{`2.5`, `-1`, "pitch", "is -1, but must be above 0"},
		{`2.5`, `1e-7`, "pitch", "is 1e-7, but must be above 0 by more than 0.000001"},
		{`-1e2`, `1e400`, "depth", "is 1e400, but must be at most 1000000000"},
		{`-1e2`, `-1e10`, "depth", "is -1e10, but must be at least -1000000000"},
		{`false`, `0`, "open", "is a number, not true or false"},
		{`[{"id":"r1"}]`, `[]`, "rows", "has 0 entries, but must have at least 1"},
		{`"rows":[{"id":"r1"}],`, ``, "rows", "has 0 entries, but must have at least 1"},
		{`[{"id":"r1"}]`, `{}`, "rows", "is an object, not a list"},
		{`{"id":"r1"}`, `null`, "rows[0]", "is null, not an object"},
		{`{"id":"r1"}`, `{"id":"r1"},{"id":""}`, "rows[1].id", "is empty"},
		{`{"r":[[1,2]]}`, `[]`, "spans", "is a list, not an object"},
		{`"r":`, `"x":`, "spans.x", `"x" is no colour, which is r or g`},
		{`"r":[`, `"r":[],"r":[`, "spans.r", "is here a second time"},
		{`[1,2]`, `[1]`, "spans.r[0]", "has 1 entries, but must have 2"},
		{`[1,2]`, `[1,2,3]`, "spans.r[0]", "has 3 entries, but must have 2"},
		{`[1,2]`, `[1,null]`, "spans.r[0][1]", "is null, not a number"},
		{`[1,2]`, `12`, "spans.r[0]", "is a number, not a list"},
		{`"open"`, `"spare":{"":{"id":"x"}},"open"`, `spare[""]`, "is empty"},
		{`"open"`, `"marks":["a",null,""],"open"`, "marks[2]", "is empty"},
		{`"open"`, `"grid":[null,[1,"x"]],"open"`, "grid[1][1]", "is text, not a number"},
		{`"open"`, `"limit":-0.5,"open"`, "limit", "is -0.5, but must be at least 0"},
		{`"open"`, `"top":{},"open"`, "top.id", "is missing"},
	} {
		want := strict.Problems{{Path: c.path, Message: c.message}}
		if diff := cmp.Diff(want, problems(t, strings.Replace(good, c.old, c.new, 1))); diff != "" {
			t.Errorf("%s instead of %s (-want +got):\n%s", c.new, c.old, diff)
		}
	}
}

// What is no JSON at all is refused at its line and column, with no path.
func TestRead_NoJSON(t *testing.T) {
	for _, c := range []struct{ data, message string }{
		{``, "line 1, column 1: no JSON: unexpected end of JSON input"},
		{good + "\n {}", "line 2, column 2: no JSON: invalid character '{' after top-level value"},
		{"{\n \"é\": é}", "line 2, column 7: no JSON: invalid character 'Ã' looking for beginning of value"},
		{"{\"name\":\n\"\xff\"}", "line 2, column 2: this byte is not UTF-8"},
		{"\ufeff" + good, "line 1, column 1: starts with a byte order mark, which JSON has not"},
		{`{"name":"\ud800"}`, `line 1, column 9: this text holds half of a \u pair, which is no letter`},
		{`{"name":"\udc00\ud800"}`, `line 1, column 9: this text holds half of a \u pair, which is no letter`},
		{`{"name":"\ud800\u0041"}`, `line 1, column 9: this text holds half of a \u pair, which is no letter`},
		{strings.Repeat("[", 66) + strings.Repeat("]", 66), "line 1, column 66: more than 64 lists and objects stand in each other"},
		{strings.Repeat("[", 1e6), "line 1, column 10001: no JSON: invalid character '[' exceeded max depth"},
		{`[1]`, "is a list, not an object"},
		{`null`, "is null, not an object"},
		{`{"count":NaN}`, "line 1, column 10: no JSON: invalid character 'N' looking for beginning of value"},
	} {
		if diff := cmp.Diff(strict.Problems{{Message: c.message}}, problems(t, c.data)); diff != "" {
			t.Errorf("%.40q (-want +got):\n%s", c.data, diff)
		}
	}
}

// A pair of escapes that makes one letter, and escapes beside it, are read.
func TestRead_Escapes(t *testing.T) {
	var got shelf
	data := strings.Replace(good, `"A"`, `"\\ud800 \ud83c\udfa3\n\ufffd"`, 1)
	if err := strict.Read([]byte(data), &got).Err(); err != nil {
		t.Fatal(err)
	}
	if want := "\\ud800 \U0001f3a3\n\ufffd"; got.Name != want {
		t.Errorf("read %q, want %q", got.Name, want)
	}
}

// All problems come at once, in the file's order whatever the fields' order is.
func TestRead_FileOrder(t *testing.T) {
	data := `{"rows":[{"id":1},5],"odd":1,"count":0,"name":""}`
	var paths []string
	for _, p := range problems(t, data) {
		paths = append(paths, p.Path)
	}
	// What is missing stands where its object begins.
	want := []string{"colour", "pitch", "depth", "aside", "open", "spans", "rows[0].id", "rows[1]", "odd", "count", "name"}
	if diff := cmp.Diff(want, paths); diff != "" {
		t.Errorf("paths (-want +got):\n%s", diff)
	}
}

// A later judgement takes its place in the file's order, and is dropped where
// the place or one around it was refused in reading.
func TestDocument_Add(t *testing.T) {
	doc := strict.Read([]byte(strings.Replace(good, `{"id":"r1"}`, `{"id":"r1"},5`, 1)), new(shelf))
	doc.Add("spans.r[0][1]", "is odd")
	doc.Add("rows[1].id", "is judged, though it was not read")
	doc.Add("name", "is %q", "A")
	doc.Add("name", "is judged twice")
	doc.Add("rows[0].kind", "is not in the file")
	want := strict.Problems{{"name", `is "A"`}, {"rows[0].kind", "is not in the file"}, {"rows[1]", "is a number, not an object"}, {"spans.r[0][1]", "is odd"}}
	if diff := cmp.Diff(error(want), doc.Err()); diff != "" {
		t.Errorf("problems (-want +got):\n%s", diff)
	}
}

// References are judged by the ids that are there, and not where an id or the
// whole list could not be read.
func TestIds(t *testing.T) {
	doc := strict.Read([]byte(strings.Replace(good, `"open":false`, `"open":0`, 1)), new(shelf))
	known, none, torn, lost := doc.Ids("peg type"), doc.Ids("bar"), doc.Ids("hook"), doc.Ids("rail")
	for i := range 8 {
		known.Add(fmt.Sprintf("rows[%d].id", i), fmt.Sprint("P", i))
	}
	known.Add("rows[8].id", "P1")
	torn.Add("rows[0].id", "")
	lost.List("open")
	known.Refer("a", "P7")
	known.Refer("b", "")
	known.Refer("c", "Q")
	none.Refer("d", "Q")
	torn.Refer("e", "Q")
	lost.Refer("f", "Q")
	want := strict.Problems{
		{"c", `no peg type "Q"; there are P0, P1, P2, P3, P4, P5, …`},
		{"d", `no bar "Q"; there are none`},
		{"open", "is a number, not true or false"},
		{"rows[8].id", `"P1" is already the id at rows[1].id`},
	}
	if diff := cmp.Diff(error(want), doc.Err()); diff != "" {
		t.Errorf("problems (-want +got):\n%s", diff)
	}
}

// An error text ends after 20 problems and says how many more there are.
func TestProblems_Error(t *testing.T) {
	all := make(strict.Problems, 23)
	for i := range all {
		all[i] = strict.Problem{Path: fmt.Sprint("p", i), Message: "is wrong"}
	}
	lines := strings.Split(all.Error(), "\n")
	if len(lines) != 21 || lines[0] != "p0: is wrong" || lines[20] != "and 3 more" {
		t.Errorf("the text is:\n%s", all.Error())
	}
}

// Long texts are cut short in messages.
func TestRead_LongText(t *testing.T) {
	long := strings.Repeat("x", 1000)
	for _, p := range problems(t, strings.Replace(good, `{"name"`, `{"`+long+`":1,"name"`, 1)) {
		if len(p.String()) > 300 {
			t.Errorf("a problem has %d bytes", len(p.String()))
		}
	}
}

// Any value within bounds is written so that it reads back the same, and
// writing what was read gives the same bytes.
func TestEncode_RoundTrip(t *testing.T) {
	word := rapid.StringN(1, 8, -1)
	rows := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) row { return row{word.Draw(t, "id")} }), 1, 3)
	rapid.Check(t, func(t *rapid.T) {
		in := shelf{
			Name:   word.Draw(t, "name"),
			Colour: colour(rapid.IntRange(0, 1).Draw(t, "colour")),
			Count:  rapid.IntRange(1, 9).Draw(t, "count"),
			Pitch:  rapid.Float64Range(0.001, strict.Most).Draw(t, "pitch"),
			Depth:  rapid.Float64Range(-strict.Most, strict.Most).Draw(t, "depth"),
			Open:   rapid.Bool().Draw(t, "open"),
			Rows:   rows.Draw(t, "rows"),
		}
		if rapid.Bool().Draw(t, "more") {
			mark := word.Draw(t, "mark")
			in.Marks = []*string{nil, &mark}
			in.Spans = map[colour][]gap{0: {{1, 2}, {3, 4}}, 1: nil}
			in.Grid = [][]int{nil, {1}}
			in.Spare = map[string]row{mark: {mark}}
			in.Limit = new(float64)
			in.Top = row{mark}
		}
		written := strict.Encode(in)
		var out shelf
		if err := strict.Read(written, &out).Err(); err != nil {
			t.Fatalf("%v\n%s", err, written)
		}
		if diff := cmp.Diff(in, out); diff != "" {
			t.Fatalf("reads back differently (-want +got):\n%s", diff)
		}
		if again := strict.Encode(&out); string(again) != string(written) {
			t.Fatalf("written again it is\n%s, not\n%s", again, written)
		}
	})
}

// The written form is indented by one space, with what is flat on one line.
func TestEncode_Form(t *testing.T) {
	mark := "<a & \u00e9>"
	in := shelf{
		Name: mark, Count: 1, Pitch: 1e-3, Depth: math.Copysign(0, -1), Rows: []row{{"r1"}, {"r2"}},
		Marks: []*string{nil, &mark}, Spans: map[colour][]gap{1: {}, 0: {{1, 2}}},
	}
	want := `{
 "name": "<a & é>",
 "colour": "r",
 "count": 1,
 "pitch": 0.001,
 "depth": 0,
 "aside": "",
 "open": false,
 "rows": [
  {"id": "r1"},
  {"id": "r2"}
 ],
 "marks": [null, "<a & é>"],
 "spans": {
  "g": [],
  "r": [
   [1, 2]
  ]
 },
 "grid": []
}
`
	if diff := cmp.Diff(want, string(strict.Encode(in))); diff != "" {
		t.Errorf("form (-want +got):\n%s", diff)
	}
}

// A number that no file can hold is a mistake of the program.
func TestEncode_NoNumber(t *testing.T) {
	for _, value := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("%v was written", value)
				}
			}()
			strict.Encode(shelf{Depth: value})
		}()
	}
}
