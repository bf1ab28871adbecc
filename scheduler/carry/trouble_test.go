package carry_test

import (
	"slices"
	"strings"
	"testing"

	"blankwright/scheduler/carry"
	"blankwright/scheduler/shop"
	"blankwright/scheduler/shoptest"
)

// bare returns a bare shop in which one load of six pieces is released: a task a
// stage, an hour apart from the shop's now on, cured from 04:01 to 05:01.
func bare() (*shop.Shop, carry.Work) {
	s := shoptest.Bare()
	now := s.Now.Minute
	at := func(minutes int64) shop.Instant { return shop.InstantIn(now+minutes, s.Zone()) }
	w := carry.Work{Loads: []carry.Load{{Planned: shop.Load{
		ID: "L1", Oven: "oven", Profile: "cure", In: at(240), CureStart: at(241), CureEnd: at(301), Out: at(302),
		Racks: []shop.RackUse{{Rack: "rack", Setup: "one level", Levels: [][]shop.Hang{{{Section: "S", Pieces: 6}}}}},
	}}}}
	for _, stage := range shop.Stages() {
		hour := int64(stage)
		if stage >= shop.Pull {
			hour += 2
		}
		task := shop.Task{Load: "L1", Section: "S", Stage: stage, Position: 1, Pieces: 6, Start: at(hour * 60), End: at(hour*60 + 1)}
		if stage == shop.Cut {
			task.Prepreg = "prepreg"
		}
		w.Tasks = append(w.Tasks, carry.Task{Planned: task})
	}
	return s, w
}

// What can no longer happen is told, with its numbers and what would mend it;
// where all is well, nothing is.
func TestOn_Troubles(t *testing.T) {
	hour := func(s *shop.Shop, h int64) shop.Instant { return shop.InstantIn(s.Now.Minute+h*60, s.Zone()) }
	closed := func(s *shop.Shop, from, to int64) {
		s.Downtime = append(s.Downtime, shop.Downtime{Resource: "oven:oven", From: hour(s, from), To: hour(s, to), Why: "door"})
	}
	for _, c := range []struct {
		name   string
		happen func(s *shop.Shop, w carry.Work)
		kind   string
		task   int
		what   string
		mend   string
	}{
		{"all is well", func(*shop.Shop, carry.Work) {}, "", 0, "", ""},
		{
			"the oven is down when the load is to go in", func(s *shop.Shop, _ carry.Work) { closed(s, 3, 9) }, carry.KindOven, carry.None,
			"oven oven is down from Mon 1 Mar 03:00 to Mon 1 Mar 09:00; load L1 goes in Mon 1 Mar 09:00 instead of Mon 1 Mar 04:00", "plan anew",
		},
		{"flags are past their time when the oven is back", func(s *shop.Shop, w carry.Work) {
			s.Prepregs[0].MaxOpenMinutes = 300
			w.Tasks[0].Begun = new(s.Now)
			closed(s, 3, 9)
		}, carry.KindOpen, 0, "may lie 300 minutes, until Mon 1 Mar 05:00; load L1 cures from Mon 1 Mar 09:01, after 541 minutes", "cure it by Mon 1 Mar 05:00, or scrap"},
		{"flags that are not cut yet can wait", func(s *shop.Shop, _ carry.Work) {
			s.Prepregs[0].MaxOpenMinutes = 300
			closed(s, 3, 9)
		}, carry.KindOpen, 0, "may lie 300 minutes", "begin to cut no earlier than Mon 1 Mar 04:01"},
		{"wrapped pieces are past their time", func(s *shop.Shop, _ carry.Work) {
			s.Policy.MaxGreenMinutes = 120
			closed(s, 3, 9)
		}, carry.KindGreen, 3, "wrapped by Mon 1 Mar 03:01 may lie 120 minutes", "cure it by Mon 1 Mar 05:01"},
		{"mandrels are broken", func(s *shop.Shop, _ carry.Work) { s.Mandrels = s.Mandrels[:4] }, carry.KindMandrels, 1, "6 mandrels mandrel are needed to tack section S, and 4 come free", "bring 2 back"},
		{"a rack is gone", func(s *shop.Shop, _ carry.Work) { s.Racks[0].Count = 0 }, carry.KindRacks, 3, "racks of load L1 never come free", "mend racks"},
		{"a roll lasts no longer", func(s *shop.Shop, _ carry.Work) {
			s.Products[0].Sections[0].Flags[0] = shop.Flag{Prepreg: "prepreg", LengthMM: 1000, ButtMM: 100, TipMM: 100}
			s.Supply = []shop.Supply{{ID: "R1", Prepreg: "prepreg", M2: 5, From: s.Now, Expires: hour(s, 4)}, {ID: "R2", Prepreg: "prepreg", M2: 0.25, From: s.Now, Expires: hour(s, 9)}}
		}, carry.KindMaterial, 0, "0.60 m2 of prepreg prepreg are to be cut Mon 1 Mar 00:00 for a cure from Mon 1 Mar 04:01, and 0.35 of it lack", "0.35 m2"},
		{"what was cut is from such a roll", func(s *shop.Shop, w carry.Work) {
			w.Tasks[0].Begun, w.Tasks[0].Lasts = new(s.Now), new(hour(s, 3))
		}, carry.KindExpired, 0, "is good until Mon 1 Mar 03:00; load L1 cures from Mon 1 Mar 04:01", "retest"},
		{"the oven fails in the cure", func(s *shop.Shop, w carry.Work) {
			for i := range 4 {
				w.Tasks[i].Begun, w.Tasks[i].Done, w.Tasks[i].Good = new(s.Now), new(s.Now), 6
			}
			w.Loads[0].In = new(s.Now)
			closed(s, 1, 3)
		}, carry.KindOven, carry.None, "down from Mon 1 Mar 01:00 to Mon 1 Mar 03:00", "process engineer"},
		{"nobody works before the horizon ends", func(s *shop.Shop, _ carry.Work) {
			s.HorizonDays = 1
			s.Downtime = append(s.Downtime, shop.Downtime{Resource: "trim/1", From: s.Now, To: hour(s, 30), Why: "saw"})
		}, carry.KindHorizon, 6, "load L1 ends Tue 2 Mar 06:01, and the plan Tue 2 Mar 00:00", "open hours"},
	} {
		t.Run(c.name, func(t *testing.T) {
			s, w := bare()
			c.happen(s, w)
			got := carry.On(s, w).Troubles
			if c.kind == "" {
				if len(got) > 0 {
					t.Errorf("there is trouble: %v", got)
				}
				return
			}
			i := slices.IndexFunc(got, func(t carry.Trouble) bool { return t.Kind == c.kind })
			if i < 0 || got[i].Load != "L1" || got[i].Task != c.task {
				t.Fatalf("the troubles are %+v", got)
			}
			if !strings.Contains(got[i].What, c.what) || !strings.Contains(got[i].Mend, c.mend) {
				t.Errorf("told as\n%s\n%s", got[i].What, got[i].Mend)
			}
			if len(got) > 1 && (len(got) > 2 || len(s.Downtime) == 0) { // besides that its oven is down
				t.Errorf("the troubles are %+v", got)
			}
		})
	}
}

// A load that is over is kept no longer, and the set-ups that it left are told.
func TestOn_Over(t *testing.T) {
	s, w := bare()
	w = asPlanned(w, s.Now.Minute+600)
	s.Now = shop.InstantIn(s.Now.Minute+600, s.Zone())
	got := carry.On(s, w)
	if got.Released != nil || !got.Loads[0].Over || !got.Tasks[6].Over {
		t.Errorf("the load is kept: %+v", got.Released)
	}
	for _, c := range []struct {
		stage shop.Stage
		key   string
	}{{shop.Cut, "prepreg"}, {shop.Tack, "mandrel"}, {shop.Wrap, "tape"}} {
		if last := got.Stations.At(c.stage).LastSetup; len(last) != 1 || last[0] == nil || *last[0] != c.key {
			t.Errorf("%s is not left set up for %s", c.stage, c.key)
		}
	}
	if got.Stations.Roll.LastSetup != nil || s.Stations.Cut.LastSetup != nil {
		t.Error("something else is set up")
	}
}

// Mandrels that come back later hold a load up until then, and are no trouble.
func TestOn_WaitsForMandrels(t *testing.T) {
	s, w := bare()
	s.Mandrels = s.Mandrels[:6]
	back := shop.InstantIn(s.Now.Minute+150, s.Zone())
	s.Mandrels[2].ReadyAt = &back
	got := carry.On(s, w)
	if tack := got.Tasks[1]; tack.Start != back || len(got.Troubles) > 0 {
		t.Errorf("tacked from %v, with %v", tack.Start, got.Troubles)
	}
}

// Of a load whose flags were all scrapped, nothing is left.
func TestOn_Hollow(t *testing.T) {
	s, w := bare()
	w.Tasks[0].Begun, w.Tasks[0].Done, w.Tasks[0].Scrapped = new(s.Now), new(s.Now), 6
	got := carry.On(s, w)
	if got.Released != nil || len(got.Troubles) > 0 || !got.Loads[0].Over {
		t.Errorf("left are %+v, %v", got.Released, got.Troubles)
	}
}

// Work of an oven, a rack or a section that the shop has given up is left out.
func TestOn_GivenUp(t *testing.T) {
	s, w := bare()
	s.Racks = nil
	if got := carry.On(s, w); got.Released == nil || len(got.Troubles) > 0 {
		t.Errorf("without the rack: %+v", got)
	}
	s.Products[0].Sections = nil
	if got := carry.On(s, w); !got.Tasks[0].Over || got.Loads[0].Over {
		t.Errorf("without the section: %+v", got)
	}
	s.Ovens = nil
	if got := carry.On(s, w); got.Released != nil || !got.Loads[0].Over {
		t.Errorf("without the oven: %+v", got)
	}
}
