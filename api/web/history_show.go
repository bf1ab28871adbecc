package web

import (
	"cmp"
	"context"
	"fmt"
	"net/http"
	"slices"
	"time"

	"github.com/gin-gonic/gin"

	"blankwright/api/web/draw"
	"blankwright/api/web/unit"
	"blankwright/scheduler/plan"
	"blankwright/scheduler/sheet"
	"blankwright/scheduler/shop"
	"blankwright/store"
)

// HistoryBooks are what the history asks of the books.
type HistoryBooks interface {
	Shipments(ctx context.Context, f store.ShipmentFilter) ([]store.Shipment, error)
	Line(ctx context.Context, id string) (store.Line, error)
	Reports(ctx context.Context, f store.ReportFilter) ([]store.Report, error)
	FloorTask(ctx context.Context, id int64) (store.Task, error)
	FloorLoads(ctx context.Context) ([]store.FloorLoad, error)
	Mandrels(ctx context.Context, f store.MandrelFilter) ([]store.Mandrel, error)
}

func (p *pages) historyRoutes() []route {
	return []route{get("/history", "see-pages", p.history)}
}

// history shows what the last reports and shipments tell.
func (p *pages) history(c *gin.Context) {
	ctx := c.Request.Context()
	page := &HistoryPage{Frame: p.frame(c, "History", "/history")}
	if p.empty(ctx) {
		p.show(c, http.StatusOK, "history", page)
		return
	}
	shipments, err := p.Books.Shipments(ctx, store.ShipmentFilter{})
	if err == nil {
		page.OnTime, err = p.onTime(ctx, shipments, page.zone())
	}
	if err == nil {
		page.Reasons, page.Sections, err = p.scrap(ctx)
	}
	if err == nil {
		page.Fill, err = p.fill(ctx, page.zone())
	}
	if err == nil {
		page.Mandrels, err = p.cycles(ctx)
	}
	if err != nil {
		p.fail(c, err)
		return
	}
	p.show(c, http.StatusOK, "history", page)
}

// A tally is how many of all, by name, in the order of their coming.
type tally struct {
	names []string
	part  map[string]float64
	all   map[string]float64
}

func (t *tally) add(name string, part, all float64) {
	if t.part == nil {
		t.part, t.all = map[string]float64{}, map[string]float64{}
	}
	if _, ok := t.all[name]; !ok {
		t.names = append(t.names, name)
	}
	t.part[name] += part
	t.all[name] += all
}

// shares are parts of all, by name.
func (t *tally) shares() []draw.Share {
	slices.Sort(t.names)
	var out []draw.Share
	for _, name := range t.names {
		share := t.part[name] / max(1, t.all[name])
		out = append(out, draw.Share{Name: name, Value: share, Text: unit.Number(share*100, 0)})
	}
	return out
}

// most are the amounts, the largest first.
func (t *tally) most() []draw.Share {
	var out []draw.Share
	for _, name := range t.names {
		out = append(out, draw.Share{Name: name, Value: t.part[name], Text: unit.Number(t.part[name], 0)})
	}
	slices.SortStableFunc(out, func(a, b draw.Share) int { return cmp.Or(cmp.Compare(b.Value, a.Value), cmp.Compare(a.Name, b.Name)) })
	return out
}

// onTime is the share of sets that were sent by the date promised, or else due.
func (p *pages) onTime(ctx context.Context, shipments []store.Shipment, zone *time.Location) (Figure, error) {
	var weeks tally
	lines := map[string]store.Line{}
	for _, s := range shipments {
		if s.TakenBack != nil {
			continue
		}
		day := shop.DateOf(s.At.In(zone))
		for _, parcel := range s.Parcels {
			l, ok := lines[parcel.Line]
			if !ok {
				var err error
				if l, err = p.Books.Line(ctx, parcel.Line); err != nil {
					return Figure{}, err
				}
				lines[parcel.Line] = l
			}
			row := LineRow{Due: l.Due, Promised: l.Promised}
			inTime := 0.0
			if day <= row.Against() {
				inTime = float64(parcel.Sets)
			}
			weeks.add(weekOf(s.At.In(zone)), inTime, float64(parcel.Sets))
		}
	}
	return shares("on-time", "Shipped in time", "Percent of the sets sent in each week that went by the date promised, or else due.", weeks.shares()), nil
}

func weekOf(t time.Time) string {
	year, week := t.ISOWeek()
	return fmt.Sprintf("%02d/%02d", year%100, week)
}

// scrap counts what the last reports scrapped, by reason and by section. A
// report that was corrected counts as it was corrected.
func (p *pages) scrap(ctx context.Context) (reasons, sections Figure, err error) {
	reports, err := p.Books.Reports(ctx, store.ReportFilter{})
	if err != nil {
		return Figure{}, Figure{}, err
	}
	corrected := map[int64]bool{}
	var byReason, bySection tally
	names := map[int64]string{}
	for _, r := range reports { // the newest first: a correction before what it corrects
		if corrected[r.ID] || r.Task == 0 {
			continue
		}
		if r.Corrects != 0 {
			if corrected[r.Corrects] {
				continue
			}
			corrected[r.Corrects] = true
		}
		for _, s := range r.Scrap {
			if _, ok := names[r.Task]; !ok {
				t, err := p.Books.FloorTask(ctx, r.Task)
				if err != nil {
					return Figure{}, Figure{}, err
				}
				names[r.Task] = t.Section
			}
			byReason.add(s.Reason, float64(s.Pieces), 0)
			bySection.add(names[r.Task], float64(s.Pieces), 0)
		}
	}
	return amounts("reasons", "Scrap by reason", "Pieces, of the last reports.", byReason.most()),
		amounts("sections", "Scrap by section", "Pieces, of the last reports.", bySection.most()), nil
}

// fill is the share of its pegs that each released load uses.
func (p *pages) fill(ctx context.Context, zone *time.Location) (Figure, error) {
	loads, err := p.Books.FloorLoads(ctx)
	if err != nil || len(loads) == 0 {
		return Figure{Title: "Load fill"}, err
	}
	s, err := p.Books.Catalog(ctx)
	if err != nil {
		return Figure{}, err
	}
	var out []draw.Share
	for _, l := range loads {
		day := sheet.Of(s, &plan.Plan{Loads: []shop.Load{l.Planned}}, shop.DateAt(l.Planned.In.Minute, zone))
		for i := range day.Loads {
			share := fillOf(&day.Loads[i])
			out = append(out, draw.Share{Name: l.Planned.ID, Value: share, Text: unit.Number(share*100, 0)})
		}
	}
	return shares("fill", "Load fill", "Percent of the pegs on its racks that each of the last loads uses.", out[max(0, len(out)-mostBars):]), nil
}

func fillOf(l *sheet.Load) float64 {
	used, pegs := 0, 0
	for _, r := range l.Racks {
		for _, level := range r.Levels {
			used, pegs = used+level.Used, pegs+level.Pegs
		}
	}
	return float64(used) / float64(max(1, pegs))
}

// cycles is how often the mandrels of each type were worked with.
func (p *pages) cycles(ctx context.Context) (Figure, error) {
	mandrels, err := all(func(after string) ([]store.Mandrel, error) {
		return p.Books.Mandrels(ctx, store.MandrelFilter{After: after})
	}, func(m store.Mandrel) string { return m.ID })
	if err != nil {
		return Figure{}, err
	}
	var types tally
	for i := range mandrels {
		if mandrels[i].All > 0 {
			types.add(mandrels[i].Type, float64(mandrels[i].All), 0)
		}
	}
	return amounts("cycles", "Mandrel use", "Cycles in all, by type.", types.most()), nil
}
