package thing_test

import (
	"encoding/json"
	"net/url"
	"reflect"
	"testing"
	"time"

	"blankwright/api/web/thing"
	"blankwright/api/web/webtest"
	"blankwright/scheduler/shop"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

// What a form shows of each thing of a shop, sent back untouched, is that thing
// again.
func TestForm_ThereAndBack(t *testing.T) {
	s, _ := webtest.TernPoint(t)
	var values []any
	add := func(list any) {
		for i := range reflect.ValueOf(list).Len() {
			values = append(values, reflect.ValueOf(list).Index(i).Interface())
		}
	}
	for _, list := range []any{s.Crews, s.Resins, s.Tapes, s.Prepregs, s.Supply, s.Profiles, s.Ovens, s.Racks, s.MandrelTypes, s.Mandrels, s.Products, s.Downtime} {
		add(list)
	}
	for _, c := range s.Calendars {
		values = append(values, c)
	}
	for _, stage := range shop.Stages() {
		values = append(values, *s.Stations.At(stage))
	}
	values = append(values, s.Policy)
	for _, value := range values {
		body, err := json.Marshal(value)
		if err != nil {
			t.Fatal(err)
		}
		form, err := thing.Form(reflect.TypeOf(value), body, s.Zone())
		if err != nil {
			t.Fatal(err)
		}
		got := reflect.New(reflect.TypeOf(value))
		if err := json.Unmarshal(thing.Body(reflect.TypeOf(value), form.Values(), s.Zone()), got.Interface()); err != nil {
			t.Errorf("%T: %v", value, err)
			continue
		}
		if diff := cmp.Diff(value, got.Elem().Interface(), cmpopts.EquateEmpty()); diff != "" {
			t.Errorf("%T (-before +after):\n%s", value, diff)
		}
	}
}

// What a thing does not state stays unstated, and a new thing states nothing:
// nought is not the same, and is refused where there must be one.
func TestForm_LeavesOut(t *testing.T) {
	body := `{"id":"low","bays":2,"height_mm":1950,"max_kg":0,"profiles":["P"],"calendar":"day","load_minutes":9,"unload_minutes":9,"run_cost":0,"hour_cost":4}`
	form, err := thing.Form(reflect.TypeFor[shop.Oven](), []byte(body), time.UTC)
	if err != nil {
		t.Fatal(err)
	}
	var got, want map[string]any
	if err := json.Unmarshal(thing.Body(reflect.TypeFor[shop.Oven](), form.Values(), time.UTC), &got); err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal([]byte(body), &want); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("an oven without a crew (-want +got):\n%s", diff)
	}
	blank, err := thing.Form(reflect.TypeFor[shop.Oven](), nil, time.UTC)
	if err != nil {
		t.Fatal(err)
	}
	if values := blank.Values(); len(values) > 0 {
		t.Errorf("a new oven states %v", values)
	}
}

// What was typed wrong stays as it was typed, for the books to refuse it.
func TestBody_KeepsWhatIsWrong(t *testing.T) {
	sent := url.Values{
		"id": {" P 1 "}, "segments[0].to_c": {"warm"}, "segments[0].ramp_c_per_min": {"2"}, "segments[1].to_c": {"0x10"}, "rest_minutes": {""},
		"segments[99999999].to_c": {"1"},
	}
	got := string(thing.Body(reflect.TypeFor[shop.Profile](), sent, time.UTC))
	want := `{"id":"P 1","segments":[{"ramp_c_per_min":2,"to_c":"warm"},{"to_c":"0x10"}]}`
	if got != want {
		t.Errorf("%s, want %s", got, want)
	}
}

// Rows are added at the end and taken out of the middle of a list.
func TestRows(t *testing.T) {
	sent := url.Values{"segments[0].to_c": {"80"}, "segments[1].to_c": {"120"}, "segments[2].to_c": {"90"}, "id": {"P"}}
	more := thing.Add(sent, "segments")
	if n := thing.Rows(more, "segments"); n != 4 {
		t.Errorf("%d rows after one more, want 4", n)
	}
	less := thing.Remove(sent, "segments[1]")
	want := url.Values{"segments[0].to_c": {"80"}, "segments[1].to_c": {"90"}, "id": {"P"}}
	if diff := cmp.Diff(want, less); diff != "" {
		t.Errorf("after one less (-want +got):\n%s", diff)
	}
	for _, odd := range []string{"", "segments", "segments[", "segments[x]"} {
		if diff := cmp.Diff(sent, thing.Remove(sent, odd)); diff != "" {
			t.Errorf("%q takes something out:\n%s", odd, diff)
		}
	}
}

// Calendars are written as people write opening hours.
func TestForm_Calendar(t *testing.T) {
	sent := url.Values{"weekly.mon": {"07:00-11:30, 12:00–15:30"}, "exceptions": {"2026-12-25: closed\n2026-12-24: 07:00–12:00"}}
	got := string(thing.Body(reflect.TypeFor[shop.Calendar](), sent, time.UTC))
	want := `{"exceptions":{"2026-12-24":[["07:00","12:00"]],"2026-12-25":[]},"weekly":{"mon":[["07:00","11:30"],["12:00","15:30"]]}}`
	if got != want {
		t.Errorf("%s, want %s", got, want)
	}
}
