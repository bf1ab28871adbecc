package price_test

import (
	"testing"

	"pgregory.net/rapid"

	"blankwright/scheduler/instance"
	"blankwright/scheduler/price"
	"blankwright/scheduler/shop"
	"blankwright/scheduler/shoptest"
)

// A supply counts what counting minute by minute does, and what is left when
// another is taken from it.
func TestSupply_MinuteByMinute(t *testing.T) {
	const end = 60
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string) (s *price.Supply, minutes [end]int) {
			var spans []instance.Span
			var rates []int
			for range rapid.IntRange(0, 5).Draw(t, name) {
				from := rapid.IntRange(0, end).Draw(t, "from")
				spans = append(spans, instance.Span{From: from, To: rapid.IntRange(from, end).Draw(t, "to")})
				rates = append(rates, rapid.IntRange(1, 3).Draw(t, "rate"))
				for m := from; m < spans[len(spans)-1].To; m++ {
					minutes[m] += rates[len(rates)-1]
				}
			}
			return price.NewSupply(spans, rates), minutes
		}
		all, there := draw("there")
		part, taken := draw("taken")
		left := all.Less(part)
		from := rapid.IntRange(0, end).Draw(t, "since")
		to := rapid.IntRange(from, end).Draw(t, "until")
		wantAll, wantLeft := 0, 0
		for m := from; m < to; m++ {
			wantAll += there[m]
			wantLeft += max(0, there[m]-taken[m])
		}
		if all.Between(from, to) != wantAll || left.Between(from, to) != wantLeft {
			t.Errorf("from %d to %d there are %d, and %d left; want %d and %d", from, to, all.Between(from, to), left.Between(from, to), wantAll, wantLeft)
		}
	})
}

// A piece's least minutes are those in the best task that it can be in.
func TestMinutesOf(t *testing.T) {
	tests := []struct {
		minutes  float64
		transfer int
		want     float64
	}{
		{0, 4, 0.25},      // a minute for four
		{1.3, 8, 4.0 / 3}, // 4 for three; 11 for eight is more
		{1.3, 2, 1.5},     // 3 for two, 2 for one
		{2, 8, 2},         // whole minutes lose nothing
		{0.5, 1, 1},       // a task takes a minute
		{1.25, 100, 1.25}, // 5 for four
	}
	for _, test := range tests {
		s := shoptest.Bare()
		s.Policy.TransferPieces = test.transfer
		s.Products[0].Sections[0].Minutes.Roll = test.minutes
		in := instance.New(shoptest.Accepted(s))
		if got := price.MinutesOf(in, shop.Roll, 0); got > test.want || got < test.want-1e-5 {
			t.Errorf("%g minutes, %d pieces: %g a piece, want %g", test.minutes, test.transfer, got, test.want)
		}
	}
}

// At the cut a piece takes its minutes for each prepreg.
func TestMinutesOf_Cut(t *testing.T) {
	s := shoptest.Bare()
	s.Policy.TransferPieces = 2
	s.Prepregs = append(s.Prepregs, shop.Prepreg{ID: "scrim", Resin: "resin", MaxOpenMinutes: 1e6, NestYield: 1})
	s.Products[0].Sections[0].Flags = []shop.Flag{{Prepreg: "prepreg", CutMinutes: 1}, {Prepreg: "scrim", CutMinutes: 0.5}, {Prepreg: "prepreg", CutMinutes: 0.5}}
	in := instance.New(shoptest.Accepted(s))
	// 3 minutes for two of the one, 1 for two of the other
	if got := price.MinutesOf(in, shop.Cut, 0); got != 1.5+0.5 {
		t.Errorf("%g minutes a piece, want 2", got)
	}
}
