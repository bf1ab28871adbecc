package shoptest_test

import (
	"fmt"
	"testing"

	"blankwright/scheduler/shop"
	. "blankwright/scheduler/shoptest"
)

// A grown shop is valid, of the size asked for, and can be worked off: no
// station has more to do than three quarters of its open minutes, and no
// mandrel type must come round faster than once in two days.
func TestGrow(t *testing.T) {
	for _, pieces := range []int{500, 2000, 8000, 20000} {
		for seed := range uint64(3) {
			s := Grow(pieces, seed)
			what := fmt.Sprintf("%d pieces, seed %d", pieces, seed)
			mustRead(t, what, s)
			if n := demanded(s); n < pieces*8/10 || n > pieces*12/10 {
				t.Errorf("%s: demand is for %d", what, n)
			}
			for stage, part := range stationUse(s) {
				if part > 0.75 {
					t.Errorf("%s: %s is at work %.0f %% of its time", what, stage, 100*part)
				}
			}
			for id, days := range mandrelDays(s) {
				if days < 2 {
					t.Errorf("%s: mandrels %s must come round in %.1f days", what, id, days)
				}
			}
		}
	}
}

// started returns the pieces to start of each section.
func started(s *shop.Shop) map[*shop.Section]float64 {
	out := map[*shop.Section]float64{}
	for _, line := range s.Demand {
		for i := range s.Products {
			if p := &s.Products[i]; p.ID == line.Product {
				for k := range p.Sections {
					out[&p.Sections[k]] += float64(line.Quantity) / p.Sections[k].Yield
				}
			}
		}
	}
	return out
}

// stationUse returns which part of its open minutes each stage must work, all
// positions together and without set-ups.
func stationUse(s *shop.Shop) map[shop.Stage]float64 {
	floor := s.Calendars["floor"]
	open := 0.0
	for _, w := range floor.Spans(s.Today(), s.Today()+shop.Date(s.HorizonDays), s.Zone()) {
		open += float64(w.To - w.From)
	}
	out := map[shop.Stage]float64{}
	for section, n := range started(s) {
		for _, flag := range section.Flags {
			out[shop.Cut] += n * flag.CutMinutes
		}
		for _, stage := range shop.Stages() {
			out[stage] += n * section.Minutes.At(stage)
		}
	}
	for stage := range out {
		out[stage] /= open * float64(s.Stations.At(stage).Positions)
	}
	return out
}

// mandrelDays returns for each type the working days that a mandrel may take
// from tack to tack.
func mandrelDays(s *shop.Shop) map[string]float64 {
	pieces, ready := map[string]float64{}, map[string]float64{}
	for section, n := range started(s) {
		pieces[section.Mandrel] += n
	}
	for _, m := range s.Mandrels {
		if m.State == shop.Ready {
			ready[m.Type]++
		}
	}
	days := 5.0 / 7 * float64(s.HorizonDays)
	out := map[string]float64{}
	for id, n := range pieces {
		out[id] = days * ready[id] / n
	}
	return out
}
