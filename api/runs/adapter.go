package runs

import (
	"context"
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

// Days returns the shop's working days.
func (d Desk) Days(ctx context.Context) (Days, error) {
	s, err := d.Catalog(ctx)
	if err != nil {
		return Days{}, err
	}
	return Days{Calendar: s.Calendars[s.Policy.ShippingCalendar], Zone: s.Zone()}, nil
}
