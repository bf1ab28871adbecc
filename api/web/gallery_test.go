package web_test

import (
	"encoding/json"
	"io"
	"os"
	"path/filepath"
	"testing"
	"time"

	"blankwright/api/runs"
	"blankwright/api/web"
	"blankwright/api/web/draw"
	"blankwright/api/web/webtest"
	"blankwright/scheduler/plan"
	"blankwright/scheduler/sheet"
	"blankwright/scheduler/shop"
	"blankwright/store"
)

// A renderer is any page.
type renderer interface{ Render(w io.Writer) error }

// gallery returns every page with something on it, by name.
func gallery(t testing.TB, s *shop.Shop, p *plan.Plan) map[string]renderer {
	t.Helper()
	view := viewOf(t, s, p)
	date, _ := sheet.Next(s, p)
	out := map[string]renderer{
		"day":          dayPage(t, view),
		"day-empty":    &web.DayPage{Frame: frame(s, "/day"), May: web.Planning{Plan: true}},
		"late":         &web.LatePage{Frame: frame(s, "/day"), Plan: 7, Late: view.Report.Late, All: 4},
		"eyes":         &web.EyesPage{Frame: frame(s, "/day"), Notices: []store.Notice{{ID: 1, Kind: "late", Text: "x" + poisonOf(s)}, {ID: 2, Kind: "tool", Text: "y", SeenAt: s.Now.Time(), SeenBy: "ada"}}, See: true},
		"form":         &web.FormPage{Frame: frame(s, "/crib"), Back: web.Option{Value: "/crib", Name: "Crib"}, Action: "/crib/enter/roll", Button: "Enter it", Note: "note" + poisonOf(s), Fields: []web.Field{{Name: "id", Label: "Number", Kind: "text", Required: true}, {Name: "on", Label: "On", Kind: "check", Value: "true"}}},
		"list":         &web.ListPage{Frame: frame(s, "/orders"), Head: []string{"id", "name"}, Rows: []web.ListRow{{Address: "/dealers/x", Cells: []string{"x" + poisonOf(s), "y"}}}, Add: "/dealers/+"},
		"stock":        &web.StockPage{Frame: frame(s, "/stock"), Rows: []web.StockRow{stockRow(s, view)}, Change: true},
		"shelf":        shelfPage(s, view),
		"claim":        claimPage(s, view),
		"tick":         tickPage(s),
		"tokens":       tokensPage(s),
		"plans":        &web.PlansPage{Frame: frame(s, "/day"), Plans: []store.Plan{*storedPlan(view), *storedPlan(view)}, May: web.Planning{Plan: true}},
		"compare":      comparePage(view),
		"run":          &web.RunPage{Frame: frame(s, "/day"), ID: 8, Progress: runs.Progress{Stage: runs.StagePlanning, Cost: 3600, Gap: 0.4, Iterations: 300, Of: 2000}, Ask: "/runs/8", Then: "/runs/8"},
		"orders":       ordersPage(s, view),
		"order":        orderPage(s, view),
		"order-new":    orderForm(s, view),
		"crib":         cribPage(s),
		"crib-type":    typePage(s, p, date),
		"crib-mandrel": mandrelPage(s),
		"crib-roll":    rollPage(s),
		"crib-pick":    &web.PickPage{Frame: frame(s, "/crib"), Name: "released work", Loads: pickLoads(s), Issue: "/crib", Prints: "/print/pick"},
		"floor":        floorPage(s, date),
		"queue":        queuePage(s, view, date),
		"queue-done":   &web.QueuePage{Frame: frame(s, "/floor"), Stage: shop.Roll, Position: 1, Date: date},
		"report":       &web.ReportPage{Frame: frame(s, "/floor"), Back: "/floor", Action: "/floor/tasks/1/done", Fields: []web.Field{{Name: "good", Label: "Good pieces", Kind: "number", Value: "x" + poisonOf(s), Problem: "is no number" + poisonOf(s), Focus: true}}},
		"oven":         ovenPage(t, view, date),
		"catalog":      catalogPage(s),
		"kind":         &web.CatalogPage{Frame: frame(s, "/catalog"), Kind: "profile", Name: "Cure profiles", Change: true, Things: []web.ThingRow{{ID: s.Profiles[0].ID, Says: "", Address: "/catalog/profile/x"}}},
		"thing":        thingPage(t, s),
		"history":      historyPage(s),
		"sign":         &web.SignPage{Frame: frame(s, ""), Action: "/sign-in", Button: "Sign in", Fields: []web.Field{{Name: "name", Label: "Name", Kind: "text", Required: true, Problem: "is missing" + poisonOf(s)}, {Name: "password", Label: "Password", Kind: "password"}}},
		"problem":      &web.ProblemPage{Frame: frame(s, ""), Status: 404, Text: "there is no plan 77" + poisonOf(s), ID: "abc"},
		"paper":        paper(view, date),
		"paper-order":  &web.PackingPaper{Frame: frame(s, ""), Order: web.OrderHead{ID: "GULL-1041" + poisonOf(s), Dealer: "Gull" + poisonOf(s), Note: "by the back door"}, Lines: lineRows(s, view)[:3], Date: date},
		"shipments":    shipmentsPage(s),
		"paper-pick":   &web.PickPaper{Frame: frame(s, ""), Loads: pickLoads(s)},
	}
	return out
}

func shipmentsPage(s *shop.Shop) *web.ShipmentsPage {
	sent := func(id int64) web.ShipmentRow {
		return web.ShipmentRow{
			Shipment: store.Shipment{ID: id, At: s.Now.Time(), Actor: "ada" + poisonOf(s), Note: "by van" + poisonOf(s)},
			Sent:     []web.SentRow{{Parcel: store.Parcel{Line: "GULL-1041/1" + poisonOf(s), Sets: 2}, Product: s.Products[0].ID, Address: "/orders/show/GULL-1041"}},
		}
	}
	stands, back := sent(2), sent(1)
	stands.TakeBack = web.ChangeForm{Title: "Take it back", Action: "/shipments/2/take-back", Button: "Take shipment 2 back", Fields: []web.Field{{Name: "why", Label: "Why", Kind: "text"}}}
	back.TakenBack = &store.TakenBack{At: s.Now.Time(), Actor: "ada", Why: "wrong box" + poisonOf(s)}
	return &web.ShipmentsPage{Frame: frame(s, "/orders"), Of: "order GULL-1041" + poisonOf(s), Back: web.Option{Value: "/orders", Name: "Orders"}, Rows: []web.ShipmentRow{stands, back}}
}

func frame(s *shop.Shop, here string) web.Frame {
	return web.Frame{
		Title: "Page", Here: here, Path: here, Shop: s.Name, Zone: s.Zone(), Who: "ada" + poisonOf(s),
		Tags: web.Tags(),
	}
}

// poisonOf is what a hostile shop adds to its names.
func poisonOf(s *shop.Shop) string {
	if len(s.Name) > len(webtest.Poison) && s.Name[len(s.Name)-len(webtest.Poison):] == webtest.Poison {
		return webtest.Poison
	}
	return ""
}

func viewOf(t testing.TB, s *shop.Shop, p *plan.Plan) *runs.View {
	t.Helper()
	v := &runs.View{ID: 7, Shop: s, Plan: p, Shippings: runs.Shippings(s, p)}
	text, err := os.ReadFile(filepath.Join("testdata", "report.json"))
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(text, &v.Report); err != nil {
		t.Fatal(err)
	}
	for i := range v.Report.Late {
		l := &v.Report.Late[i]
		l.Line += poisonOf(s)
		l.Product += poisonOf(s)
		for j := range l.Binds {
			l.Binds[j].What += poisonOf(s)
		}
	}
	return v
}

func storedPlan(v *runs.View) *store.Plan {
	return &store.Plan{
		ID: v.ID, Why: store.PlanByTick, State: store.PlanProposal, By: "tick", AskedAt: v.Shop.Now.Time(), EndedAt: v.Shop.Now.Time().Add(time.Minute),
		Figures: store.Figures{Now: v.Shop.Now.Time(), Cost: v.Plan.Cost, Bound: v.Plan.Bound, Loads: len(v.Plan.Loads), Late: len(v.Report.Late)},
	}
}

func dayPage(t testing.TB, v *runs.View) *web.DayPage {
	t.Helper()
	date, _ := sheet.Next(v.Shop, v.Plan)
	page := &web.DayPage{
		Frame: frame(v.Shop, "/day"), Plan: storedPlan(v), May: web.Planning{Plan: true, Release: true, Change: true, Hold: true},
		Eyes:     []store.Notice{{Kind: runs.NoticeLate, Subject: "x", Text: "Line ICEP-0301/1 ships 6 days late." + poisonOf(v.Shop)}, {Kind: runs.NoticeTool, Text: "Mandrel B-7 is due for inspection."}},
		Released: []web.ReleaseRow{{ID: 3, At: v.Shop.Now.Time(), By: "ada", Until: v.Shop.Now.Time(), Loads: 2}},
	}
	page.Show(v, date)
	held := lineRows(v.Shop, v)[3]
	held.Held = &store.Hold{Why: "waits for a deposit" + poisonOf(v.Shop), Until: &held.Due}
	page.Held = []web.OrderLine{{LineRow: held, Rev: 2, Lift: "/lines/x/lift"}}
	return page
}

func comparePage(v *runs.View) *web.ComparePage {
	before, after := storedPlan(v), storedPlan(v)
	after.ID++
	after.Cost.Late, after.Cost.Total = after.Cost.Late+20, after.Cost.Total+20
	later := *v.Plan
	later.Loads = append([]shop.Load(nil), v.Plan.Loads...)
	later.Loads[4].In.Minute += 30
	later.Allocations = v.Plan.Allocations[:len(v.Plan.Allocations)-6]
	return &web.ComparePage{Frame: frame(v.Shop, "/day"), Before: before, After: after, May: web.Planning{Release: true}, Difference: runs.Compare(v.Shop, v.Plan, v.Shop, &later)}
}

func lineRows(s *shop.Shop, v *runs.View) []web.LineRow {
	var out []web.LineRow
	for i, ship := range v.Shippings {
		row := web.LineRow{
			Line: ship.Line.ID, Order: ship.Line.Order, Dealer: "Gull Tackle (invented)" + poisonOf(s), Product: ship.Line.Product, ProductName: s.Products[0].Name,
			Kind: ship.Line.Kind, Sets: ship.Line.Quantity, Due: ship.Line.Due, Ship: ship.Ship, Unplanned: ship.Unplanned,
		}
		if i%3 == 0 {
			promised := ship.Line.Due
			row.Promised = &promised
		}
		out = append(out, row)
	}
	return out
}

func ordersPage(s *shop.Shop, v *runs.View) *web.OrdersPage {
	return &web.OrdersPage{Frame: frame(s, "/orders"), Query: poisonOf(s), Lines: lineRows(s, v), Plan: "plan 7", Change: true}
}

func lineFields() []web.Field {
	return []web.Field{
		{Name: "product", Label: "Product", Kind: "text", List: "products"},
		{Name: "quantity", Label: "Sets", Kind: "number", Least: "1"},
		{Name: "due", Label: "Due", Kind: "date", Problem: "is missing"},
		{Name: "weight", Label: "Weight", Kind: "number", Step: "any", Hint: "Empty: the dealer's."},
	}
}

func scoped(fields []web.Field, scope string) []web.Field {
	for i := range fields {
		fields[i].Scope = scope
	}
	return fields
}

func orderPage(s *shop.Shop, v *runs.View) *web.OrderPage {
	rows := lineRows(s, v)[:2]
	page := &web.OrderPage{Frame: frame(s, "/orders"), Order: web.OrderHead{ID: rows[0].Order, Dealer: rows[0].Dealer, Rev: 3, Note: "call before shipping"}, Change: true, Tell: "Order GULL-1041\n6 × SUN-11L: ships by Wed 2 Dec 2026" + poisonOf(s)}
	for i, r := range rows {
		if i == 1 {
			r.Held = &store.Hold{Why: "credit" + poisonOf(s)}
		}
		hold := web.ChangeForm{Title: "Hold it back", Action: "/lines/x/hold", Button: "Hold it back", Fields: scoped([]web.Field{{Name: "why", Label: "Why", Kind: "text"}}, "h"+string(rune('a'+i)))}
		page.Lines = append(page.Lines, web.OrderLine{LineRow: r, Rev: 2, Hold: hold, Lift: "/lines/x/lift", Form: web.ChangeForm{Action: "/lines/x", Button: "Change the line", Open: i == 0, Fields: scoped(lineFields(), string(rune('a'+i)))}})
	}
	page.Head = web.ChangeForm{Title: "Change the order", Action: "/orders/show/x", Button: "Change the order", Fields: scoped([]web.Field{{Name: "note", Label: "Note", Kind: "text"}}, "h")}
	page.Another = web.ChangeForm{Title: "Add a line", Action: "/orders/show/x/lines", Button: "Add the line", Fields: scoped(lineFields(), "n")}
	page.Products = []string{s.Products[0].ID}
	return page
}

func tickPage(s *shop.Shop) *web.TickPage {
	now := s.Now.Time()
	return &web.TickPage{
		Frame: frame(s, "/day"), Settings: store.TickSettings{On: true, At: 15 * 60, ReleaseDays: 1, Rev: 2}, Next: now.Add(time.Hour), Change: true,
		Form:  web.ChangeForm{Title: "When it is due", Action: "/tick", Button: "Save", Fields: []web.Field{{Name: "at", Label: "At", Kind: "time", Value: "15:00"}}},
		Ticks: []store.Tick{{Due: now, State: store.TickFailed, EndedAt: now, Plan: 3, Failure: "no oven is left" + poisonOf(s)}, {Due: now, State: store.TickRunning}},
	}
}

func tokensPage(s *shop.Shop) *web.TokensPage {
	now := s.Now.Time()
	token := store.Token{ID: "a", Name: "price list" + poisonOf(s), Roles: []string{"viewer"}, Ends: now.Add(time.Hour), MadeBy: "ada", MadeAt: now}
	return &web.TokensPage{Frame: frame(s, "/catalog"), Made: &web.MadeToken{Name: token.Name, Token: "bwt_X"}, Tokens: []web.TokenRow{{Token: token, Remove: "/tokens/a/remove"}, {Token: token, Remove: "/tokens/b/remove", Ended: true}}}
}

func stockRow(s *shop.Shop, v *runs.View) web.StockRow {
	id := s.Products[0].ID
	return web.StockRow{Holding: store.Holding{Product: id, OnHand: 7, Wanted: 4, Level: 5, Kept: 3, Short: 2}, Name: s.Products[0].Name, Address: "/stock/x", Restock: lineRows(s, v)[:1]}
}

func shelfPage(s *shop.Shop, v *runs.View) *web.ShelfPage {
	rows := lineRows(s, v)[:3]
	page := &web.ShelfPage{
		Frame: frame(s, "/stock"), Row: stockRow(s, v), Level: &store.Level{Product: s.Products[0].ID, Rev: 2}, May: web.Shelving{Restock: true, Move: true, Change: true, Send: true},
		SetLevel: web.ChangeForm{Title: "Set its level", Action: "/stock/x/level", Button: "Set the level", Fields: scoped(lineFields()[1:2], "l")},
		Move:     web.ChangeForm{Title: "Count", Action: "/stock/x/move", Button: "Write it down", Problem: "there are 2" + poisonOf(s), Open: true, Fields: scoped(lineFields()[1:2], "m")},
		Restock:  web.ChangeForm{Title: "Ask for sets", Action: "/stock/x/restock", Button: "Ask for them", Fields: scoped(lineFields()[1:2], "r")},
		Moves:    []store.StockMove{{At: s.Now.Time(), Actor: "ada", Sets: 3, Why: store.StockCounted, Note: "behind the door" + poisonOf(s)}, {At: s.Now.Time(), Sets: -1, Why: store.StockShipped, Ref: "4"}},
	}
	for i, r := range rows {
		line := web.ShelfLine{OrderLine: web.OrderLine{LineRow: r, Rev: 1, Form: web.ChangeForm{Action: "/lines/x", Button: "Change the line", Fields: scoped(lineFields(), string(rune('a'+i)))}}, Level: i == 0}
		if i == 1 {
			line.Address = "/orders/show/x"
		}
		line.Send = web.ChangeForm{Title: "It lies on the shelf", Action: "/lines/x/send", Fields: scoped(lineFields()[1:2], "s"+string(rune('a'+i)))}
		page.Lines = append(page.Lines, line)
	}
	return page
}

func claimPage(s *shop.Shop, v *runs.View) *web.ClaimPage {
	row := lineRows(s, v)[0]
	return &web.ClaimPage{
		Frame: frame(s, "/stock"), Claim: store.Claim{ID: "C-00001", Product: row.Product, Sold: row.Due - 90, Failed: row.Due - 20, Reason: "split at the ferrule" + poisonOf(s), Note: "kept in the rack by the door", Entered: s.Now.Time(), Line: row.Line},
		Line: web.OrderLine{LineRow: row, Rev: 1, Form: web.ChangeForm{Action: "/lines/x", Button: "Change the line", Fields: scoped(lineFields(), "a")}}, Open: 1, Change: true,
		Send: web.ChangeForm{Title: "Send the replacement", Action: "/lines/x/send", Button: "It is sent", Fields: scoped(lineFields()[1:2], "s")}, Products: []string{row.Product},
	}
}

func orderForm(s *shop.Shop, v *runs.View) *web.OrderForm {
	page := &web.OrderForm{Frame: frame(s, "/orders"), Plan: "plan 9", Products: []string{s.Products[0].ID}}
	page.Head = []web.Field{{Name: "dealer", Label: "Dealer", Kind: "select", Required: true, Options: []web.Option{{Value: "g", Name: "Gull" + poisonOf(s)}}}, {Name: "reference", Label: "The dealer's own number", Kind: "text"}}
	for i := range 3 {
		page.Rows = append(page.Rows, web.OrderRow{Number: i + 1, Fields: scoped(lineFields(), string(rune('a'+i)))})
	}
	to := s.Today() + 9
	page.Against, page.Late = "plan 8", []runs.LineMove{{Line: "GULL-1041/2" + poisonOf(s), Due: to - 2, To: &to}}
	for _, ship := range v.Shippings[:2] {
		page.Quote = append(page.Quote, web.QuoteRow{Product: ship.Line.Product, Sets: ship.Line.Quantity, Due: ship.Line.Due, Ship: ship.Ship})
	}
	return page
}

func moveForm(s *shop.Shop) web.MoveForm {
	return web.MoveForm{Action: "/crib", Refused: []string{"FB-4/2 is issued to load L001, so issue is not possible; possible: return, quarantine, scrap" + poisonOf(s)}, Fields: []web.Field{
		{Name: "move", Label: "What", Kind: "select", Options: []web.Option{{Value: "issue", Name: "issue to a load"}}},
		{Name: "load", Label: "Load, of an issue", Kind: "text"},
		{Name: "ids", Label: "Mandrels", Kind: "area", Required: true, Hint: "Scan or type, one to a line."},
		{Name: "damaged", Label: "Damaged: into quarantine", Kind: "check"},
		{Name: "remark", Label: "Remark", Kind: "text"},
	}}
}

func cribPage(s *shop.Shop) *web.CribPage {
	page := &web.CribPage{Frame: frame(s, "/crib"), Change: true, May: web.Keeping{Enter: true}, Move: moveForm(s), Picks: []web.PickLink{{Name: "What to issue to released work", Address: "/crib/pick"}}}
	on := s.Today() + 2
	for i, m := range s.MandrelTypes {
		row := web.TypeRow{Type: m.ID, Ready: 8, Out: i % 5, Due: i % 2, Away: 1, Needed: 6 + i%4, Where: []web.Whereabouts{{Place: "load L001" + poisonOf(s), Count: i % 5}, {Place: "cleaning", Count: 1}}}
		row.Ahead = draw.Strip("ahead-"+m.ID, m.ID, []draw.NeedDay{{Date: on, Need: 9, Ready: 6}, {Date: on + 1}})
		if i == 3 {
			row.Short, row.ShortOn = 2, &on
		}
		page.Types = append(page.Types, row)
	}
	for i, r := range s.Supply {
		page.Rolls = append(page.Rolls, web.RollRow{ID: r.ID, Prepreg: r.Prepreg, Lot: "A4", Place: "freezer", Left: r.M2, Received: r.M2 + 10, Expires: r.Expires.Time(), OutLeft: "12.5 days", Soon: i == 1})
	}
	return page
}

func typePage(s *shop.Shop, p *plan.Plan, date shop.Date) *web.TypePage {
	page := &web.TypePage{Frame: frame(s, "/crib"), Type: s.MandrelTypes[0], May: web.Keeping{Enter: true, Limit: true}}
	for i := range shop.Date(14) {
		page.Days = append(page.Days, draw.NeedDay{Date: date + i, Need: int(i*5) % 9, Ready: 7})
	}
	page.Need = draw.Need("need", page.Type.ID, page.Days)
	page.Mandrels = []web.MandrelRow{{ID: s.Mandrels[0].ID, Place: "issued", Load: p.Loads[0].ID, Back: s.Now.Time(), Due: []string{"due for inspection (50 of 50 cycles)"}, All: 210, SinceRecoat: 12, SinceInspection: 50}}
	return page
}

func mandrelPage(s *shop.Shop) *web.MandrelPage {
	return &web.MandrelPage{
		Frame: frame(s, "/crib"), Mandrel: web.MandrelRow{ID: s.Mandrels[0].ID, Place: "issued", Load: "L002", All: 210, SinceRecoat: 12, SinceInspection: 50, Due: []string{"due for inspection"}}, Type: s.Mandrels[0].Type, Change: true, Move: moveForm(s),
		History: []web.Event{{At: s.Now.Time(), By: "ada" + poisonOf(s), What: "issue: issued, load L002", Note: "by hand"}}, Failed: []web.Event{{At: s.Now.Time(), What: "2 × SUN-11L.1", Note: "wrinkle"}},
	}
}

func rollPage(s *shop.Shop) *web.RollPage {
	r := s.Supply[0]
	return &web.RollPage{Frame: frame(s, "/crib"), Roll: web.RollRow{ID: r.ID, Prepreg: r.Prepreg, Lot: "A4", Place: "held", Left: r.M2, Received: r.M2, Expires: r.Expires.Time(), OutLeft: "held: past its out-time"}, Change: true, Move: moveForm(s), History: []web.Event{{At: s.Now.Time(), By: "ada", What: "out: thawing"}}}
}

func pickLoads(s *shop.Shop) []web.PickLoad {
	return []web.PickLoad{{Load: "L002" + poisonOf(s), From: s.Now, IDs: []string{"FB-4/1", "FB-4/2"}, Choices: []web.PickChoice{{Section: s.Products[0].Sections[0].ID, Type: s.MandrelTypes[0].ID, Pieces: 3, At: s.Now, IDs: []string{"FB-4/1", "FB-4/2"}, Lacking: 1}}}}
}

func floorPage(s *shop.Shop, date shop.Date) *web.FloorPage {
	page := &web.FloorPage{Frame: frame(s, "/floor"), Date: date}
	for i, stage := range shop.Stages() {
		page.Stations = append(page.Stations, web.StationTile{Name: stage.String() + " 1", Address: "/floor/" + stage.String() + "/1", Waiting: 12 - i, Done: i, Now: "6 × SUN-11L.1"})
	}
	for _, o := range s.Ovens {
		page.Ovens = append(page.Ovens, web.StationTile{Name: o.ID, Address: "/floor/oven/x", Waiting: 2, Next: "load L001" + poisonOf(s)})
	}
	return page
}

func queuePage(s *shop.Shop, v *runs.View, date shop.Date) *web.QueuePage {
	d := sheet.Of(s, v.Plan, date)
	page := &web.QueuePage{Frame: frame(s, "/floor"), Stage: shop.Tack, Position: 1, Date: date, Report: true, Reasons: []string{"wrinkle", "mis-tack"}, Rows: []int{1, 2}, Cautions: sheet.StationCautions(shop.Tack)}
	for i, t := range d.Stations[shop.Tack].Positions[0].Tasks {
		task := web.TaskView{ID: "t", Stage: "tack", Load: t.Load, Section: t.Section, Product: t.Product, Pieces: t.Pieces, Live: t.Pieces, Mandrel: t.Mandrel, Tape: t.Tape, SetUp: t.SetUp, Start: t.Start, End: t.End, State: "waiting"}
		if i < 2 {
			task.State, task.Good, task.Scrapped, task.Ended = "done", t.Pieces, i, &d.From
		}
		if i == 2 {
			task.State = "begun"
			task.SetUp = "FC-2" + poisonOf(s)
			page.Next = &task
		}
		page.Tasks = append(page.Tasks, task)
	}
	page.Scanned = true
	page.Flags = []web.CutFlag{{Flag: s.Products[0].Sections[0].Flags[0], Count: 1}, {Flag: s.Products[0].Sections[0].Flags[1], Count: 1}}
	return page
}

func ovenPage(t testing.TB, v *runs.View, date shop.Date) *web.OvenPage {
	t.Helper()
	day := &web.DayPage{Frame: frame(v.Shop, "/floor")}
	day.Show(v, date)
	return &web.OvenPage{Frame: day.Frame, Oven: day.Loads[0].Oven, Date: date, Report: true, Cautions: sheet.OvenCautions(), Loads: []web.OvenLoad{{LoadView: day.Loads[0], State: "waiting"}}}
}

func catalogPage(s *shop.Shop) *web.CatalogPage {
	return &web.CatalogPage{Frame: frame(s, "/catalog"), Notes: []string{"No profile cures section X." + poisonOf(s)}, Kinds: []web.KindRow{{Kind: "oven", Name: "Ovens", Says: "bays, height, profiles, times", Count: 2, Address: "/catalog/oven"}, {Kind: "resin", Name: "Resins", Says: "what each bears and needs", Count: 3, Address: "/catalog/resin"}}}
}

func thingPage(t testing.TB, s *shop.Shop) *web.ThingPage {
	t.Helper()
	body, err := json.Marshal(s.Products[0])
	if err != nil {
		t.Fatal(err)
	}
	page, err := web.PageOfThing(frame(s, "/catalog"), s, "product", store.Thing{Kind: "product", ID: s.Products[0].ID, Rev: 4, Body: body})
	if err != nil {
		t.Fatal(err)
	}
	return page
}

func historyPage(s *shop.Shop) *web.HistoryPage {
	rows := []draw.Share{{Name: "wrinkle" + poisonOf(s), Value: 7, Text: "7"}, {Name: "mis-tack", Value: 3, Text: "3"}}
	weeks := []draw.Share{{Name: "46", Value: 0.91, Text: "91"}, {Name: "47", Value: 0.97, Text: "97"}}
	return &web.HistoryPage{
		Frame: frame(s, "/history"), OnTime: web.Figure{Title: "Shipped in time", Says: "by week", Drawn: draw.Columns("h1", "Shipped in time", weeks), Rows: weeks},
		Reasons: web.Figure{Title: "Scrap by reason", Says: "pieces", Drawn: draw.Bars("h2", "Scrap by reason", rows), Rows: rows}, Fill: web.Figure{Title: "Load fill"}, Sections: web.Figure{Title: "Scrap by section"}, Mandrels: web.Figure{Title: "Cycles by type"},
	}
}

func paper(v *runs.View, date shop.Date) *web.Paper {
	out := &web.Paper{Frame: frame(v.Shop, ""), Date: date, Plan: 7, Kinds: []web.PaperKind{{Name: "Everything", Address: "/print/day/7/x", Here: true}}}
	out.Title = "Prints for " + out.Frame.Day(date)
	out.Wrappings = web.Wrappings(v.Shop)
	for id, w := range out.Wrappings {
		if len(id)%2 == 0 {
			w.Terms = &store.WrapTerms{PitchMM: 2, TensionN: 30, Passes: 2}
			out.Wrappings[id] = w
		}
	}
	out.Fill(v.Shop, v.Plan, "all")
	return out
}
