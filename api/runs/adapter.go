package runs

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"time"

	"blankwright/scheduler/shop"
	"blankwright/store"
)

// A Desk is the shop's books as runs and the tick need them.
type Desk struct{ *store.Books }

// Stock takes stock of the books.
func (d Desk) Stock(ctx context.Context, _ time.Time) (*Stock, error) {
	file, err := d.Export(ctx)
	if err != nil {
		return nil, err
	}
	s, err := shop.Read(file)
	if err != nil {
		return nil, fmt.Errorf("the books make no valid shop: %w", err)
	}
	return &Stock{Shop: s}, nil
}

// Release freezes what of a plan begins before an instant.
func (d Desk) Release(context.Context, int64, time.Time) error {
	return errors.New("nothing can be released yet")
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

// thing reads one thing of the catalog.
func (d Desk) thing(ctx context.Context, kind, id string, into any) error {
	thing, err := d.Thing(ctx, kind, id)
	if err != nil {
		return err
	}
	return json.Unmarshal(thing.Body, into)
}
