package sheet_test

import (
	"testing"

	"blankwright/scheduler/plan"
	"blankwright/scheduler/sheet"
	"blankwright/scheduler/shop"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

// ready adds mandrels of a type.
func ready(s *shop.Shop, kind string, count int) {
	for range count {
		s.Mandrels = append(s.Mandrels, shop.Mandrel{ID: kind, Type: kind, State: shop.Ready})
	}
}

// Mandrels are issued as a tack task begins, and are back when the turnaround
// has passed in the pull station's open time; at one instant those that come
// back go before those that are issued.
func TestOf_Mandrels(t *testing.T) {
	s := yard(t, weekly([]shop.Window{{420, 690}, {720, 930}}, false)) // 07:00–11:30, 12:00–15:30
	s.Mandrels = nil
	ready(s, "M1", 20)
	later := at(t, "2026-03-28T00:00:00+01:00")
	s.Mandrels = append(s.Mandrels, shop.Mandrel{ID: "late", Type: "M1", State: shop.Ready, ReadyAt: &later}, shop.Mandrel{ID: "worn", Type: "M1", State: "to recoat"})
	p := &plan.Plan{Tasks: []shop.Task{
		task(t, shop.Tack, 8, "2026-03-26T08:00:00+01:00", "2026-03-26T09:00:00+01:00"),
		task(t, shop.Tack, 5, "2026-03-27T13:00:00+01:00", "2026-03-27T13:30:00+01:00"),
		task(t, shop.Tack, 4, "2026-03-27T12:30:00+01:00", "2026-03-27T13:00:00+01:00"),
		task(t, shop.Pull, 3, "2026-03-26T15:00:00+01:00", "2026-03-26T15:10:00+01:00"), // back at 07:40 next day
		task(t, shop.Pull, 5, "2026-03-27T10:50:00+01:00", "2026-03-27T11:00:00+01:00"), // back at 12:30, over the break
		task(t, shop.Pull, 4, "2026-03-27T14:30:00+01:00", "2026-03-27T14:50:00+01:00"), // back on Monday
	}}
	first, last := at(t, "2026-03-27T12:30:00+01:00"), at(t, "2026-03-27T12:30:00+01:00")
	want := []sheet.MandrelFlow{{Type: "M1", Issue: 9, FirstIssue: &first, Back: 8, LastBack: &last, MostOut: 9, Ready: 20}}
	if diff := cmp.Diff(want, sheet.Of(s, p, date(t, "2026-03-27")).Mandrels); diff != "" {
		t.Errorf("27th (-want +got):\n%s", diff)
	}
	back := at(t, "2026-03-30T07:20:00+02:00")
	want = []sheet.MandrelFlow{{Type: "M1", Back: 4, LastBack: &back, MostOut: 9, Ready: 21}}
	if diff := cmp.Diff(want, sheet.Of(s, p, date(t, "2026-03-30")).Mandrels); diff != "" {
		t.Errorf("30th (-want +got):\n%s", diff)
	}
}

// Without a turnaround mandrels are back at the end of the pull, whenever
// that is.
func TestOf_MandrelsWithoutTurnaround(t *testing.T) {
	s := yard(t, always())
	pull := task(t, shop.Pull, 3, "2026-03-27T15:00:00+01:00", "2026-03-28T00:00:00+01:00")
	pull.Section = "P.2"
	end := pull.End
	want := []sheet.MandrelFlow{{Type: "M2", Back: 3, LastBack: &end}}
	p := &plan.Plan{Tasks: []shop.Task{pull}}
	if got := sheet.Of(s, p, date(t, "2026-03-27")).Mandrels; len(got) != 0 {
		t.Errorf("27th: %+v, want no move", got)
	}
	if diff := cmp.Diff(want, sheet.Of(s, p, date(t, "2026-03-28")).Mandrels); diff != "" {
		t.Errorf("28th (-want +got):\n%s", diff)
	}
}

// cut is a cut task for a load.
func cut(t *testing.T, load, section, prepreg string, pieces int, start string) shop.Task {
	return shop.Task{Load: load, Section: section, Stage: shop.Cut, Prepreg: prepreg, Position: 1, Pieces: pieces, Start: at(t, start), End: at(t, start)}
}

// A day's need is the area of the flags by prepreg, waste included: a piece of
// P.1 takes 1000 × 80 + 500 × 40 mm² of UD over 0.8, and 1000 × 50 mm² of
// SCRIM over 0.5; one of P.2 takes 800 × 50 mm² of UD over 0.8.
func TestOf_PrepregAreas(t *testing.T) {
	p := &plan.Plan{Tasks: []shop.Task{
		cut(t, "L1", "P.2", "UD", 10, "2026-03-27T09:00:00+01:00"),
		cut(t, "L1", "P.1", "UD", 8, "2026-03-27T07:00:00+01:00"),
		cut(t, "L1", "P.1", "SCRIM", 8, "2026-03-27T08:00:00+01:00"),
		cut(t, "L1", "P.1", "UD", 8, "2026-03-26T08:00:00+01:00"),
		cut(t, "L1", "P.1", "UD", 8, "2026-03-28T00:00:00+01:00"),
	}}
	want := []sheet.PrepregNeed{
		{Prepreg: "UD", M2: 8*0.125 + 10*0.05, FirstCut: at(t, "2026-03-27T07:00:00+01:00"), Draws: []sheet.Draw{}},
		{Prepreg: "SCRIM", M2: 8 * 0.1, FirstCut: at(t, "2026-03-27T08:00:00+01:00"), Draws: []sheet.Draw{}},
	}
	got := sheet.Of(yard(t, always()), p, date(t, "2026-03-27")).Prepregs
	if diff := cmp.Diff(want, got, cmpopts.EquateApprox(0, 1e-9)); diff != "" {
		t.Errorf("needs (-want +got):\n%s", diff)
	}
}

// Supply is drawn as rule R12 says: by expiry, from what is there at the cut
// and good at the cure, after what earlier days drew.
func TestOf_PrepregDraws(t *testing.T) {
	s := yard(t, always())
	row := func(id string, m2 float64, from, expires string) shop.Supply {
		return shop.Supply{ID: id, Prepreg: "UD", M2: m2, From: at(t, from), Expires: at(t, expires)}
	}
	s.Supply = []shop.Supply{
		row("last", 9, "2026-03-01T00:00:00+01:00", "2026-06-01T00:00:00+02:00"),
		row("spoilt", 9, "2026-03-01T00:00:00+01:00", "2026-03-27T11:59:00+01:00"),
		row("second", 0.5, "2026-03-01T00:00:00+01:00", "2026-04-20T00:00:00+02:00"),
		row("first", 1.25, "2026-03-01T00:00:00+01:00", "2026-03-27T12:00:00+01:00"),
		row("to come", 9, "2026-03-27T07:01:00+01:00", "2026-04-10T00:00:00+02:00"),
	}
	s.Released = &shop.Released{Loads: []shop.Load{{ID: "R"}}}
	p := &plan.Plan{
		Loads: []shop.Load{{ID: "L1", CureStart: at(t, "2026-03-27T12:00:00+01:00")}, {ID: "R", CureStart: at(t, "2026-03-27T12:00:00+01:00")}},
		Tasks: []shop.Task{
			cut(t, "L1", "P.1", "UD", 8, "2026-03-27T07:00:00+01:00"), // 1.0
			cut(t, "R", "P.1", "UD", 8, "2026-03-26T14:59:00+01:00"),  // before now: drawn
			cut(t, "R", "P.1", "UD", 4, "2026-03-26T15:00:00+01:00"),  // 0.5 of the first
		},
	}
	want := []sheet.Draw{
		{Supply: "first", M2: 0.75, Expires: at(t, "2026-03-27T12:00:00+01:00")},
		{Supply: "second", M2: 0.25, Expires: at(t, "2026-04-20T00:00:00+02:00")},
	}
	got := sheet.Of(s, p, date(t, "2026-03-27")).Prepregs
	if len(got) != 1 {
		t.Fatalf("%d prepregs, want 1", len(got))
	}
	if diff := cmp.Diff(want, got[0].Draws, cmpopts.EquateApprox(0, 1e-9)); diff != "" {
		t.Errorf("draws (-want +got):\n%s", diff)
	}
}

// A caution stands on the sheet of a day on which somebody meets its danger,
// once, and rests on an authority.
func TestDay_Cautions(t *testing.T) {
	about := func(p *plan.Plan) []string {
		var names []string
		for _, c := range sheet.Of(yard(t, always()), p, date(t, "2026-03-27")).Cautions() {
			names = append(names, c.About)
			if c.Text == "" || c.Authority == "" {
				t.Errorf("caution %q lacks its text or authority", c.About)
			}
		}
		return names
	}
	work := func(stages ...shop.Stage) *plan.Plan {
		p := &plan.Plan{}
		for _, stage := range stages {
			p.Tasks = append(p.Tasks, task(t, stage, 1, "2026-03-27T08:00:00+01:00", "2026-03-27T09:00:00+01:00"))
		}
		return p
	}
	cure := &plan.Plan{Loads: []shop.Load{{ID: "L1", In: at(t, "2026-03-27T08:00:00+01:00"), Out: at(t, "2026-03-27T12:00:00+01:00")}}}
	tests := []struct {
		name string
		plan *plan.Plan
		want []string
	}{
		{"nothing to do", work(), nil},
		{"strip only", work(shop.Strip), nil},
		{"cut and tack", work(shop.Cut, shop.Tack), []string{"resin", "scrap"}},
		{"roll only", work(shop.Roll), []string{"resin", "machines", "scrap"}},
		{"pull and trim", work(shop.Pull, shop.Trim), []string{"hot steel", "machines", "dust"}},
		{"a cure", cure, []string{"oven", "scrap", "hot steel"}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			if diff := cmp.Diff(test.want, about(test.plan)); diff != "" {
				t.Errorf("cautions (-want +got):\n%s", diff)
			}
		})
	}
}
