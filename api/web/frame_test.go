package web_test

import (
	"testing"
	"time"

	"blankwright/api/web"
	"blankwright/scheduler/shop"
)

// On a page of one day, a time of another day says of which.
func TestFrame_Span(t *testing.T) {
	f := &web.Frame{Zone: time.FixedZone("", -12600)}
	at := func(day, hour int) shop.Instant {
		return shop.InstantOf(time.Date(2026, 11, day, hour, 5, 0, 0, f.Zone))
	}
	today := shop.DateAt(at(26, 12).Minute, f.Zone)
	for _, one := range []struct {
		from, to shop.Instant
		want     string
	}{
		{at(26, 8), at(26, 22), "08:05–22:05"},
		{at(25, 14), at(26, 9), "Wed 25 Nov 14:05–09:05"},
		{at(26, 23), at(27, 1), "23:05–Fri 27 Nov 01:05"},
	} {
		if got := f.Span(today, one.from, one.to); got != one.want {
			t.Errorf("%q, want %q", got, one.want)
		}
	}
}
