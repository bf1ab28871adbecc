package draw_test

import (
	"encoding/xml"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"blankwright/api/web/draw"
	"blankwright/api/web/unit"
	"blankwright/api/web/webtest"
	"blankwright/scheduler/plan"
	"blankwright/scheduler/sheet"
	"blankwright/scheduler/shop"

	"github.com/google/go-cmp/cmp"
)

var update = flag.Bool("update", false, "write the golden drawings anew")

// all draws every kind of picture from a shop and its plan's first day.
func all(t *testing.T, s *shop.Shop, p *plan.Plan) map[string]draw.Picture {
	t.Helper()
	d := webtest.Day(t, s, p)
	out := map[string]draw.Picture{}
	for i := range d.Loads {
		l := &d.Loads[i]
		out["load "+l.ID] = draw.Load("load-"+l.ID, l, ovenOf(s, l.Oven), draw.Tubes(s), unit.System{})
	}
	stretch := draw.StretchOf(d)
	for i := range d.Stations {
		out["station "+d.Stations[i].Stage.String()] = draw.Station("s-"+d.Stations[i].Stage.String(), d, stretch, &d.Stations[i])
	}
	out["ovens"] = draw.Ovens("ovens", d, stretch)
	for _, profile := range s.Profiles {
		out["curve "+profile.ID] = draw.Curve{ID: profile.ID, Profile: profile, AmbientC: s.Policy.AmbientC, Resins: s.Resins, Tapes: s.Tapes}.Draw()
		out["clock "+profile.ID] = draw.Curve{ID: profile.ID, Profile: profile, LagMin: 25, Start: &d.From, Units: unit.System{Fahrenheit: true}}.Draw()
	}
	for i := range s.Products[0].Sections {
		section := &s.Products[0].Sections[i]
		out["section "+section.ID] = draw.Section(section.ID, section, shop.MandrelType{ID: section.Mandrel, HangMM: 1800}, unit.System{Inch: true})
	}
	out["strip"] = draw.Strip("strip", s.MandrelTypes[0].ID, []draw.NeedDay{{Date: d.Date, Need: 9, Ready: 6}, {Date: d.Date + 1}})
	out["need"] = draw.Need("need", s.MandrelTypes[0].ID, []draw.NeedDay{{Date: d.Date, Need: 9, Ready: 6}, {Date: d.Date + 1}})
	out["bars"] = draw.Bars("bars", s.Name, []draw.Share{{Name: s.Name, Value: 3, Text: "3"}, {Name: "none"}})
	out["columns"] = draw.Columns("columns", s.Name, []draw.Share{{Name: s.Name, Value: 0.5, Text: "50 %"}})
	return out
}

func ovenOf(s *shop.Shop, id string) shop.Oven {
	for _, o := range s.Ovens {
		if o.ID == id {
			return o
		}
	}
	return shop.Oven{ID: id}
}

// Every picture is well-formed, says what it shows to who cannot see it, and
// has no style of its own, which the pages' policy would refuse; a hostile
// name stays a text.
func TestPictures(t *testing.T) {
	for name, shopAndPlan := range map[string]func(testing.TB) (*shop.Shop, *plan.Plan){"plain": webtest.TernPoint, "hostile": webtest.Hostile} {
		s, p := shopAndPlan(t)
		for what, picture := range all(t, s, p) {
			for _, problem := range problems(string(picture)) {
				t.Errorf("%s names, %s: %s", name, what, problem)
			}
		}
	}
}

// problems says what is wrong with a picture.
func problems(picture string) (out []string) {
	decoder := xml.NewDecoder(strings.NewReader(picture))
	root, ids := xml.StartElement{}, map[string]string{}
	for inside := ""; ; {
		token, err := decoder.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return append(out, err.Error())
		}
		switch token := token.(type) {
		case xml.StartElement:
			if inside = ""; root.Name.Local == "" {
				root = token
			}
			if token.Name.Local == "script" || token.Name.Local == "style" {
				out = append(out, "has an element "+token.Name.Local)
			}
			for _, a := range token.Attr {
				switch {
				case a.Name.Local == "style" || strings.HasPrefix(a.Name.Local, "on"):
					out = append(out, "has an attribute "+a.Name.Local)
				case a.Name.Local == "id":
					inside, ids[a.Value] = a.Value, ""
				}
			}
		case xml.CharData:
			if inside != "" {
				ids[inside] += string(token)
			}
		}
	}
	return append(out, unnamed(root, ids)...)
}

// unnamed says what keeps an image from being announced.
func unnamed(root xml.StartElement, ids map[string]string) (out []string) {
	attributes := map[string]string{}
	for _, a := range root.Attr {
		attributes[a.Name.Local] = a.Value
	}
	if root.Name.Local != "svg" || attributes["role"] != "img" {
		out = append(out, "is no image")
	}
	for _, id := range strings.Fields(attributes["aria-labelledby"]) {
		if ids[id] == "" {
			out = append(out, "has nothing to be announced under "+id)
		}
	}
	return out
}

// A load is drawn a millimetre to a unit: each bar stands at its height above
// the floor, and from it hangs one mandrel for each piece, as long as it is.
func TestLoad_Scale(t *testing.T) {
	l := &sheet.Load{
		ID: "L1", Oven: "low", Pieces: 5,
		Racks: []sheet.Rack{{
			Type: "short", SetUp: "two bars", HeightMM: 1880, Pieces: 5,
			Levels: []sheet.Level{
				{BarMM: 1800, ClearMM: 850, PitchMM: 20, Pegs: 10, Used: 7, Hangs: []sheet.Hang{
					{Section: "A.1", Pieces: 3, FirstPeg: 1, PegsEach: 1, HangMM: 800},
					{Section: "A.2", Pieces: 2, FirstPeg: 4, PegsEach: 2, HangMM: 700},
				}},
				{BarMM: 900, ClearMM: 770, PitchMM: 20, Pegs: 10},
			},
		}},
	}
	tubes := map[string]draw.Tube{"A.1": {LengthMM: 600, ButtMM: 12, TipMM: 4}, "A.2": {LengthMM: 700, ButtMM: 22, TipMM: 10}}
	picture := string(draw.Load("x", l, shop.Oven{ID: "low", Bays: 2, HeightMM: 1950}, tubes, unit.System{}))

	const plate, floor = 150.0, 150.0 + 1950
	wantBars := []float64{floor - 1800, floor - 900}
	if diff := cmp.Diff(wantBars, tops(t, picture)); diff != "" {
		t.Errorf("bars, down from the top (-want +got):\n%s", diff)
	}
	if got := strings.Count(picture, "v800"); got != 3 {
		t.Errorf("%d mandrels of 800 mm hang, want 3", got)
	}
	if got := strings.Count(picture, "h4l4 600h-12z"); got != 3 {
		t.Errorf("%d tubes 600 mm long, 4 mm at the tip and 12 at the butt, want 3", got)
	}
	if got := strings.Count(picture, "h10l6 700h-22z"); got != 2 {
		t.Errorf("%d tubes 700 mm long, want 2", got)
	}
	if !strings.Contains(picture, "empty bay") {
		t.Error("the bay that stays empty is not named")
	}
	golden(t, "load.svg", picture)
}

// tops returns where the bars' lower edges are.
func tops(t *testing.T, picture string) (out []float64) {
	t.Helper()
	for _, m := range regexp.MustCompile(`class="bar" x="[^"]*" y="([^"]*)" width="[^"]*" height="([^"]*)"`).FindAllStringSubmatch(picture, -1) {
		var y, high float64
		if _, err := fmt.Sscan(m[1]+" "+m[2], &y, &high); err != nil {
			t.Fatal(err)
		}
		out = append(out, y+high)
	}
	return out
}

func golden(t *testing.T, name, got string) {
	t.Helper()
	file := filepath.Join("testdata", name)
	if *update {
		if err := os.WriteFile(file, []byte(got), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), got); diff != "" {
		t.Errorf("%s (-want +got):\n%s", name, diff)
	}
}

// As many tubes are drawn as the plan hangs.
func TestLoad_EveryPiece(t *testing.T) {
	s, p := webtest.TernPoint(t)
	for _, l := range webtest.Day(t, s, p).Loads {
		picture := string(draw.Load("x", &l, ovenOf(s, l.Oven), draw.Tubes(s), unit.System{}))
		drawn := 0
		for _, m := range regexp.MustCompile(`class="mandrel" d="([^"]*)"`).FindAllStringSubmatch(picture, -1) {
			drawn += strings.Count(m[1], "M")
		}
		if drawn != l.Pieces {
			t.Errorf("load %s: %d mandrels drawn, want %d", l.ID, drawn, l.Pieces)
		}
	}
}

// Tasks that follow each other at once are one length of tape, cut across where
// the next begins; after a pause another length begins.
func TestStation_Lengths(t *testing.T) {
	d := &sheet.Day{Timezone: "UTC", From: shop.Instant{Minute: 0}, To: shop.Instant{Minute: 1440}}
	task := func(from, to int64) sheet.Task {
		return sheet.Task{Load: "L1", Pieces: 4, Start: shop.Instant{Minute: from}, End: shop.Instant{Minute: to}}
	}
	d.Stations = []sheet.Station{{Stage: shop.Roll, Positions: []sheet.Position{
		{Number: 1, Tasks: []sheet.Task{task(0, 60), task(60, 180), task(240, 300)}},
	}}}
	picture := string(draw.Station("x", d, draw.StretchOf(d), &d.Stations[0]))
	// 888 pixels for 300 minutes, from 64 on.
	const want = `d="M69 33H596.8l-5 24H64zM244.1 33l-5 24M779.4 33H952l-5 24H774.4z"`
	if !strings.Contains(picture, want) {
		t.Errorf("no path %s in\n%s", want, picture)
	}
	if !strings.Contains(picture, "load L1: 3 tasks, 12 pieces") {
		t.Error("the lengths do not say what they carry")
	}
}

// The sections of a load differ by letter, and the first twelve by form, too.
func TestMarksOf(t *testing.T) {
	l := &sheet.Load{Racks: []sheet.Rack{{Levels: []sheet.Level{{}}}}}
	for n := range 120 {
		l.Racks[0].Levels[0].Hangs = append(l.Racks[0].Levels[0].Hangs, sheet.Hang{Section: fmt.Sprint(n)})
	}
	marks := draw.MarksOf(l)
	letters, windings := map[string]bool{}, map[int]bool{}
	for n := range 120 {
		letters[marks[fmt.Sprint(n)].Letter] = true
	}
	for n := range draw.Windings {
		windings[marks[fmt.Sprint(n)].Winding] = true
	}
	if len(letters) != 120 || len(windings) != draw.Windings {
		t.Errorf("%d letters for 120 sections, %d windings for the first %d", len(letters), len(windings), draw.Windings)
	}
}

// A tube is as long as its longest flag, and thinner at the tip as that flag is
// narrower there, but never thinner than can be seen.
func TestTubeOf(t *testing.T) {
	tests := []struct {
		name  string
		flags []shop.Flag
		want  draw.Tube
	}{
		{"tapered", []shop.Flag{{LengthMM: 500, ButtMM: 9, TipMM: 9}, {LengthMM: 1000, ButtMM: 100, TipMM: 40}}, draw.Tube{LengthMM: 1000, ButtMM: 10, TipMM: 4}},
		{"straight", []shop.Flag{{LengthMM: 1000, ButtMM: 50, TipMM: 50}}, draw.Tube{LengthMM: 1000, ButtMM: 10, TipMM: 10}},
		{"to a point", []shop.Flag{{LengthMM: 1000, ButtMM: 50}}, draw.Tube{LengthMM: 1000, ButtMM: 10, TipMM: 1.5}},
	}
	for _, test := range tests {
		if got := draw.TubeOf(&shop.Section{ODMM: 10, Flags: test.flags}); got != test.want {
			t.Errorf("%s: %+v, want %+v", test.name, got, test.want)
		}
	}
}

// The curve passes the profile's corners at the minutes that rule R2 counts:
// 100 K at 2 °C/min, 60 min of soak, 20 min of lag, 70 K of cooling at 3.5.
func TestCurve_Corners(t *testing.T) {
	profile := shop.Profile{ID: "P", Segments: []shop.Segment{{RampCPerMin: 2, ToC: 120, SoakMinutes: 60}}, CoolCPerMin: 3.5, CoolToC: 50}
	picture := string(draw.Curve{ID: "c", Profile: profile, AmbientC: 20, LagMin: 20}.Draw())
	want := strings.ReplaceAll("Minutes and temperatures: 0: 20 °C; 50: 120 °C; 110: 120 °C; 130: 120 °C; 150: 50 °C.", " °", "\u00a0°")
	if !strings.Contains(picture, want) {
		t.Errorf("the description lacks %q:\n%s", want, picture)
	}
	if strings.Contains(string(draw.Curve{ID: "c", Profile: shop.Profile{Segments: []shop.Segment{{}}}}.Draw()), "NaN") {
		t.Error("a profile without rates draws nonsense")
	}
}

// A code's dark modules are those of the library's code, and what a reader
// could take for something else is refused.
func TestCodes(t *testing.T) {
	for _, code := range []func(string, string) (draw.Picture, error){draw.Stripes, draw.Square} {
		picture, err := code("c", "L002")
		if err != nil {
			t.Fatal(err)
		}
		for _, problem := range problems(string(picture)) {
			t.Error(problem)
		}
		for _, text := range []string{"", "Ø12", "a\nb"} {
			if _, err := code("c", text); !errors.Is(err, draw.ErrNotASCII) {
				t.Errorf("%q: %v, want it refused", text, err)
			}
		}
	}
	picture, _ := draw.Stripes("c", "A")
	// Start B, "A" (33), check character (104+33) mod 103 = 34, stop: the bars
	// and spaces of ISO/IEC 15417, each the modules that it is wide.
	const want = "211214" + "111323" + "131123" + "2331112"
	if got := widths(string(picture)); got != want {
		t.Errorf("bars and spaces %s, want %s", got, want)
	}
}

// widths reads the bars and spaces of a Code 128 back from its path.
func widths(picture string) string {
	out, at := "", 10
	for _, m := range regexp.MustCompile(`M(\d+) 2h(\d+)v40`).FindAllStringSubmatch(picture, -1) {
		var x, wide int
		_, _ = fmt.Sscan(m[1]+" "+m[2], &x, &wide)
		if x > at {
			out += fmt.Sprint(x - at)
		}
		out += fmt.Sprint(wide)
		at = x + wide
	}
	return out
}

// A strip stands what is missing on what is ready, to one scale, and says the worst
// day in words.
func TestStrip(t *testing.T) {
	day := shop.Date(20800)
	short := string(draw.Strip("x", "M1", []draw.NeedDay{{Date: day, Need: 4, Ready: 6}, {Date: day + 1, Need: 13, Ready: 6}, {Date: day + 2, Need: 9, Ready: 6}}))
	for _, want := range []string{
		"In 3 days, most on " + (day + 1).String() + ": 13 needed, 6 ready.",
		`class="needed" d="M2 30h9v-8h-9zM15 30h9v-12h-9zM28 30h9v-12h-9z"`,
		`class="short" d="M15 18h9v-14h-9zM28 18h9v-6h-9z"`,
		`class="level" d="M0 18h13M13 18h13M26 18h13"`,
	} {
		if !strings.Contains(short, want) {
			t.Errorf("the strip has no %s:\n%s", want, short)
		}
	}
	if enough := string(draw.Strip("x", "M1", []draw.NeedDay{{Date: day, Need: 6, Ready: 6}})); strings.Contains(enough, "short") {
		t.Errorf("something is missing where it is not:\n%s", enough)
	}
}
