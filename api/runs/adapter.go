package runs

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"blankwright/scheduler/plan"
	"blankwright/scheduler/shop"
	"blankwright/store"
	"blankwright/store/crib"
)

// A Desk is the shop's books as runs and the tick need them.
type Desk struct{ *store.Books }

// Stock takes stock of the books.
func (d Desk) Stock(ctx context.Context) (*Stock, error) {
	snapshot, err := d.Snapshot(ctx)
	if err != nil {
		return nil, err
	}
	stock := &Stock{Shop: snapshot.Shop, OffLoads: snapshot.OffLoads}
	for _, t := range snapshot.Troubles {
		stock.Troubles = append(stock.Troubles, troubleOf(t))
	}
	if err := d.promises(ctx, stock); err != nil {
		return nil, err
	}
	stock.Due, err = d.due(ctx)
	return stock, err
}

// troubleOf names a trouble by its load, and by its task where that has it alone.
func troubleOf(t store.Trouble) Trouble {
	what := "load " + t.Load + ", " + t.Kind
	if t.Task != 0 {
		what = fmt.Sprintf("load %s, task %d, %s", t.Load, t.Task, t.Kind)
	}
	return Trouble{What: what, Text: fmt.Sprintf("%s: %s. What would mend it: %s.", what, t.What, t.Mend)}
}

// promises finds the dates that were promised for lines that are open, and which
// of these lines are held back.
func (d Desk) promises(ctx context.Context, stock *Stock) error {
	stock.Promised = map[string]shop.Date{}
	for after := ""; ; {
		lines, err := d.Lines(ctx, store.LineFilter{Open: true, After: after})
		if err != nil || len(lines) == 0 {
			return err
		}
		for _, l := range lines {
			if l.Promised == nil {
				continue
			}
			stock.Promised[l.ID] = *l.Promised
			if l.Held(stock.Shop.Today()) {
				stock.Held = append(stock.Held, HeldLine{Line: l.ID, Product: l.Product, Sets: l.Open(), Promised: *l.Promised, Why: l.Hold.Why, Until: l.Hold.Until})
			}
		}
		after = lines[len(lines)-1].ID
	}
}

// due returns the mandrels that are due for something and not on their way to it.
func (d Desk) due(ctx context.Context) ([]DueTool, error) {
	var list []DueTool
	for after := ""; ; {
		mandrels, err := d.Mandrels(ctx, store.MandrelFilter{After: after})
		if err != nil || len(mandrels) == 0 {
			return list, err
		}
		for _, m := range mandrels {
			if len(m.Dues) > 0 && slices.Contains([]crib.Place{crib.InCrib, crib.Issued, crib.Cleaning}, m.Place) {
				list = append(list, DueTool{Mandrel: m.ID, Type: m.Type, Why: allDue(m.Dues)})
			}
		}
		after = mandrels[len(mandrels)-1].ID
	}
}

func allDue(dues []crib.Due) string {
	var say []string
	for _, d := range dues {
		say = append(say, d.String())
	}
	return strings.Join(say, ", ")
}

// Release freezes what of a plan begins before an instant. Where nothing more of it
// does, there is nothing to do.
func (d Desk) Release(ctx context.Context, plan int64, until time.Time) error {
	files, err := d.PlanFiles(ctx, plan)
	if err != nil {
		return err
	}
	if more, err := begins(files, until); err != nil || !more {
		return err
	}
	_, err = d.Books.Release(ctx, plan, until)
	return err
}

// begins reports whether any load that a plan adds to the released ones begins before
// an instant.
func begins(files store.PlanFiles, until time.Time) (bool, error) {
	s, err := shop.Read(files.Shop)
	if err != nil {
		return false, err
	}
	p, err := plan.Read(files.Plan, s)
	if err != nil {
		return false, err
	}
	released := map[string]bool{}
	if s.Released != nil {
		for _, l := range s.Released.Loads {
			released[l.ID] = true
		}
	}
	return slices.ContainsFunc(p.Tasks, func(t shop.Task) bool {
		return !released[t.Load] && t.Start.Time().Before(until)
	}), nil
}

// Days returns the shop's working days. It reads no more than it must: it is asked
// for all the time.
func (d Desk) Days(ctx context.Context) (days Days, err error) {
	var settings store.Settings
	var policy shop.Policy
	if err := d.thing(ctx, "settings", "settings", &settings); err != nil {
		return days, err
	}
	if err := d.thing(ctx, "policy", "policy", &policy); err != nil {
		return days, err
	}
	if err := d.thing(ctx, "calendar", policy.ShippingCalendar, &days.Calendar); err != nil {
		return days, err
	}
	days.Zone, err = time.LoadLocation(settings.Timezone)
	return days, err
}

// NextTick returns when the next tick is due; zero where it is off, the books are
// empty, or no working day is known.
func (d Desk) NextTick(ctx context.Context, s store.TickSettings, now time.Time) (time.Time, error) {
	days, err := d.Days(ctx)
	switch {
	case errors.Is(err, store.ErrNotFound) || !s.On: // not found: the books are empty
		return time.Time{}, nil
	case err != nil:
		return time.Time{}, err
	}
	next, _ := days.NextDue(s.At, now)
	return next, nil
}

// thing reads one thing of the catalog.
func (d Desk) thing(ctx context.Context, kind, id string, into any) error {
	thing, err := d.Thing(ctx, kind, id)
	if err != nil {
		return err
	}
	return json.Unmarshal(thing.Body, into)
}
