package web_test

import (
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"testing"
	"time"

	"blankwright/api/access"
	"blankwright/api/apitest"
	"blankwright/api/web/webtest"
	"blankwright/scheduler/shop"
	"blankwright/store"
)

// yard opens books of the demo's shop, at its now.
func yard(t *testing.T) (*apitest.House, *shop.Shop) {
	t.Helper()
	s, _ := webtest.TernPoint(t)
	h := apitest.Open(t)
	h.Clock.Set(s.Now.Time())
	if err := h.Books.Import(store.WithActor(t.Context(), "ada"), s.Encode()); err != nil {
		t.Fatal(err)
	}
	return h, s
}

// plan has a plan made through the pages, and waits until it is there.
func (v *visitor) plan() *visitor {
	v.t.Helper()
	v.send("/plans", nil)
	return v.settle(func() bool { return strings.HasPrefix(v.at, "/runs/") })
}

// Each role's day, through forms alone: the planner plans, releases and prints;
// the crib issues and takes back; a station works its queue with scrap.
func TestWalk_Day(t *testing.T) {
	h, _ := yard(t)
	planner := visit(t, h, access.Planner)
	planner.open("/").must(http.StatusOK).says("There is no plan yet")
	planner.plan().says("What needs eyes", "Loads", "seen from the front", "What it costs", "It is proven that no plan costs less")
	released := planner.submit("/plans/1/release", map[string]string{"until": "2026-11-28T00:00"}).must(http.StatusOK).says("They are in the stations' queues", "Releases that are not finished")
	prints := visit(t, h, access.Station).open(released.link("Print this day")).must(http.StatusOK)
	for _, sheet := range []string{"Cut tickets", "Tack and roll sheets", "Wrap sheets", "Rack maps", "Cure tickets", "Mandrel pick list"} {
		prints.open(prints.link(sheet)).must(http.StatusOK)
		if strings.Contains(prints.words(), "nothing of this to print") {
			t.Errorf("%s are empty", sheet)
		}
		prints.says("licensed practice rule")
	}
	t.Run("crib", func(t *testing.T) { walkCrib(t, h) })
	t.Run("oven", func(t *testing.T) { walkOven(t, h) })
	t.Run("station", func(t *testing.T) { walkStation(t, h) })
	planner.plan().says("Plan 2 against plan 1")
}

func walkCrib(t *testing.T, h *apitest.House) {
	keeper := visit(t, h, access.Crib).open("/").must(http.StatusOK).says("Mandrel crib", "load TP-0412: 5", "need against ready")
	keeper.open(keeper.link("What to issue")).must(http.StatusOK).says("To issue, released work")
	keeper.submit("/crib", map[string]string{"id": firstOf(t, keeper)}).must(http.StatusOK).says("issue to a load")
	out, err := h.Books.Mandrels(t.Context(), store.MandrelFilter{Place: "issued"})
	if err != nil || len(out) == 0 {
		t.Fatalf("%d mandrels are issued: %v", len(out), err)
	}
	bent := out[len(out)-1].ID
	keeper.submit("/crib", map[string]string{"move": "return", "load": "", "ids": bent, "damaged": "true"}).must(http.StatusUnprocessableEntity).says("Remark", "is missing: it says what is wrong")
	keeper.submit("/crib", map[string]string{"move": "return", "load": "", "ids": bent, "damaged": "true", "remark": "bent"}).must(http.StatusOK)
	keeper.open("/crib/mandrels/"+url.PathEscape(bent)).must(http.StatusOK).says("quarantine", "bent", "History")
	keeper.submit("/crib/mandrels/"+url.PathEscape(bent), map[string]string{"move": "crib"}).must(http.StatusConflict).says("not possible", "possible:")
}

// firstOf is the first mandrel that the page proposes.
func firstOf(t *testing.T, v *visitor) string {
	t.Helper()
	form := find(v.page, func(n *node) bool { return n.Data == "form" && attribute(n, "action") == "/crib" })
	if form == nil {
		t.Fatalf("nothing is proposed:\n%s", v.words())
	}
	return held(form).Get("id")
}

func walkStation(t *testing.T, h *apitest.House) {
	h.Clock.Set(time.Date(2026, 11, 27, 10, 45, 0, 0, time.UTC)) // 07:15 at Tern Point
	bench := visit(t, h, access.Station).open("/").must(http.StatusOK).says("Stations", "cut 1 next 5 × STE-906.1", "strip 1 now 4 × TUR-50L.1")
	bench.open(bench.link("cut 1")).must(http.StatusOK).says("Next, planned", "Uncured epoxy", "pieces · load", "prepreg scrim 45", "at the butt")
	if strings.Contains(bench.words(), "tape film") {
		t.Error("the cut is told of a tape, which is the wrap's")
	}
	if words := bench.words(); strings.Index(words, "Uncured epoxy") > strings.Index(words, "The queue") {
		t.Error("the cautions stand below the queue, where nobody sees them")
	}
	queue := bench.at
	for n := range 3 {
		begin := find(bench.page, func(n *node) bool { return strings.HasSuffix(attribute(n, "action"), "/begun") })
		if begin == nil {
			t.Fatalf("round %d: nothing to begin:\n%s", n, bench.words())
		}
		task := strings.TrimSuffix(attribute(begin, "action"), "/begun")
		bench.submit(task+"/begun", nil).must(http.StatusOK).says("Being worked")
		h.Clock.Advance(5 * time.Minute)
		if n < 2 {
			bench.submit(task+"/done", nil).must(http.StatusOK)
			continue
		}
		good := held(find(bench.page, func(n *node) bool { return attribute(n, "action") == task+"/done" })).Get("good")
		bench.submit(task+"/done", map[string]string{"scrap": "1", "reason": "wrong flag", "good": good}).must(http.StatusUnprocessableEntity).says("Nothing was changed")
		bench.open(queue)
		bench.submit(task+"/done", map[string]string{"scrap": "1", "reason": "", "good": lessOne(t, good)}).must(http.StatusUnprocessableEntity).says("is no defect")
		typed := find(bench.page, func(n *node) bool { return attribute(n, "action") == task+"/done" })
		if typed == nil || held(typed).Get("scrap") != "1" || held(typed).Get("good") != lessOne(t, good) {
			t.Fatalf("what was typed is lost:\n%s", bench.words())
		}
		bench.submit(task+"/done", map[string]string{"reason": "wrong flag"}).must(http.StatusOK).says("Written down: done, ", "1 scrapped: wrong flag", "Done: 3")
		bench.open(task).must(http.StatusOK).says("1 scrapped, wrong flag")
		report := find(bench.page, func(n *node) bool {
			return strings.HasSuffix(attribute(n, "action"), "/correct") && held(n).Has("good")
		})
		bench.submit(attribute(report, "action"), map[string]string{"good": good, "why": "counted again"}).must(http.StatusOK).says("The report is corrected", "counted again")
	}
	visit(t, h, access.Viewer).open("/history").must(http.StatusOK).says("Load fill")
}

// A touch by mistake at an oven is taken back on the load's page, with the
// reason, and the load waits again.
func walkOven(t *testing.T, h *apitest.House) {
	h.Clock.Advance(time.Hour)
	loads, err := h.Books.FloorLoads(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	at := slices.IndexFunc(loads, func(l store.FloorLoad) bool { return l.WentIn && !l.CameOut })
	if at < 0 {
		t.Fatal("no load is in an oven")
	}
	load := loads[at].Planned
	tender := visit(t, h, access.Station).open("/floor/oven/" + load.Oven + "?date=" + shop.DateAt(load.In.Minute, time.UTC).String())
	tender.says("rack, level, pegs", load.Racks[0].Levels[0][0].Section)
	tender.submit("/floor/loads/"+load.ID+"/out", nil).must(http.StatusOK).says("Load " + load.ID + ": out")
	tender.open("/floor/loads/" + load.ID).must(http.StatusOK).says("What was reported of the oven")
	take := find(tender.page, func(n *node) bool { return strings.HasSuffix(attribute(n, "action"), "/correct") })
	if take == nil {
		t.Fatalf("nothing can be taken back:\n%s", tender.words())
	}
	values := held(take)
	values.Set("withdraw", "true")
	tender.send(attribute(take, "action"), values).must(http.StatusUnprocessableEntity).says("it says what was wrong")
	values.Set("why", "touched by mistake")
	tender.send(attribute(take, "action"), values).must(http.StatusOK).says("The report is corrected", "touched by mistake", "it never happened", load.Oven+": in the oven")
}

func lessOne(t *testing.T, good string) string {
	t.Helper()
	var n int
	for _, digit := range good {
		n = n*10 + int(digit-'0')
	}
	if n < 1 {
		t.Fatalf("%q good pieces leave none to scrap", good)
	}
	return string(rune('0'+(n-1)/10)) + string(rune('0'+(n-1)%10))
}

// What is printed of a released load bears the name that it was released under:
// its code leads the stations to it, not to another that once bore the plan's.
func TestWalk_Renamed(t *testing.T) {
	h, _ := yard(t)
	planner := visit(t, h, access.Planner).open("/").plan().open("/day")
	until := map[string]string{"until": "2026-11-28T00:00"}
	planner.submit("/plans/1/release", until).must(http.StatusOK)
	releases, err := h.Books.Releases(t.Context(), 0, 1)
	if err != nil || len(releases) == 0 {
		t.Fatal("nothing is released", err)
	}
	planner.submit(fmt.Sprintf("/releases/%d/undo", releases[0].ID), nil).must(http.StatusOK)
	planner.open("/day").submit("/plans/1/release", until).must(http.StatusOK)
	if releases, err = h.Books.Releases(t.Context(), 0, 1); err != nil {
		t.Fatal(err)
	}
	load := releases[0].Loads[0]
	l, err := h.Books.FloorLoad(t.Context(), load)
	if err != nil || l.Planned.ID != load {
		t.Fatalf("load %s is released as %s: %v", l.Planned.ID, load, err)
	}
	day := shop.DateAt(l.Planned.In.Minute, time.FixedZone("", -12600))
	planner.open(fmt.Sprintf("/print/day/1/%s?only=cure", day)).must(http.StatusOK).says("Cure ticket, load " + load)
	planner.open(fmt.Sprintf("/day?plan=1&date=%s", day)).must(http.StatusOK).says("Load " + load + " in ")
	planner.open("/floor/scan?code=" + load).must(http.StatusOK).says("Load " + load)
	walkScan(t, h, l)
}

// A station that scans a run is led to its own task of it, out of turn, and back to
// its queue once that is done.
func walkScan(t *testing.T, h *apitest.House, l store.FloorLoad) {
	h.Clock.Set(time.Date(2026, 11, 27, 15, 30, 0, 0, time.UTC)) // noon at Tern Point
	section := l.Tasks[slices.IndexFunc(l.Tasks, func(t store.Task) bool { return t.Stage == shop.Tack.String() })].Section
	cuts := slices.DeleteFunc(slices.Clone(l.Tasks), func(t store.Task) bool { return t.Stage != shop.Cut.String() || t.Section != section })
	first := cuts[0]
	code := url.QueryEscape(first.Load + " " + first.Section)
	bench := visit(t, h, access.Station).open("/floor/at/cut/1?date=2026-11-27").must(http.StatusOK).says("Next, planned")
	bench.open(fmt.Sprintf("/floor/scan?stage=cut&position=%d&code=%s", first.Position, code)).must(http.StatusOK)
	bench.says(fmt.Sprintf("cut %d", first.Position), "Scanned, planned", first.Section, "Back to the order of the queue")
	begin := find(bench.page, func(n *node) bool { return strings.HasSuffix(attribute(n, "action"), "/begun") })
	task := strings.TrimSuffix(attribute(begin, "action"), "/begun")
	if want := fmt.Sprintf("/floor/tasks/%d", first.ID); task != want {
		t.Errorf("the scan leads to %s, want %s", task, want)
	}
	bench.submit(task+"/begun", nil).must(http.StatusOK).says("Being worked", first.Section)
	h.Clock.Advance(5 * time.Minute)
	if bench.submit(task+"/done", nil).must(http.StatusOK); strings.Contains(bench.words(), "Scanned") {
		t.Error("what is done is still shown as scanned")
	}
	bench.open("/floor/scan?stage=shelf&position=1&code=" + code).must(http.StatusOK).says("Load " + first.Load + ", " + first.Section)
	bench.open("/floor/scan?stage=cut&position=1&code=nothing").must(http.StatusNotFound)
}

// What a planner changes and gets wrong is said at its fields, on the same page,
// all at once, and what was typed is still there.
func TestWalk_Change(t *testing.T) {
	h, _ := yard(t)
	planner := visit(t, h, access.Planner).open("/").plan().open("/day").must(http.StatusOK)
	if find(planner.page, func(n *node) bool {
		return n.Data == "option" && attribute(n, "value") == "GULL-1041/1" && attribute(n.Parent, "id") == "lines"
	}) == nil {
		t.Error("no lines are proposed to be changed")
	}
	for _, one := range []struct {
		action string
		typed  map[string]string
		says   []string
	}{
		{"/change/line", map[string]string{"line": "GULL-9", "due": "2026-02-30", "weight": "much"}, []string{`there is no line "GULL-9"`, `"2026-02-30" is no date`, `"much" is no number`}},
		{"/change/closure", map[string]string{"from": "tomorrow", "to": "2026-12-01T05:00", "why": "door seal"}, []string{"choose an oven", "is no local date and time"}},
		{"/change/closure", map[string]string{"resource": "oven:skerry", "from": "2026-12-01T07:00", "to": "2026-12-01T05:00"}, []string{"is not after 2026-12-01T07:00"}},
		{"/change/shift", map[string]string{"people": "two", "date": "28.11.2026", "from": "8", "to": "12:00"}, []string{"choose a crew", `"two" is no whole number`, `"28.11.2026" is no date`, "is no time of day"}},
		{"/change/shift", map[string]string{"crew": "benches", "people": "2", "date": "2026-11-28", "from": "12:00", "to": "08:00"}, []string{"is not after 12:00"}},
	} {
		planner.submit(one.action, one.typed).must(http.StatusUnprocessableEntity).says("Nothing was changed", "What needs eyes").says(one.says...)
		form := find(planner.page, func(n *node) bool { return attribute(n, "action") == one.action })
		for name, typed := range one.typed {
			if kept := held(form).Get(name); kept != typed {
				t.Errorf("%s: %s holds %q after %q was typed", one.action, name, kept, typed)
			}
		}
		if find(form, func(n *node) bool { return hasAttribute(n, "autofocus") }) == nil {
			t.Errorf("%s: the page does not open at what is wrong", one.action)
		}
	}
	planner.submit("/change/closure", map[string]string{"resource": "oven:skerry", "from": "2026-12-01T07:00", "to": "2026-12-01T12:00"}).must(http.StatusOK).says("is closed for that time")
}

// A shift opens what its people work at, so that they can; what others come by is
// left as it is, and that is said. A release that has begun is not offered to be
// undone.
func TestWalk_Shift(t *testing.T) {
	h, s := yard(t)
	planner := visit(t, h, access.Planner).open("/").plan().open("/day").must(http.StatusOK)
	planner.says("has begun") // the demo's books begin with work in the oven
	clock := func(text string) (c shop.Clock) {
		if err := c.UnmarshalText([]byte(text)); err != nil {
			t.Fatal(err)
		}
		return c
	}
	window := func(from, to string) shop.Window { return shop.Window{clock(from), clock(to)} }
	for _, one := range []struct {
		crew, date, from, to, open string
		says                       string
		calendar                   string
		want                       []shop.Window
	}{
		{"benches", "2026-12-05", "08:00", "12:00", "", "Calendar floor, by which some of what they work at is open, is closed for some of that time", "floor", nil},
		{"benches", "2026-12-05", "08:00", "12:00", "true", "The shift is there. For more people in it, change the crew in the catalog. Calendar floor is open then, too.", "floor", []shop.Window{window("08:00", "12:00")}},
		{"finishers", "2026-12-04", "11:00", "16:00", "true", "The shift is added. Calendar floor is open then, too.", "floor", []shop.Window{window("07:00", "16:00")}},
		{"benches", "2026-12-03", "13:00", "15:00", "true", "The shift is added. Plan again", "floor", []shop.Window{window("07:00", "11:30"), window("12:00", "15:30"), window("15:30", "18:00"), window("18:30", "21:30")}},
		{"oven watch", "2026-12-05", "21:00", "23:00", "true", "it was left as it is", "watch", []shop.Window{window("06:00", "22:00")}},
	} {
		var date shop.Date
		if err := date.UnmarshalText([]byte(one.date)); err != nil {
			t.Fatal(err)
		}
		planner.open("/day").submit("/change/shift", map[string]string{"crew": one.crew, "people": "2", "date": one.date, "from": one.from, "to": one.to, "open": one.open}).must(http.StatusOK).says(one.says)
		now, err := h.Books.Catalog(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		calendar := now.Calendars[one.calendar]
		if day := calendar.Day(date); !slices.Equal(day, one.want) {
			t.Errorf("%s is open on %s at %v, want %v", one.calendar, date, day, one.want)
		}
	}
	if now, err := h.Books.Catalog(t.Context()); err != nil || len(now.Crews[0].Shifts) != len(s.Crews[0].Shifts)+2 {
		t.Errorf("the benches have %d shifts, had %d: %v", len(now.Crews[0].Shifts), len(s.Crews[0].Shifts), err)
	}
}

// An order is entered, with what is wrong said at its field, looked at before it
// is saved, changed, and cancelled; who edits second is told, and nothing of his
// is written over.
func TestWalk_Order(t *testing.T) {
	h, s := yard(t)
	visit(t, h, access.Sales).open("/dealers/+").submit("/dealers/+", map[string]string{"id": "gull", "name": "Gull Tackle (invented)", "weight": "1"}).must(http.StatusOK).says("Gull Tackle")
	sales := visit(t, h, access.Sales).open("/").must(http.StatusOK).says("73 lines")
	sales.open("/orders?q=ICEP").says("ICEP-0301/1").open("/orders/new")
	sales.submit("/orders/new", map[string]string{"dealer": "gull", "lines[1].product": "NO-SUCH", "lines[1].quantity": "0", "lines[1].due": "2026-12-20"}).must(http.StatusUnprocessableEntity)
	for _, field := range []string{"lines[1].product", "lines[1].quantity"} {
		input := find(sales.page, func(n *node) bool { return attribute(n, "name") == field })
		if attribute(input, "aria-invalid") != "true" {
			t.Errorf("%s is not marked as wrong:\n%s", field, sales.words())
		}
	}
	fill := map[string]string{"lines[1].product": s.Products[0].ID, "lines[1].quantity": "3", "id": "G-1"}
	values := held(find(sales.page, func(n *node) bool { return attribute(n, "action") == "/orders/new" }))
	for name, value := range fill {
		values.Set(name, value)
	}
	values.Set("do", "quote")
	sales.send("/orders/new", values)
	sales.settle(func() bool { return strings.Contains(sales.text, "are being worked out") })
	sales.says("Nothing is entered yet", "Its dates, by plan", "difference")
	if strings.Contains(sales.words(), "no other line is late") {
		t.Error("the quote is compared with a plan that there is not")
	}
	sales.submit("/orders/new", nil).must(http.StatusOK).says("Order G-1", "Gull Tackle", "3 × "+s.Products[0].ID)
	second := visit(t, h, access.Sales).open(sales.at)
	sales.submit("/lines/G-1%2F1", map[string]string{"quantity": "4"}).must(http.StatusOK).says("4 × ")
	second.submit("/lines/G-1%2F1", map[string]string{"quantity": "9"}).must(http.StatusPreconditionFailed).says("Somebody has changed this", "4 × ")
	sales.open(sales.at).submit("/orders/show/G-1/ship", map[string]string{"parcels[0].sets": "9"}).must(http.StatusUnprocessableEntity)
	sales.submit("/orders/show/G-1/ship", map[string]string{"parcels[0].sets": "1"}).must(http.StatusOK).says("out of stock", "shipped 1")
	sales.submit("/orders/show/G-1/cancel", nil).must(http.StatusOK).says("is cancelled")
	sales.open("/orders/new").submit("/orders/new", map[string]string{"id": "G-2", "dealer": "gull", "lines[0].product": s.Products[0].ID, "lines[0].quantity": "2", "lines[0].due": "2026-12-20"})
	sales.must(http.StatusOK).submit("/orders/show/G-2/cancel", nil).must(http.StatusOK).says(": cancelled")
	sales.open("/orders.csv").must(http.StatusOK)
	if strings.Contains(sales.text, ",G-1,") || !strings.Contains(sales.text, "\nICEP-0301/1,ICEP-0301,") {
		t.Errorf("the list of open lines is not of the open lines:\n%s", sales.text)
	}
}

// A profile is changed so that a section no longer qualifies, and the page says
// so; what is no profile is refused at its field, and rows come and go without
// script.
func TestWalk_Catalog(t *testing.T) {
	h, _ := yard(t)
	v := visit(t, h, access.Planner).open("/catalog").must(http.StatusOK).says("Cure profiles")
	v.open("/catalog/profile").open(v.link("cool 94")).must(http.StatusOK).says("The cure against the resins' windows", "Cured:")
	address := v.at
	v.submit(address, map[string]string{"segments[0].ramp_c_per_min": "0"}).must(http.StatusUnprocessableEntity).says("It was not saved", "above 0")
	v.open(address)
	v.submit(address, map[string]string{"segments[0].soak_minutes": "1", "segments[1].soak_minutes": "1"}).must(http.StatusOK).says("Saved", "no oven runs a profile that cures it", "no segment soaks resin cool for long enough")
	second := visit(t, h, access.Planner).open(address)
	values := held(find(v.page, func(n *node) bool { return attribute(n, "action") == address }))
	values.Set("add", "segments")
	v.send(address, values).must(http.StatusOK)
	if find(v.page, func(n *node) bool { return attribute(n, "name") == "segments[2].to_c" }) == nil {
		t.Error("no row was added")
	}
	v.submit(address, map[string]string{"segments[2].ramp_c_per_min": "1", "segments[2].to_c": "94", "segments[2].soak_minutes": "600"}).must(http.StatusOK).says("Saved")
	second.submit(address, map[string]string{"rest_minutes": "5"}).must(http.StatusPreconditionFailed).says("Somebody has changed this")
	visit(t, h, access.Viewer).open(address).must(http.StatusOK)
	visit(t, h, access.Viewer).send(address, nil).must(http.StatusForbidden).says("your roles don't allow this")
}

// Who is not signed in is asked to, and then is where he wanted to go; a wrong
// password is said, and another site cannot be led to.
func TestSignIn(t *testing.T) {
	h, _ := yard(t)
	key := h.Server.Gate().FirstKey()
	v := visit(t, h)
	v.open("/orders").must(http.StatusUnauthorized).says("Sign in")
	v.open("/first?key=" + key).must(http.StatusOK)
	v.submit("/first", map[string]string{"name": "Ada", "password": "short"}).must(http.StatusUnprocessableEntity).says("12")
	v.submit("/first", map[string]string{"name": "Ada", "password": "wound with thread 7"}).must(http.StatusOK).says("There is no plan yet")
	other := visit(t, h)
	other.open("/crib").must(http.StatusUnauthorized)
	other.submit("/sign-in", map[string]string{"name": "Ada", "password": "no"}).must(http.StatusUnauthorized).says("no account has this name and password")
	other.submit("/sign-in", map[string]string{"name": "Ada", "password": "wound with thread 7"}).must(http.StatusOK)
	if other.at != "/crib" {
		t.Errorf("signing in led to %s", other.at)
	}
	for _, elsewhere := range []string{"https://elsewhere.invalid/", "//elsewhere.invalid", "/\\elsewhere.invalid", "javascript:1"} {
		answer := other.client.With("Content-Type", "application/x-www-form-urlencoded").Do(http.MethodPost, "/./view", url.Values{"back": {elsewhere}}.Encode())
		if got := answer.Header.Get("Location"); got != "/" {
			t.Errorf("%q leads to %q", elsewhere, got)
		}
	}
}

// Every page comes with the policy that lets nothing in from elsewhere.
func TestPolicy(t *testing.T) {
	h, _ := yard(t)
	for _, address := range []string{"/orders", "/no-such", "/day", "/catalog/oven/skerry", "/catalog/oven/none"} {
		v := visit(t, h, access.Planner).open(address)
		policy := v.header.Get("Content-Security-Policy")
		for _, word := range []string{"default-src 'self'", "base-uri 'none'", "form-action 'self'", "frame-ancestors 'none'"} {
			if !strings.Contains(policy, word) {
				t.Errorf("%s: the policy %q lacks %s", address, policy, word)
			}
		}
		if strings.Contains(policy, "unsafe") {
			t.Errorf("%s: the policy is %q", address, policy)
		}
	}
}

// Books in which nothing is yet have pages that say what to do, and a shop
// file fills them; one that is wrong fills nothing, and all of it is told.
func TestEmptyBooks(t *testing.T) {
	h := apitest.Open(t)
	v := visit(t, h, access.AllRoles()...)
	for _, address := range []string{"/day", "/plans", "/eyes", "/orders", "/orders/new", "/dealers", "/stock", "/claims", "/claims/new", "/wraps", "/tick", "/tokens", "/tokens/new", "/crib", "/crib/pick", "/floor", "/catalog", "/catalog/oven", "/catalog/oven/+", "/history", "/orders.csv", "/ship-dates.ics", "/accounts", "/import", "/print/pick"} {
		v.open(address).must(http.StatusOK)
	}
	v.open("/catalog").says("The books are empty")
	v.importFile("shop.json", []byte(`{"format": "blankwright/shop/1", "unheard": "x"}`)).must(http.StatusUnprocessableEntity).says("unheard")
	s, _ := webtest.TernPoint(t)
	h.Clock.Set(s.Now.Time())
	v.importFile("shop.json", s.Encode()).must(http.StatusOK).says("The books hold what the file states")
	v.importFile("shop.json", s.Encode()).must(http.StatusConflict)
}

// A person who asks for what is not there gets a page, a program a problem.
func TestMissing(t *testing.T) {
	h := apitest.Open(t)
	person := visit(t, h, access.Viewer)
	person.client = person.client.With("Accept", "text/html,*/*")
	person.open("/no-such-page").must(http.StatusNotFound).says("There is nothing at this address")
	if got := visit(t, h, access.Viewer).open("/no-such-page").header.Get("Content-Type"); got != "application/problem+json" {
		t.Errorf("a program gets %s", got)
	}
}

// A list of the catalog says what each thing is, in the measures of the reader.
func TestWalk_CatalogLists(t *testing.T) {
	h, _ := yard(t)
	reader := visit(t, h, access.Viewer)
	for kind, says := range map[string]string{
		"calendar": "Mon–Thu 15:30–21:30, 1 exception", "crew": "5 by day, 4 by evening", "station": "3 positions, open by floor, worked by benches",
		"oven": "2 bays, 2,700 mm high, 420 kg at most; shared 124", "rack": "pegs", "profile": "80 °C for 15 min, then 124 °C for 1 h 45",
		"resin": "soaks from 112 °C to 132 °C, bears 142 °C", "tape": "shrinks from 108 °C, bears 190 °C", "prepreg": "resin common, may lie cut for",
		"mandrel_type": "hangs 1,740 mm, weighs 0.41 kg", "product": "Sunker 11 ft light surf; 2 sections", "downtime": "oven:",
	} {
		reader.open("/catalog/"+kind).must(http.StatusOK).says("what it is", says)
	}
	reader.send("/view", url.Values{"lengths": {"inch"}, "degrees": {"f"}, "back": {"/catalog/oven"}}).says("106.3 in high")
	reader.open("/catalog/product/SUN-11L").must(http.StatusOK).says("1.18 in at the butt, 0.3 in at the tip")
}
