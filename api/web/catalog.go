package web

import (
	"context"
	"io"
	"net/http"
	"net/url"
	"reflect"
	"slices"
	"strings"
	"time"

	"github.com/gin-gonic/gin"

	"blankwright/api/web/draw"
	"blankwright/api/web/thing"
	"blankwright/scheduler/fit"
	"blankwright/scheduler/shop"
	"blankwright/store"
)

// CatalogBooks are what the catalog's pages ask of the books.
type CatalogBooks interface {
	Things(ctx context.Context, kind string) ([]store.Thing, error)
	Thing(ctx context.Context, kind, id string) (store.Thing, error)
	PutThing(ctx context.Context, kind, id string, body []byte, rev int64) (store.Thing, error)
	RemoveThing(ctx context.Context, kind, id string, rev int64) error
	Catalog(ctx context.Context) (*shop.Shop, error)
}

// A KindRow is one kind of thing in the catalog.
type KindRow struct {
	Kind, Name, Says string
	Count            int
	Address          string
}

// catalogKinds are the kinds that pages show, with the types of their forms.
// Mandrels and supply are the crib's to move, and here to be entered.
var catalogKinds = []struct {
	kind, name, says string
	of               reflect.Type
}{
	{"settings", "Shop", "name, time zone, days planned ahead", reflect.TypeFor[store.Settings]()},
	{"policy", "Policy", "rules of thumb and prices", reflect.TypeFor[shop.Policy]()},
	{"calendar", "Calendars", "when things are open", reflect.TypeFor[shop.Calendar]()},
	{"crew", "Crews", "people and their shifts", reflect.TypeFor[shop.Crew]()},
	{"station", "Stations", "positions, set-ups, who works there", reflect.TypeFor[shop.Station]()},
	{"oven", "Ovens", "bays, height, profiles, times", reflect.TypeFor[shop.Oven]()},
	{"rack", "Racks", "set-ups, bars and pegs", reflect.TypeFor[shop.Rack]()},
	{"profile", "Cure profiles", "ramps, soaks, cooling", reflect.TypeFor[shop.Profile]()},
	{"resin", "Resins", "what each bears and needs", reflect.TypeFor[shop.Resin]()},
	{"tape", "Tapes", "from where each shrinks, what it bears", reflect.TypeFor[shop.Tape]()},
	{"prepreg", "Prepregs", "resin, open time, nesting", reflect.TypeFor[shop.Prepreg]()},
	{"mandrel_type", "Mandrel types", "hang, weight, turnaround", reflect.TypeFor[shop.MandrelType]()},
	{"product", "Products", "blanks, their sections and flags", reflect.TypeFor[shop.Product]()},
	{"downtime", "Closures", "what is closed, from when to when", reflect.TypeFor[shop.Downtime]()},
}

// A CatalogPage lists the kinds of things, or the things of one kind.
type CatalogPage struct {
	Frame
	Kinds  []KindRow
	Kind   string
	Name   string
	Things []ThingRow
	Change bool // whether one may be added
	Admin  bool // whether the caller keeps accounts and tokens
	Tick   bool // whether the caller sets the daily tick
	Begin  bool // the books are empty, and the caller may import a shop file
	Export bool // whether the caller may take the books along as one
	Notes  []string
}

// Described reports whether anything is said of the things of the list.
func (p *CatalogPage) Described() bool {
	return slices.ContainsFunc(p.Things, func(r ThingRow) bool { return r.Says != "" })
}

// A ThingRow is one thing of a list.
type ThingRow struct{ ID, Says, Address string }

// Render writes the page.
func (p *CatalogPage) Render(w io.Writer) error { return render(w, "catalog", p) }

// A ThingPage is one thing with its form and, where it has one, its picture.
type ThingPage struct {
	Frame
	Kind, Name, ID string
	New            bool
	Rev            int64
	Form           FormPart
	Lists          []IDList // for the inputs that refer to other things
	Change         bool
	Remove         bool
	Pictures       []Picture
	Cured, Not     []Verdict
	Notes          []string
}

// A Picture is a drawing with what stands below it.
type Picture struct {
	Title, Caption string
	Drawn          draw.Picture
	More           Option // where more of it stands; empty: nowhere
}

// An IDList is the ids of one kind.
type IDList struct {
	ID  string
	IDs []string
}

// Render writes the page.
func (p *ThingPage) Render(w io.Writer) error { return render(w, "thing", p) }

func (p *pages) catalogRoutes() []route {
	return []route{
		get("/catalog", "see-pages", p.catalog),
		get("/catalog/:kind", "see-pages", p.kind),
		get("/catalog/:kind/:id", "see-pages", p.thing),
		post("/catalog/:kind/:id", "change-catalog", p.putThing),
		post("/catalog/:kind/:id/remove", "change-catalog", p.removeThing),
	}
}

func (p *pages) catalog(c *gin.Context) {
	page := &CatalogPage{Frame: p.frame(c, "Catalog", "/catalog"), Change: may(c, "change-catalog"), Admin: may(c, "list-accounts"), Tick: may(c, "change-tick")}
	for _, k := range catalogKinds {
		things, err := p.Books.Things(c.Request.Context(), k.kind)
		if err != nil {
			p.fail(c, err)
			return
		}
		row := KindRow{Kind: k.kind, Name: k.name, Says: k.says, Count: len(things), Address: "/catalog/" + k.kind}
		if single(k.kind) {
			row.Address += "/" + k.kind
		}
		page.Kinds = append(page.Kinds, row)
	}
	page.Kinds = append(page.Kinds, KindRow{Kind: "wraps", Name: "Wrap recipes", Says: "pitch, tension and passes of the tape", Count: p.wrapsSet(c.Request.Context()), Address: "/wraps"})
	empty := p.empty(c.Request.Context())
	page.Begin, page.Export = empty && may(c, "import"), !empty && may(c, "export")
	if s, err := p.Books.Catalog(c.Request.Context()); err == nil {
		page.Notes = unmade(s)
	}
	p.show(c, http.StatusOK, "catalog", page)
}

// single reports whether there is one thing of a kind only.
func single(kind string) bool { return kind == "settings" || kind == "policy" }

// kindOf finds the kind that an address names.
func kindOf(c *gin.Context) (name string, of reflect.Type, ok bool) {
	for _, k := range catalogKinds {
		if k.kind == c.Param("kind") {
			return k.name, k.of, true
		}
	}
	return "", nil, false
}

func (p *pages) kind(c *gin.Context) {
	name, _, ok := kindOf(c)
	if !ok {
		p.fail(c, store.ErrNotFound)
		return
	}
	kind := c.Param("kind")
	things, err := p.Books.Things(c.Request.Context(), kind)
	if err != nil {
		p.fail(c, err)
		return
	}
	page := &CatalogPage{Frame: p.frame(c, name, "/catalog"), Kind: kind, Name: name, Change: may(c, "change-catalog") && kind != "station" && !single(kind)}
	for _, t := range things {
		says := ""
		if words := thingWords[kind]; words != nil {
			says = words(t.Body, &page.Frame)
		}
		page.Things = append(page.Things, ThingRow{ID: t.ID, Says: says, Address: "/catalog/" + kind + "/" + url.PathEscape(t.ID)})
	}
	p.show(c, http.StatusOK, "catalog", page)
}

// newThing stands for the id of a thing that is being entered.
const newThing = "+"

func (p *pages) thing(c *gin.Context) {
	name, of, ok := kindOf(c)
	if !ok {
		p.fail(c, store.ErrNotFound)
		return
	}
	page := &ThingPage{Kind: c.Param("kind"), Name: name, ID: c.Param("id"), Change: may(c, "change-catalog")}
	page.New = page.ID == newThing
	var body []byte
	if !page.New {
		t, err := p.Books.Thing(c.Request.Context(), page.Kind, page.ID)
		if err != nil {
			p.fail(c, err)
			return
		}
		page.Rev, body = t.Rev, t.Body
	}
	page.Frame = p.frame(c, titleOf(page), "/catalog")
	form, err := thing.Form(of, body, page.zone())
	if err != nil {
		p.fail(c, err)
		return
	}
	p.showThing(c, http.StatusOK, page, form, nil)
}

func titleOf(p *ThingPage) string {
	if p.New {
		return p.Name + ": a new one"
	}
	if single(p.Kind) {
		return p.Name
	}
	return p.Name + ": " + p.ID
}

// PageOfThing is the page of a thing of a catalog, for whoever may change it.
func PageOfThing(f Frame, s *shop.Shop, kind string, t store.Thing) (*ThingPage, error) {
	page := &ThingPage{Frame: f, Kind: kind, ID: t.ID, Rev: t.Rev, Change: true}
	for _, k := range catalogKinds {
		if k.kind != kind {
			continue
		}
		page.Name = k.name
		form, err := thing.Form(k.of, t.Body, page.zone())
		if err != nil {
			return nil, err
		}
		page.complete(s, form, nil)
	}
	page.Title = titleOf(page)
	return page, nil
}

// showThing completes a thing's page with what the catalog knows around it.
func (p *pages) showThing(c *gin.Context, status int, page *ThingPage, form thing.Part, problems map[string]string) {
	s, err := p.Books.Catalog(c.Request.Context())
	if err != nil {
		s = &shop.Shop{} // the books are empty, or something in them is on its way
	}
	page.complete(s, form, problems)
	p.show(c, status, "thing", page)
}

// complete adds the form and what stands around it.
func (p *ThingPage) complete(s *shop.Shop, form thing.Part, problems map[string]string) {
	p.Lists = idLists(s)
	p.Form = formPart(form, problems, p.New || p.Kind == "downtime")
	p.Remove = p.Change && !p.New && p.Kind != "station" && !single(p.Kind)
	p.around(s)
}

// around draws a thing and says what it means for others.
func (p *ThingPage) around(s *shop.Shop) {
	switch p.Kind {
	case "profile":
		for i := range s.Profiles {
			if s.Profiles[i].ID == p.ID {
				p.profile(s, &s.Profiles[i])
			}
		}
	case "product":
		for i := range s.Products {
			if s.Products[i].ID == p.ID {
				p.product(s, &s.Products[i])
			}
		}
	}
}

func (p *ThingPage) profile(s *shop.Shop, profile *shop.Profile) {
	curve := draw.Curve{ID: "curve", Profile: *profile, AmbientC: s.Policy.AmbientC, Resins: s.Resins, Tapes: s.Tapes, Units: p.Units()}
	p.Pictures = []Picture{{"The cure against the resins' windows", "The columns are on the same scale: filled where a resin cures or a tape shrinks, capped by a dashed line at the hottest that it bears. The long dashes carry the hottest segment over.", curve.Draw(), Option{}}}
	p.Cured, p.Not = verdicts(s, profile.ID)
	p.Notes = unmade(s)
}

func (p *ThingPage) product(s *shop.Shop, product *shop.Product) {
	for i := range product.Sections {
		section := &product.Sections[i]
		p.Pictures = append(p.Pictures, Picture{
			"Section " + section.ID, "Flags unrolled, to scale; tube and mandrel thicker than they are. Pitch and tension of the tape are the recipe's.",
			draw.Section("section-"+section.ID, section, mandrelType(s, section.Mandrel), p.Units()),
			Option{"/wraps", "Wrap recipes"},
		})
		for _, v := range verdictsOf(s, product, section) {
			if v.Why == "" {
				p.Cured = append(p.Cured, v)
				continue
			}
			p.Not = append(p.Not, v)
		}
		if report := fit.Of(s, section); !report.Makes {
			p.Notes = append(p.Notes, "Section "+section.ID+": "+report.Why+".")
		}
	}
}

func idLists(s *shop.Shop) []IDList {
	lists := []IDList{{ID: "calendar"}, {ID: "crew"}, {ID: "resin"}, {ID: "tape"}, {ID: "prepreg"}, {ID: "mandrel_type"}}
	for id := range s.Calendars {
		lists[0].IDs = append(lists[0].IDs, id)
	}
	slices.Sort(lists[0].IDs)
	for _, c := range s.Crews {
		lists[1].IDs = append(lists[1].IDs, c.ID)
	}
	for _, r := range s.Resins {
		lists[2].IDs = append(lists[2].IDs, r.ID)
	}
	for _, t := range s.Tapes {
		lists[3].IDs = append(lists[3].IDs, t.ID)
	}
	for _, pp := range s.Prepregs {
		lists[4].IDs = append(lists[4].IDs, pp.ID)
	}
	for _, m := range s.MandrelTypes {
		lists[5].IDs = append(lists[5].IDs, m.ID)
	}
	return lists
}

// A FormPart is a part of a thing's form with its input.
type FormPart struct {
	thing.Part
	Field Field
	Parts []FormPart
}

// formPart gives each part its input, with what is wrong at its place. An id is
// given once and not changed.
func formPart(part thing.Part, problems map[string]string, newID bool) FormPart {
	out := FormPart{Part: part}
	for _, inner := range part.Parts {
		if inner.Path == "id" && !newID {
			inner.Kind = "hidden"
		}
		out.Parts = append(out.Parts, formPart(inner, problems, true))
	}
	out.Field = Field{
		Name: part.Path, Label: part.Label, Value: part.Value, Hint: part.Hint, Problem: problems[part.Path], List: part.Refers,
		Kind: inputs[part.Kind], Required: part.Must && part.Kind != thing.Tick, Quiet: true,
	}
	if part.Kind == thing.Decimal {
		out.Field.Step = "any"
	}
	return out
}

// inputs says by which input each kind of part is entered.
var inputs = map[thing.Kind]string{
	thing.Text: "text", thing.Lines: "area", thing.Whole: "number", thing.Decimal: "number", thing.Tick: "check", thing.Day: "date",
	thing.Moment: "datetime-local", "hidden": "hidden",
}

func (p *pages) putThing(c *gin.Context) {
	name, of, ok := kindOf(c)
	if !ok || c.Request.ParseForm() != nil {
		p.fail(c, store.ErrNotFound)
		return
	}
	sent := c.Request.PostForm
	page := &ThingPage{Kind: c.Param("kind"), Name: name, ID: c.Param("id"), Rev: revOf(c), Change: true}
	page.New = page.ID == newThing
	page.Frame = p.frame(c, titleOf(page), "/catalog")
	if list := sent.Get("add"); list != "" {
		p.showThing(c, http.StatusOK, page, thing.Sent(of, thing.Add(sent, list)), nil)
		return
	}
	if row := sent.Get("take-out"); row != "" {
		p.showThing(c, http.StatusOK, page, thing.Sent(of, thing.Remove(sent, row)), nil)
		return
	}
	put, err := p.Books.PutThing(c.Request.Context(), page.Kind, idOf(page, sent, p.Now()), thing.Body(of, sent, page.zone()), page.Rev)
	if err != nil {
		p.refuseThing(c, err, page, thing.Sent(of, sent))
		return
	}
	done(c, "/catalog/"+page.Kind+"/"+url.PathEscape(put.ID), "Saved. Plan again to see what it does.")
}

// idOf is the id of the thing that a form is about. Things without an id of
// their own get one from the clock.
func idOf(p *ThingPage, sent url.Values, now time.Time) string {
	switch {
	case !p.New:
		return p.ID
	case sent.Get("id") != "":
		return strings.TrimSpace(sent.Get("id"))
	case sent.Has("new_id"):
		return strings.TrimSpace(sent.Get("new_id"))
	}
	return now.UTC().Format("20060102-150405.000")
}

func (p *pages) refuseThing(c *gin.Context, err error, page *ThingPage, form thing.Part) {
	f := filled{values: c.Request.PostForm}
	var fields []Field
	form.Each(func(part *thing.Part) { fields = append(fields, Field{Name: part.Path}) })
	whole, status, ours := f.refused(c.Request.Context(), p.Log, err, fields)
	if ours != nil {
		p.fail(c, ours)
		return
	}
	page.Wrong = whole
	if whole == "" {
		page.Wrong = "It was not saved: look at the fields below."
	}
	p.showThing(c, status, page, form, f.problems)
}

func (p *pages) removeThing(c *gin.Context) {
	kind, id := c.Param("kind"), c.Param("id")
	if err := p.Books.RemoveThing(c.Request.Context(), kind, id, revOf(c)); err != nil {
		p.fail(c, err)
		return
	}
	done(c, "/catalog/"+kind, id+" is removed.")
}
