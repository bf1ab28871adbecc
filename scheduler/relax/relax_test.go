package relax_test

import (
	"bytes"
	"testing"

	"github.com/google/go-cmp/cmp"

	"blankwright/scheduler/check"
	"blankwright/scheduler/construct"
	"blankwright/scheduler/instance"
	"blankwright/scheduler/relax"
	"blankwright/scheduler/shop"
	"blankwright/scheduler/shoptest"
)

var kinds = []relax.Kind{
	relax.Mandrel, relax.Rack, relax.Oven, relax.Hours, relax.Position,
	relax.Crew, relax.Material, relax.Expiry, relax.Open, relax.Green,
}

// Each relaxation of random shops is a shop that the reader accepts, leaves the
// first as it was, and lets a plan of the first stand.
func TestApply_RandomShops(t *testing.T) {
	tried := map[relax.Kind]int{}
	for seed := range uint64(15) {
		s := shoptest.Accepted(shoptest.Make(seed, shoptest.Size{Pieces: 60}))
		before := s.Encode()
		p := construct.Build(instance.New(s), construct.Rules[0], nil).Plan()
		for _, r := range relax.All(s) {
			more := shoptest.Accepted(r.Apply(s))
			for _, b := range check.Plan(more, p).Breaches {
				if b.Rule != check.RuleBound {
					t.Errorf("shop %d with %s: %s", seed, r, b)
				}
			}
			if bytes.Equal(more.Encode(), before) {
				t.Errorf("shop %d with %s is the same", seed, r)
			}
			tried[r.Kind]++
		}
		if !bytes.Equal(s.Encode(), before) {
			t.Fatalf("shop %d was changed", seed)
		}
	}
	for _, k := range kinds {
		if tried[k] < 3 {
			t.Errorf("of kind %s only %d were tried", k, tried[k])
		}
	}
}

// hour returns an instant so many hours after a bare shop's now.
func hour(s *shop.Shop, h int64) shop.Instant { return shop.Instant{Minute: s.Now.Minute + 60*h} }

// yard is a bare shop with a crew of two shifts, an oven that is closed at night
// and busy in the morning, half a roll that expires, and limits.
func yard() *shop.Shop {
	s := shoptest.Bare()
	s.Calendars["day"] = shop.Calendar{Weekly: shop.Weekly{Mon: []shop.Window{{8 * 60, 16 * 60}}}}
	s.Crews = []shop.Crew{{ID: "hands", Shifts: []shop.Shift{{Calendar: "day", People: 2}, {Calendar: "always", People: 1}}}}
	busy := hour(s, 9)
	s.Ovens[0].Calendar, s.Ovens[0].BusyUntil = "day", &busy
	s.Supply = []shop.Supply{
		{ID: "more 1", Prepreg: "prepreg", M2: 12.5, From: s.Now, Expires: hour(s, 48)},
		{ID: "next", Prepreg: "prepreg", M2: 30, From: hour(s, 24), Expires: hour(s, 9000)},
	}
	s.Prepregs[0].MaxOpenMinutes, s.Policy.MaxGreenMinutes = 2880, 1440
	return shoptest.Accepted(s)
}

// Each relaxation says what there is more, and gives just that.
func TestApply(t *testing.T) {
	for _, c := range []struct {
		relaxation relax.Relaxation
		says       string
		want       func(*shop.Shop)
	}{
		{relax.Relaxation{Kind: relax.Mandrel, ID: "mandrel"}, "one more mandrel mandrel", func(s *shop.Shop) {
			s.Mandrels = append(s.Mandrels, shop.Mandrel{ID: "more 1", Type: "mandrel", State: shop.Ready})
		}},
		{relax.Relaxation{Kind: relax.Rack, ID: "rack"}, "one more rack rack", func(s *shop.Shop) { s.Racks[0].Count = 101 }},
		{relax.Relaxation{Kind: relax.Oven, ID: "oven"}, "another oven like oven", func(s *shop.Shop) {
			more := s.Ovens[0]
			more.ID, more.BusyUntil = "more 1", nil
			s.Ovens = append(s.Ovens, more)
		}},
		{relax.Relaxation{Kind: relax.Hours, ID: "oven"}, "oven oven open around the clock", func(s *shop.Shop) {
			s.Calendars["always+"], s.Ovens[0].Calendar = s.Calendars["always"], "always+"
		}},
		{relax.Relaxation{Kind: relax.Position, ID: "wrap"}, "one more position at wrap", func(s *shop.Shop) { s.Stations.Wrap.Positions = 2 }},
		{relax.Relaxation{Kind: relax.Crew, ID: "hands"}, "one more person in each shift of crew hands", func(s *shop.Shop) {
			s.Crews[0].Shifts[0].People, s.Crews[0].Shifts[1].People = 3, 2
		}},
		{relax.Relaxation{Kind: relax.Material, ID: "prepreg", M2: 30}, "30 m² more of prepreg prepreg, there now", func(s *shop.Shop) {
			s.Supply = append(s.Supply, shop.Supply{ID: "more 2", Prepreg: "prepreg", M2: 30, From: s.Now, Expires: hour(s, 60*24)})
		}},
		{relax.Relaxation{Kind: relax.Expiry, ID: "prepreg"}, "prepreg prepreg that does not expire", func(s *shop.Shop) { s.Supply[0].Expires = hour(s, 60*24) }},
		{relax.Relaxation{Kind: relax.Open, ID: "prepreg"}, "twice the open time of prepreg prepreg", func(s *shop.Shop) { s.Prepregs[0].MaxOpenMinutes = 5760 }},
		{relax.Relaxation{Kind: relax.Green}, "twice the green time", func(s *shop.Shop) { s.Policy.MaxGreenMinutes = 2880 }},
	} {
		want := yard()
		c.want(want)
		if diff := cmp.Diff(want, c.relaxation.Apply(yard())); diff != "" {
			t.Errorf("%s (-want +got):\n%s", c.says, diff)
		}
		if got := c.relaxation.String(); got != c.says {
			t.Errorf("says %q, want %q", got, c.says)
		}
	}
}

// What would make no difference is not listed: an oven that is always open may
// not open longer, what is not limited may not be more, and what lasts beyond
// the horizon may not last longer.
func TestAll(t *testing.T) {
	bare := shoptest.Accepted(shoptest.Bare())
	var got []relax.Kind
	for _, r := range relax.All(bare) {
		if got = append(got, r.Kind); r.Kind == relax.Position {
			got = got[:len(got)-1]
		}
	}
	if diff := cmp.Diff([]relax.Kind{relax.Mandrel, relax.Oven, relax.Rack}, got); diff != "" {
		t.Errorf("bare shop, but for positions (-want +got):\n%s", diff)
	}
	seen := map[relax.Kind]int{}
	for _, r := range relax.All(yard()) {
		seen[r.Kind]++
	}
	for _, k := range kinds {
		if want := map[bool]int{true: shop.StageCount, false: 1}[k == relax.Position]; seen[k] != want {
			t.Errorf("yard: %d of kind %s, want %d", seen[k], k, want)
		}
	}
}

// Of a prepreg of which there is none, as much is added as the demand takes: five
// sets of one flag of 1000 mm by 500 mm, a fifth lost in nesting, take 3.125 m².
func TestAll_NoMaterial(t *testing.T) {
	s := shoptest.Bare()
	s.Products[0].Sections[0].Flags[0] = shop.Flag{Prepreg: "prepreg", LengthMM: 1000, ButtMM: 600, TipMM: 400}
	s.Prepregs[0].NestYield = 0.8
	s.Supply = []shop.Supply{{ID: "none", Prepreg: "prepreg", From: s.Now, Expires: hour(s, 9000)}}
	shoptest.AddLine(s, "P", 5, 1, 1)
	for _, r := range relax.All(shoptest.Accepted(s)) {
		if r.Kind == relax.Material && r.M2 == 3.125 {
			return
		}
	}
	t.Errorf("%+v, want 3.125 m² of prepreg among them", relax.All(s))
}
