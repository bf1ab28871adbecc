package web_test

import (
	"bytes"
	"context"
	"errors"
	"flag"
	"fmt"
	"net/http/httptest"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"blankwright/api"
	"blankwright/api/apitest"
	"blankwright/api/web/webtest"
	"blankwright/scheduler/shop"
	"blankwright/scheduler/thorough"
	"blankwright/store"
)

var shots = flag.String("shots", "", "put pictures of every page into this folder")

// inCI says that nothing may be left out.
func inCI() bool { return os.Getenv("CI") == "true" }

// chromium finds the browser, for a thorough run or to take pictures; a test that
// lacks it is left out, but not where CI=true.
func chromium(t *testing.T) string {
	t.Helper()
	if *shots == "" && thorough.Of(true, false) {
		t.Skip("left to a thorough run; the same walks without script are not")
	}
	for _, name := range []string{"chromium", "chromium-browser"} {
		if path, err := exec.LookPath(name); err == nil {
			return path
		}
	}
	if inCI() {
		t.Fatal("there is no chromium, and with CI=true nothing is left out")
	}
	t.Skip("there is no chromium")
	return ""
}

// axeScript is the accessibility check, from npm: see .ci/axe.
func axeScript(t *testing.T) string {
	t.Helper()
	_, here, _, _ := runtime.Caller(0)
	file := filepath.Join(filepath.Dir(here), "..", "..", ".ci", "axe", "node_modules", "axe-core", "axe.min.js")
	text, err := os.ReadFile(file)
	if err != nil && inCI() {
		t.Fatal(err)
	}
	if err != nil {
		t.Skip("axe-core is not there: npm ci in .ci/axe")
	}
	return string(text)
}

// A tab is a page in a real browser, and the server behind it.
type tab struct {
	t      *testing.T
	ctx    context.Context
	server *httptest.Server
	house  *apitest.House
}

// patience is how long a tab waits for anything: a busy machine is slow.
const patience = 90 * time.Second

// browse opens a browser on the demo's books, served to everybody. What its
// console complains of fails the test.
func browse(t *testing.T) *tab {
	t.Helper()
	path := chromium(t)
	s, _ := webtest.TernPoint(t)
	h := apitest.Open(t, func(c *api.Config) { c.Open = true })
	h.Clock.Set(s.Now.Time())
	if err := h.Books.Import(store.WithActor(t.Context(), "demo"), s.Encode()); err != nil {
		t.Fatal(err)
	}
	if _, err := h.Books.PutDealer(t.Context(), "gull", store.DealerTerms{Name: "Gull Tackle (invented)", Weight: 1}, store.MustBeNew); err != nil {
		t.Fatal(err)
	}
	server := httptest.NewServer(h.Server)
	t.Cleanup(server.Close)
	options := append(chromedp.DefaultExecAllocatorOptions[:],
		chromedp.ExecPath(path), chromedp.UserDataDir(t.TempDir()), chromedp.WindowSize(1280, 900),
		chromedp.Flag("disable-gpu", true), chromedp.Flag("disable-quic", true), chromedp.Flag("disable-component-update", true))
	if os.Geteuid() == 0 {
		options = append(options, chromedp.NoSandbox)
	}
	allocated, stop := chromedp.NewExecAllocator(context.Background(), options...)
	ctx, cancel := chromedp.NewContext(allocated)
	t.Cleanup(func() { cancel(); stop() })
	v := &tab{t: t, ctx: ctx, server: server, house: h}
	if err := chromedp.Do(ctx); err != nil {
		t.Fatal(err)
	}
	v.heed()
	return v
}

// heed fails the test with what the console complains of.
func (v *tab) heed() {
	go func() {
		for m, err := range chromedp.Console(v.ctx) {
			if err != nil {
				return
			}
			if bad := m.Type == chromedp.ConsoleError || m.IsException(); bad && !strings.Contains(m.Text, "favicon") && !strings.Contains(m.Text, "status of 4") {
				v.t.Errorf("the console says: %s (%s)", m.Text, m.URL)
			}
		}
	}()
}

func (v *tab) do(steps ...chromedp.Action[chromedp.Void]) {
	v.t.Helper()
	ctx, cancel := context.WithTimeout(v.ctx, patience)
	defer cancel()
	if err := chromedp.Do(ctx, steps...); err != nil {
		v.t.Fatalf("%v\n%s", err, v.words())
	}
}

func value[T any](v *tab, expression string) T {
	v.t.Helper()
	ctx, cancel := context.WithTimeout(v.ctx, patience)
	defer cancel()
	out, err := chromedp.Run(ctx, chromedp.Evaluate[T](expression))
	if err != nil {
		v.t.Fatalf("%s: %v", expression, err)
	}
	return out
}

func (v *tab) open(address string) *tab {
	v.t.Helper()
	v.do(chromedp.Navigate(v.server.URL + address))
	return v
}

// words is what there is to read in the page's middle.
func (v *tab) words() string {
	ctx, cancel := context.WithTimeout(v.ctx, patience)
	defer cancel()
	text, err := chromedp.Run(ctx, chromedp.Evaluate[string](`document.querySelector("main")?.innerText ?? ""`))
	if err != nil {
		return err.Error()
	}
	return text
}

// until waits until something holds in the page, across navigations.
func (v *tab) until(what, expression string) *tab {
	v.t.Helper()
	ctx, cancel := context.WithTimeout(v.ctx, patience)
	defer cancel()
	tick := time.NewTicker(40 * time.Millisecond)
	defer tick.Stop()
	for {
		yes, err := chromedp.Run(ctx, chromedp.Evaluate[bool]("Boolean("+expression+")"))
		if err == nil && yes {
			return v
		}
		select {
		case <-ctx.Done():
			v.t.Fatalf("%s does not come: %v\n%s", what, errors.Join(err, ctx.Err()), v.words())
		case <-tick.C:
		}
	}
}

// says waits for the page to say some words.
func (v *tab) says(words ...string) *tab {
	v.t.Helper()
	for _, w := range words {
		v.until(fmt.Sprintf("%q", w), fmt.Sprintf(`document.readyState === "complete" && document.querySelector("main").innerText.includes(%q)`, w))
	}
	return v
}

// press clicks the first button or link with some words, and waits for the page
// that it leads to.
func (v *tab) press(words string) *tab {
	v.t.Helper()
	v.until("button "+words, fmt.Sprintf(`[...document.querySelectorAll("main button, main a.button, main summary, main a")].some(b => b.innerText.includes(%q))`, words))
	leads := value[bool](v, fmt.Sprintf(`(() => { window.here = true; const b = [...document.querySelectorAll("main button, main a.button, main summary, main a")].find(b => b.innerText.includes(%q)); b.scrollIntoView(); b.click(); return b.tagName !== "SUMMARY" && !b.hasAttribute("data-copy") && !b.hasAttribute("data-print"); })()`, words))
	if leads {
		v.until("the page behind "+words, `!window.here && document.readyState === "complete"`)
	}
	return v
}

// fill types into an input by its label or name.
func (v *tab) fill(css, text string) *tab {
	v.t.Helper()
	v.do(chromedp.SetValue(chromedp.CSS(css), text))
	return v
}

// A real browser, with script: the walks of each role, as they are made by hand.
func TestBrowser_Walks(t *testing.T) {
	v := browse(t)
	v.open("/").says("There is no plan yet").press("Plan now").says("What needs eyes")
	v.open("/day").press("Release").says("They are in the stations' queues")
	v.press("Print this day").press("Cure tickets").says("Cure ticket, load", "loaded by", "Class A")
	if !value[bool](v, `document.querySelector("[data-print]") && !document.querySelector("[data-print]").hidden`) {
		t.Error("the print button stays hidden with script")
	}

	v.open("/orders/new").fill(`[name="dealer"]`, "gull").fill(`[name="id"]`, "B-1").fill(`[name="lines[0].product"]`, "SUN-11L")
	v.fill(`[name="lines[0].quantity"]`, "2").fill(`[name="lines[0].due"]`, "2026-12-20").press("See its dates first").says("Nothing is entered yet")
	v.press("Enter the order").says("Order B-1", "2 × SUN-11L").press("Change line B-1/1").fill(`form[action="/lines/B-1%2F1"] [name="quantity"]`, "5").press("Change the line").says("5 × SUN-11L")

	v.open("/orders").until("the stream of events", `document.querySelector("[data-watching]")`)
	if _, err := v.house.Books.PutDealer(t.Context(), "cove", store.DealerTerms{Name: "Cove (invented)", Weight: 1}, store.MustBeNew); err != nil {
		t.Fatal(err)
	}
	due := shop.Date(20810)
	if _, err := v.house.Books.EnterOrder(t.Context(), store.NewOrder{ID: "B-2", OrderTerms: store.OrderTerms{Dealer: "cove"}, Lines: []store.LineTerms{{Product: "SUN-11L", Quantity: 1, Due: due}}}); err != nil {
		t.Fatal(err)
	}
	v.until("word of the change", `!document.querySelector("[data-watch]").hidden`)

	v.open("/crib/pick").press("Issue ").says("issue to a load")
	out, err := v.house.Books.Mandrels(t.Context(), store.MandrelFilter{Place: "issued"})
	if err != nil || len(out) == 0 {
		t.Fatalf("%d mandrels are issued: %v", len(out), err)
	}
	v.fill(`[name="move"]`, "return").fill(`[name="ids"]`, out[0].ID+"\n"+out[1].ID).fill(`[name="remark"]`, "one is bent")
	if counted := value[string](v, `(() => { const ids = document.querySelector('[name="ids"]'); ids.dispatchEvent(new Event("input")); return ids.form.querySelector("button").textContent; })()`); counted != "Move 2" {
		t.Errorf("of two scanned mandrels the button says %q", counted)
	}
	v.press("Move").says("2 mandrels: return from a load")

	v.house.Clock.Set(time.Date(2026, 11, 27, 10, 45, 0, 0, time.UTC))
	v.open("/floor").press("cut 1").says("Next, planned").press("Begun").says("Being worked").press("Done, all")
	v.says("Written down: done, ").press("Begun").says("Being worked").press("Some were scrapped")
	good := value[int](v, `Number(document.querySelector("#good").value)`)
	v.fill("#good", fmt.Sprint(good-1)).fill("#scrap-1", "1").fill("#reason-1", "wrong flag").press("Done, with scrap").says("1 scrapped")

	v.open("/catalog/profile/cool%2094").fill(`[name="segments[0].soak_minutes"]`, "1").fill(`[name="segments[1].soak_minutes"]`, "1")
	v.press("Save").says("no oven runs a profile that cures it")
}

// pagesOf are the pages to look at, once the books have a plan, released work
// and some reports.
func (v *tab) pagesOf() map[string]string {
	v.t.Helper()
	v.open("/day").press("Plan now").says("What needs eyes").open("/day").press("Release").says("in the stations' queues")
	v.open("/plans").press("Plan now").says("against plan 1")
	v.open("/orders/new").fill(`[name="dealer"]`, "gull").fill(`[name="lines[0].product"]`, "BAW-70X").fill(`[name="lines[0].quantity"]`, "8")
	v.fill(`[name="lines[0].due"]`, "2026-12-10").press("See its dates first").says("Nothing is entered yet")
	quote := value[string](v, `location.pathname + location.search`)
	v.open("/crib/pick").press("Issue ").says("issue to a load")
	v.house.Clock.Set(time.Date(2026, 11, 27, 10, 45, 0, 0, time.UTC))
	v.open("/floor").press("cut 1").press("Begun").says("Being worked").press("Some were scrapped").fill("#good", "0")
	loads, err := v.house.Books.FloorLoads(v.t.Context())
	if err != nil || len(loads) == 0 {
		v.t.Fatalf("%d loads are released: %v", len(loads), err)
	}
	load := loads[len(loads)-1].Planned
	v.shelve()
	scanned := fmt.Sprintf("/floor/scan?stage=cut&position=1&code=%s", url.QueryEscape(load.ID))
	return map[string]string{
		"quote": quote, "queue-scanned": scanned,
		"day": "/day", "eyes": "/eyes", "late": "/plans/show/2/late", "plans": "/plans", "compare": "/plans/compare?from=1&to=2", "orders": "/orders", "order": "/orders/show/GULL-1041",
		"order-new": "/orders/new", "stock": "/stock", "shelf": "/stock/SUN-11L", "claims": "/claims", "claim-new": "/claims/new", "claim": "/claims/show/C-00001", "wraps": "/wraps", "shipments": "/shipments", "mandrel-new": "/crib/mandrels/ST-168%2F99", "wrap-recipe": "/wraps/SUN-11L.1", "queue-wrap": "/floor/at/wrap/1", "crib": "/crib", "crib-type": "/crib/types/ST-168", "crib-mandrel": "/crib/mandrels/ST-168%2F01",
		"crib-roll": "/crib/rolls/TP-C01", "crib-pick": "/crib/pick", "floor": "/floor", "queue": "/floor/at/cut/1", "queue-tack": "/floor/at/tack/1",
		"oven": "/floor/oven/" + load.Oven, "load": "/floor/loads/" + load.ID, "task": "/floor/tasks/1", "catalog": "/catalog", "kind": "/catalog/oven", "dealers": "/dealers", "dealer": "/dealers/+", "tick": "/tick", "tokens": "/tokens", "token": "/tokens/new", "password": "/password", "accounts": "/accounts", "account": "/accounts/+", "enter-roll": "/crib/enter/roll",
		"profile": "/catalog/profile/shared%20124", "product": "/catalog/product/SUN-11L", "calendar": "/catalog/calendar/day", "new-oven": "/catalog/oven/+",
		"history": "/history", "sign-in": "/sign-in", "missing": "/floor/loads/none", "prints": "/print/day/2/2026-11-27", "cut": "/print/day/2/2026-11-27?only=cut",
		"roll": "/print/day/2/2026-11-27?only=roll", "wrap": "/print/day/2/2026-11-27?only=wrap", "racks": "/print/day/2/2026-11-27?only=racks", "cure": "/print/day/2/2026-11-27?only=cure",
		"pick": "/print/day/2/2026-11-27?only=pick", "packing": "/print/orders/GULL-1041", "pick-list": "/print/pick",
	}
}

// shelve puts a level, stock, restock, a claim, a hold, a token, a tick and wrap recipes
// into the books.
func (v *tab) shelve() {
	v.t.Helper()
	ctx := store.WithActor(v.t.Context(), "demo")
	due := shop.DateOf(v.house.Clock.Now()) + 20
	_, level := v.house.Books.PutLevel(ctx, "SUN-11L", store.LevelTerms{Sets: 4, Days: 14, Weight: 1}, store.MustBeNew)
	_, move := v.house.Books.MoveStock(ctx, "SUN-11L", 3, store.StockCounted, "behind the door")
	_, restock := v.house.Books.EnterRestock(ctx, store.LineTerms{Product: "SUN-11L", Quantity: 2, Due: due})
	_, claim := v.house.Books.EnterClaim(ctx, store.NewClaim{Product: "SUN-11L", Sold: due - 400, Failed: due - 25, Reason: "split above the ferrule"})
	_, token := v.house.Books.AddToken(ctx, store.Token{Name: "price list", Roles: []string{"viewer"}, Ends: v.house.Clock.Now().AddDate(0, 0, 90), Hash: "x"})
	recipes, read := v.house.Books.WrapRecipes(ctx)
	for _, r := range recipes[1:] {
		_, err := v.house.Books.SetWrapRecipe(ctx, r.Section, store.WrapTerms{PitchMM: 2, TensionN: 30, Passes: 1}, 0)
		read = errors.Join(read, err)
	}
	until := due - 10
	_, held := v.house.Books.HoldLine(ctx, "GULL-1041/2", store.Hold{Why: "the dealer's store is full", Until: &until}, 0)
	_, sent := v.house.Books.Ship(ctx, []store.Parcel{{Line: "GULL-1041/1", Sets: 1}}, "by van")
	_, wrong := v.house.Books.Ship(ctx, []store.Parcel{{Line: "GULL-1041/1", Sets: 1}}, "")
	_, back := v.house.Books.TakeBackShipment(ctx, 2, "it was another order's")
	_, entered := v.house.Books.AddMandrel(ctx, store.NewMandrel{ID: "ST-168/99", Type: "ST-168"})
	ticked := v.house.Clock.Now().Add(-16 * time.Hour)
	_, begun := v.house.Books.BeginTick(ctx, ticked)
	ended := v.house.Books.EndTick(ctx, ticked, 1, "")
	if err := errors.Join(sent, wrong, back, entered, read, held, level, move, restock, claim, token, begun, ended); err != nil {
		v.t.Fatal(err)
	}
}

// Pictures of every page, wide and narrow, in either light, and of every print on
// A4 and on Letter, for a person to look at:
// go test ./api/web -run Shots -shots FOLDER. Those that begin with readme are
// what the README shows.
func TestBrowser_Shots(t *testing.T) {
	if *shots == "" {
		t.Skip("no -shots FOLDER")
	}
	if err := os.MkdirAll(*shots, 0o755); err != nil {
		t.Fatal(err)
	}
	v := browse(t)
	for name, address := range v.pagesOf() {
		if high, ok := map[string]int64{"day": 860, "queue-tack": 800, "profile": 560}[name]; ok {
			v.do(chromedp.EmulateViewport(1200, high))
			v.open(address)
			value[chromedp.Void](v, `document.documentElement.style.scrollBehavior = "auto"; document.querySelector("#loads")?.scrollIntoView()`)
			v.keep("readme-"+name+".png", shot(v, chromedp.CaptureScreenshot()))
		}
		for size, wide := range map[string]int64{"wide": 1280, "narrow": 360} {
			v.do(chromedp.EmulateViewport(wide, 900))
			v.open(address)
			v.keep(name+"-"+size+".png", shot(v, chromedp.FullScreenshot(100)))
			if !strings.HasPrefix(address, "/print") { // paper is white
				value[chromedp.Void](v, `document.documentElement.dataset.theme = "dark"`)
				v.keep(name+"-"+size+"-dark.png", shot(v, chromedp.FullScreenshot(100)))
			}
		}
		if strings.HasPrefix(address, "/print") {
			v.keep(name+"-a4.pdf", shot(v, chromedp.PrintToPDF(chromedp.PDFPaper(chromedp.PaperA4))))
			v.keep(name+"-letter.pdf", shot(v, chromedp.PrintToPDF(chromedp.PDFPaper(chromedp.PaperLetter))))
		}
	}
}

func shot(v *tab, of chromedp.Action[[]byte]) []byte {
	v.t.Helper()
	out, err := chromedp.Run(v.ctx, of)
	if err != nil {
		v.t.Fatal(err)
	}
	return out
}

func (v *tab) keep(name string, content []byte) {
	v.t.Helper()
	if err := os.WriteFile(filepath.Join(*shots, name), content, 0o600); err != nil {
		v.t.Fatal(err)
	}
}

// small names what there is to touch in the page's middle that is lower than 44
// pixels.
func (v *tab) small() string {
	v.t.Helper()
	return value[string](v, `[...document.querySelectorAll("main a, main button, main summary, main input, main select")].filter(e => e.checkVisibility() && e.type !== "hidden" && e.getBoundingClientRect().height < 43.9).map(e => e.tagName + " " + (e.innerText || e.name) + " " + e.getBoundingClientRect().height).slice(0, 5).join("; ")`)
}

// No page has anything that the accessibility rules of axe-core find fault
// with, in either light. Of the dark, which differs in colours alone, only the rules
// that look at colours are asked.
func TestBrowser_Axe(t *testing.T) {
	script := axeScript(t)
	v := browse(t)
	for name, address := range v.pagesOf() {
		v.open(address)
		if small := v.small(); strings.HasPrefix(address, "/floor") && small != "" {
			t.Errorf("%s: too small for a gloved hand: %s", name, small)
		}
		value[chromedp.Void](v, script)
		for _, found := range v.axe(``) {
			t.Errorf("%s: %s", name, found)
		}
		if !strings.HasPrefix(address, "/print") { // paper is white
			value[chromedp.Void](v, `document.documentElement.dataset.theme = "dark"`)
			for _, found := range v.axe(`runOnly: {type: "rule", values: ["color-contrast", "link-in-text-block"]}`) { //nolint:misspell // axe-core names its rules so
				t.Errorf("%s, in the dark: %s", name, found)
			}
		}
		for _, width := range []int64{1280, 320} {
			v.do(chromedp.EmulateViewport(width, 800))
			if wide := value[int](v, `document.documentElement.scrollWidth - document.documentElement.clientWidth`); wide > 0 {
				t.Errorf("%s is %d pixels wider than a window of %d: %s", name, wide, width, value[string](v, widest))
			}
		}
		v.do(chromedp.EmulateViewport(1280, 900))
		if name == "racks" {
			v.onOneSheetEach()
		}
	}
}

// onOneSheetEach holds each leaf of the print to one sheet of either paper.
func (v *tab) onOneSheetEach() {
	v.t.Helper()
	leaves := value[int](v, `document.querySelectorAll(".leaf").length`)
	for name, paper := range map[string]chromedp.PDFOption{"A4": chromedp.PDFPaper(chromedp.PaperA4), "Letter": chromedp.PDFPaper(chromedp.PaperLetter)} {
		pdf := shot(v, chromedp.PrintToPDF(paper))
		if sheets := bytes.Count(pdf, []byte("/Type /Page\n")); leaves == 0 || sheets != leaves {
			v.t.Errorf("%d rack maps take %d sheets of %s", leaves, sheets, name)
		}
	}
}

// widest names what sticks out of the window.
const widest = `[...document.querySelectorAll("main *")].filter(e => !e.closest(".scroll *") && e.getBoundingClientRect().right > document.documentElement.clientWidth + 1).slice(0, 4).map(e => e.tagName + "." + (e.getAttribute("class") ?? "")).join(" ")`

// axe tells what is wrong with the page as it stands, by some of the rules.
func (v *tab) axe(rules string) []string {
	v.t.Helper()
	value[chromedp.Void](v, `window.found = null; axe.run(document, {resultTypes: ["violations"], `+rules+`}).then(r => { window.found = r.violations.flatMap(x => x.nodes.map(n => x.id + ": " + n.target.join(" ") + " " + n.failureSummary)); }, e => { window.found = [String(e)]; })`)
	v.until("what axe finds", `window.found !== null`)
	return value[[]string](v, `window.found`)
}
