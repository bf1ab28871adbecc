package runs

import (
	"context"
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

// Days returns the shop's working days.
func (d Desk) Days(ctx context.Context) (Days, error) {
	s, err := d.Catalog(ctx)
	if err != nil {
		return Days{}, err
	}
	return Days{Calendar: s.Calendars[s.Policy.ShippingCalendar], Zone: s.Zone()}, nil
}
