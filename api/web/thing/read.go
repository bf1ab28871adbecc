package thing

import (
	"encoding/json"
	"fmt"
	"net/url"
	"reflect"
	"strconv"
	"strings"
	"time"

	"blankwright/scheduler/shop"
)

// Body returns, as JSON, what a form of a type was sent with. Nothing is
// judged: what was left empty is left out, and what is no number stays a text,
// so that whoever reads it says what would be right at its path.
func Body(of reflect.Type, sent url.Values, zone *time.Location) []byte {
	r := &reader{sent: sent, zone: zone}
	text, err := json.Marshal(r.group("", of))
	if err != nil {
		return []byte("{}") // maps of texts and numbers always marshal
	}
	return text
}

// A reader reads parts out of what was sent.
type reader struct {
	sent url.Values
	zone *time.Location
}

func (r *reader) group(path string, t reflect.Type) map[string]any {
	out := map[string]any{}
	for i := range t.NumField() {
		name, _, _ := strings.Cut(t.Field(i).Tag.Get("json"), ",")
		if value := r.part(join(path, name), t.Field(i).Type); value != nil {
			out[name] = value
		}
	}
	return out
}

// part reads one field; nil where it was left empty.
func (r *reader) part(path string, t reflect.Type) any {
	switch kindOf(t) {
	case Group:
		return r.group(path, t)
	case List:
		return r.rows(path, t.Elem())
	case Lines:
		return r.lines(path, t)
	case Tick:
		if r.sent.Get(path) == "" {
			return nil
		}
		return true
	}
	text := strings.TrimSpace(r.sent.Get(path))
	if text == "" && kindOf(t) == Text && t.Kind() == reflect.String {
		return r.said(path)
	}
	if text == "" {
		return nil
	}
	return r.value(text, kindOf(t))
}

// said is a text that was sent empty: nothing, but for those that may be empty.
func (r *reader) said(path string) any {
	if r.sent.Has(path) && (path == "why" || strings.HasSuffix(path, ".why")) {
		return ""
	}
	return nil
}

func (r *reader) value(text string, kind Kind) any {
	switch kind {
	case Whole, Decimal:
		if _, err := strconv.ParseFloat(text, 64); err == nil && json.Valid([]byte(text)) {
			return json.Number(text)
		}
	case Moment:
		return r.moment(text)
	}
	return text
}

// moment reads a local time, in the shop's zone; what is none stays as it is.
func (r *reader) moment(text string) string {
	at, err := time.ParseInLocation(momentForm, text, r.zone)
	if err != nil {
		return text
	}
	return shop.InstantOf(at).String()
}

// rows reads the entries of a list, one after the other.
func (r *reader) rows(path string, t reflect.Type) any {
	var out []any
	for i := range Rows(r.sent, path) {
		out = append(out, r.group(fmt.Sprintf("%s[%d]", path, i), t))
	}
	if out == nil {
		return nil
	}
	return out
}

// Rows counts the rows of a list that was sent.
func Rows(sent url.Values, path string) int {
	count := 0
	for name := range sent {
		rest, ok := strings.CutPrefix(name, path+"[")
		if !ok {
			continue
		}
		number, _, _ := strings.Cut(rest, "]")
		if n, err := strconv.Atoi(number); err == nil && n >= count && n < mostRows {
			count = n + 1
		}
	}
	return count
}

// mostRows is more than any list of a thing has: a name that was made up must
// not have memory filled.
const mostRows = 500

// lines reads a list of plain values.
func (r *reader) lines(path string, t reflect.Type) any {
	var rows []string
	for line := range strings.SplitSeq(r.sent.Get(path), "\n") {
		if line = strings.TrimSpace(line); line != "" {
			rows = append(rows, line)
		}
	}
	if len(rows) == 0 {
		return nil
	}
	switch t {
	case typeOf[[]shop.Window]():
		return readWindows(strings.Join(rows, ","))
	case typeOf[map[shop.Date][]shop.Window]():
		out := map[string]any{}
		for _, row := range rows {
			date, open, _ := strings.Cut(row, ":")
			out[strings.TrimSpace(date)] = readWindows(open)
		}
		return out
	}
	out := make([]any, len(rows))
	for i, row := range rows {
		switch {
		case t == typeOf[[]shop.Instant]():
			out[i] = r.moment(row)
		case t == typeOf[[]*string]() && row == nothing:
			out[i] = nil
		default:
			out[i] = row
		}
	}
	return out
}

// readWindows reads 07:00–11:30, 12:00–15:30; what is no window stays a text.
func readWindows(text string) []any {
	out := []any{}
	for piece := range strings.SplitSeq(text, ",") {
		piece = strings.TrimSpace(piece)
		if piece == "" || piece == closed {
			continue
		}
		from, to, ok := strings.Cut(strings.ReplaceAll(piece, "–", "-"), "-")
		if !ok {
			out = append(out, piece)
			continue
		}
		out = append(out, []any{strings.TrimSpace(from), strings.TrimSpace(to)})
	}
	return out
}

// Add gives a list one more row; Remove takes one out. Both return what a form
// would have been sent with.
func Add(sent url.Values, list string) url.Values {
	out := clone(sent)
	out.Set(fmt.Sprintf("%s[%d].", list, Rows(sent, list)), "")
	return out
}

// Remove takes the row at a path out of its list.
func Remove(sent url.Values, row string) url.Values {
	at := strings.LastIndex(row, "[")
	gone, err := strconv.Atoi(strings.TrimSuffix(row[max(0, at)+min(1, at+1):], "]"))
	if at < 0 || err != nil {
		return sent
	}
	list, out := row[:at], url.Values{}
	for name, values := range sent {
		rest, ok := strings.CutPrefix(name, list+"[")
		number, tail, inside := strings.Cut(rest, "]")
		n, err := strconv.Atoi(number)
		switch {
		case !ok || !inside || err != nil || n < gone:
			out[name] = values
		case n > gone:
			out[fmt.Sprintf("%s[%d]%s", list, n-1, tail)] = values
		}
	}
	return out
}

func clone(v url.Values) url.Values {
	out := url.Values{}
	for name, values := range v {
		out[name] = values
	}
	return out
}
