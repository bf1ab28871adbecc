package line_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"blankwright/scheduler/instance"
	"blankwright/scheduler/line"
	"blankwright/scheduler/rack"
	"blankwright/scheduler/shop"
	"blankwright/scheduler/shoptest"
)

// bench returns a shop with times to count by: its stations are open from 7:00
// to 11:30 and from 12:00 to 15:30 on weekdays, a piece takes a minute to cut,
// 2 to tack, 1 to roll, 2 to wrap and 1 at each stage after the cure, in batches
// of 4. Its oven, open at all times, takes 10 minutes to load and to unload, the
// cure 60, and the load then rests for 30.
func bench() *shop.Shop {
	s := shoptest.Bare()
	day := []shop.Window{{7 * 60, 11*60 + 30}, {12 * 60, 15*60 + 30}}
	s.Calendars["floor"] = shop.Calendar{Weekly: shop.Weekly{Mon: day, Tue: day, Wed: day, Thu: day, Fri: day}}
	for _, stage := range shop.Stages() {
		s.Stations.At(stage).Calendar = "floor"
	}
	s.Policy.TransferPieces = 4
	s.Products[0].Sections[0] = section("S")
	s.Profiles[0].RestMinutes = 30
	s.Ovens[0].LoadMinutes, s.Ovens[0].UnloadMinutes = 10, 10
	return s
}

// section returns a section of a bench.
func section(id string) shop.Section {
	s := shoptest.BareProduct("", id).Sections[0]
	s.Flags[0].CutMinutes = 1
	s.Minutes = shop.Minutes{Tack: 2, Roll: 1, Wrap: 2, Pull: 1, Strip: 1, Trim: 1}
	return s
}

// at returns the instant at a clock time so many days after a bench's Monday.
func at(s *shop.Shop, day, hour, minute int64) shop.Instant {
	return shop.Instant{Minute: s.Now.Minute + day*1440 + hour*60 + minute}
}

// clock returns the tick of a clock time on a bench's Monday.
func clock(hour, minute int) line.Tick { return hour*60 + minute }

// compile returns the timetable of a shop.
func compile(s *shop.Shop) *line.Timetable { return line.New(instance.New(shoptest.Accepted(s))) }

// load returns a load for the first oven under the first profile.
func load(t *testing.T, table *line.Timetable, id int, target line.Tick, runs ...rack.Run) *line.Load {
	t.Helper()
	l, ok := line.NewLoad(table.Instance(), id, 0, 0, runs)
	if !ok {
		t.Fatalf("load %d does not fit", id)
	}
	l.Target = target
	return l
}

func run(section, pieces int) rack.Run { return rack.Run{Section: section, Pieces: pieces} }

// placed places a load, and fails the test where it finds no place.
func placed(t *testing.T, table *line.Timetable, l *line.Load) *line.Load {
	t.Helper()
	if !table.Place(l) {
		t.Fatalf("load %d finds no place", l.ID)
	}
	table.Keep()
	return l
}

// A row is what a test expects of a task.
type row struct {
	stage      shop.Stage
	pieces     int
	start, end line.Tick
	setup      bool
}

// rows lists a load's tasks stage by stage, each stage's by start.
func rows(l *line.Load) (list []row) {
	for _, stage := range shop.Stages() {
		list = append(list, stageRows(l, stage)...)
	}
	return list
}

func stageRows(l *line.Load, stage shop.Stage) (list []row) {
	for i := range l.Tasks {
		if task := &l.Tasks[i]; task.Stage == stage {
			list = append(list, row{stage, task.Pieces, task.Start, task.End, task.Setup})
		}
	}
	for i := range list {
		for j := i; j > 0 && list[j].start < list[j-1].start; j-- {
			list[j], list[j-1] = list[j-1], list[j]
		}
	}
	return list
}

// expect compares a load's tasks with rows and its oven times with four ticks.
func expect(t *testing.T, l *line.Load, oven [4]line.Tick, want ...row) {
	t.Helper()
	if got := [4]line.Tick{l.In, l.CureStart, l.CureEnd, l.Out}; got != oven {
		t.Errorf("in the oven %v, want %v", got, oven)
	}
	if got := rows(l); !cmp.Equal(got, want, cmp.AllowUnexported(row{})) {
		t.Errorf("tasks\n%v, want\n%v", got, want)
	}
}

// Before the oven each stage is as late as the one after it allows, the last
// batch last; behind it each is as early as it can. Six pieces go into the oven
// at 9:00 in batches of 4 and 2; they rest from 10:20 to 10:50. The first task of
// a position without a last set-up needs one, which takes no time here.
func TestPlace_LateBeforeTheOvenEarlyBehind(t *testing.T) {
	table := compile(bench())
	l := placed(t, table, load(t, table, 1, clock(9, 0), run(0, 6)))
	expect(t, l, [4]line.Tick{clock(9, 0), clock(9, 10), clock(10, 10), clock(10, 20)},
		row{shop.Cut, 4, clock(8, 32), clock(8, 36), true}, row{shop.Cut, 2, clock(8, 48), clock(8, 50), false},
		row{shop.Tack, 4, clock(8, 36), clock(8, 44), true}, row{shop.Tack, 2, clock(8, 50), clock(8, 54), false},
		row{shop.Roll, 4, clock(8, 44), clock(8, 48), false}, row{shop.Roll, 2, clock(8, 54), clock(8, 56), false},
		row{shop.Wrap, 4, clock(8, 48), clock(8, 56), true}, row{shop.Wrap, 2, clock(8, 56), clock(9, 0), false},
		row{shop.Pull, 4, clock(10, 50), clock(10, 54), false}, row{shop.Pull, 2, clock(10, 54), clock(10, 56), false},
		row{shop.Strip, 4, clock(10, 54), clock(10, 58), false}, row{shop.Strip, 2, clock(10, 58), clock(11, 0), false},
		row{shop.Trim, 4, clock(10, 58), clock(11, 2), false}, row{shop.Trim, 2, clock(11, 2), clock(11, 4), false},
	)
}

// A task pauses over lunch and keeps its position meanwhile: wrapping for 12:05
// works 3 minutes before 11:30 and 5 after 12:00.
func TestPlace_PausesOverLunch(t *testing.T) {
	table := compile(bench())
	l := placed(t, table, load(t, table, 1, clock(12, 5), run(0, 4)))
	expect(t, l, [4]line.Tick{clock(12, 5), clock(12, 15), clock(13, 15), clock(13, 25)},
		row{shop.Cut, 4, clock(11, 11), clock(11, 15), true},
		row{shop.Tack, 4, clock(11, 15), clock(11, 23), true},
		row{shop.Roll, 4, clock(11, 23), clock(11, 27), false},
		row{shop.Wrap, 4, clock(11, 27), clock(12, 5), true},
		row{shop.Pull, 4, clock(13, 55), clock(13, 59), false},
		row{shop.Strip, 4, clock(13, 59), clock(14, 3), false},
		row{shop.Trim, 4, clock(14, 3), clock(14, 7), false},
	)
}

// The earliest load goes in as soon as the day's work for it is done: 4 minutes
// to cut, 8 to tack, 4 to roll and 8 to wrap from 7:00 on.
func TestPlace_EarliestOvenStart(t *testing.T) {
	table := compile(bench())
	if l := placed(t, table, load(t, table, 1, 0, run(0, 4))); l.In != clock(7, 24) || stageRows(l, shop.Cut)[0].start != clock(7, 0) {
		t.Errorf("in at %d, cut from %d; want 7:24 and 7:00", l.In, stageRows(l, shop.Cut)[0].start)
	}
}

// A heavier load lags: four pieces of 1 kg on mandrels of 1.5 kg and a rack of
// 2 kg are 12 kg, which at 0.4 minutes a kg make 64.8 minutes of 60.
func TestPlace_LagOfTheWeight(t *testing.T) {
	s := bench()
	s.Products[0].Sections[0].Kg, s.MandrelTypes[0].Kg, s.Racks[0].TareKg = 1, 1.5, 2
	s.Ovens[0].LagMinutesPerKg = 0.4
	table := compile(s)
	l := placed(t, table, load(t, table, 1, clock(9, 0), run(0, 4)))
	if l.Cure != 65 || l.CureEnd != clock(10, 15) || l.Out != clock(10, 25) {
		t.Errorf("cures %d minutes to %d, out at %d; want 65, 10:15 and 10:25", l.Cure, l.CureEnd, l.Out)
	}
}

// What one load holds keeps the next from starting: here each time the second of
// two like loads, meant for 9:30, which could go in at once if nothing bound it.
// The first goes in at 9:00, out at 10:20, and is pulled from 10:50 to 10:54.
func TestPlace_WaitsForWhatIsHeld(t *testing.T) {
	two := func(s *shop.Shop) {
		s.Ovens = append(s.Ovens, s.Ovens[0])
		s.Ovens[1].ID = "second oven"
	}
	cases := []struct {
		name   string
		change func(*shop.Shop)
		oven   int
		in     line.Tick
	}{
		{"nothing", two, 1, clock(9, 30)},
		{"the oven until 10:20", func(*shop.Shop) {}, 0, clock(10, 20)},
		{"another bay does not help", func(s *shop.Shop) { s.Ovens[0].Bays = 2 }, 0, clock(10, 20)},
		// Wrapping from 10:54 to 11:02
		{"the rack until it is pulled", func(s *shop.Shop) { two(s); s.Racks[0].Count = 1 }, 1, clock(11, 2)},
		// Tacking from 10:54 takes 8 minutes, rolling 4, wrapping 8
		{"mandrels until they are pulled", func(s *shop.Shop) { two(s); s.Mandrels = s.Mandrels[:4] }, 1, clock(11, 14)},
		{"one mandrel of four", func(s *shop.Shop) { two(s); s.Mandrels = s.Mandrels[:7] }, 1, clock(11, 14)},
		// From 10:54 on 36 minutes to lunch, then 12:00 to 12:09; tacking to 12:17
		{"mandrels while they are cleaned", func(s *shop.Shop) {
			two(s)
			s.Mandrels, s.MandrelTypes[0].TurnaroundMinutes = s.Mandrels[:4], 45
		}, 1, clock(12, 29)},
		{"the oven's other work", func(s *shop.Shop) {
			two(s)
			until := at(s, 0, 9, 47)
			s.Ovens[1].BusyUntil = &until
		}, 1, clock(9, 47)},
		// 9:30 + 80 minutes would run into it
		{"the oven's downtime", func(s *shop.Shop) {
			two(s)
			s.Downtime = []shop.Downtime{{Resource: "oven:second oven", From: at(s, 0, 10, 49), To: at(s, 0, 11, 1)}}
		}, 1, clock(11, 1)},
		{"a mandrel that is ready later", func(s *shop.Shop) {
			two(s)
			s.Mandrels = s.Mandrels[:8]
			ready := at(s, 0, 9, 40)
			s.Mandrels[0].ReadyAt = &ready
		}, 1, clock(10, 0)},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			s := bench()
			c.change(s)
			table := compile(s)
			placed(t, table, load(t, table, 1, clock(9, 0), run(0, 4)))
			l, ok := line.NewLoad(table.Instance(), 2, c.oven, 0, []rack.Run{run(0, 4)})
			if !ok {
				t.Fatal("the second load does not fit")
			}
			l.Target = clock(9, 30)
			if placed(t, table, l); l.In != c.in {
				t.Errorf("in at %d:%02d, want %d:%02d", l.In/60, l.In%60, c.in/60, c.in%60)
			}
		})
	}
}

// Mandrels pulled late in the day are cleaned on the next: of 15 minutes after a
// pull that ends at 15:24, 6 are left on Monday, and tacking starts on Tuesday at
// 7:09. The first load goes in at 13:30.
func TestPlace_CleansOvernight(t *testing.T) {
	s := bench()
	s.Mandrels, s.MandrelTypes[0].TurnaroundMinutes = s.Mandrels[:4], 15
	table := compile(s)
	placed(t, table, load(t, table, 1, clock(13, 30), run(0, 4)))
	l := placed(t, table, load(t, table, 2, clock(15, 0), run(0, 4)))
	if got := stageRows(l, shop.Tack)[0].start; got != 1440+clock(7, 9) {
		t.Errorf("tacked from %d, want Tuesday 7:09", got)
	}
}

// A missing crew forbids a task its minutes: with nobody there from 8:50 to 9:05,
// wrapping for 9:00 ends at 8:50. A smaller crew moves one of two tasks.
func TestPlace_CrewMovesTasks(t *testing.T) {
	s := bench()
	s.Calendars["hands"] = shop.Calendar{Weekly: shop.Weekly{Mon: []shop.Window{{0, 8*60 + 50}, {9*60 + 5, 24 * 60}}}}
	s.Crews = []shop.Crew{{ID: "hands", Shifts: []shop.Shift{{Calendar: "hands", People: 1}}}}
	s.Stations.Wrap.Crew, s.Stations.Wrap.People = "hands", 1
	table := compile(s)
	l := placed(t, table, load(t, table, 1, clock(9, 0), run(0, 4)))
	want := []row{{shop.Wrap, 4, clock(8, 42), clock(8, 50), true}}
	if got := stageRows(l, shop.Wrap); !cmp.Equal(got, want, cmp.AllowUnexported(row{})) {
		t.Errorf("wrapped %v, want %v", got, want)
	}
	s.Stations.Roll.Crew, s.Stations.Roll.People = "hands", 1
	table = compile(s)
	l = placed(t, table, load(t, table, 1, clock(8, 50), run(0, 6)))
	// One pair of hands wraps 2 from 8:46, 4 from 8:38, and rolls before that.
	want = []row{{shop.Roll, 4, clock(8, 32), clock(8, 36), false}, {shop.Roll, 2, clock(8, 36), clock(8, 38), false}}
	if got := stageRows(l, shop.Roll); !cmp.Equal(got, want, cmp.AllowUnexported(row{})) {
		t.Errorf("rolled %v, want %v", got, want)
	}
}

// The oven's people are needed while it is loaded and unloaded, and only then.
func TestPlace_OvenCrew(t *testing.T) {
	s := bench()
	s.Calendars["hands"] = shop.Calendar{Weekly: shop.Weekly{Mon: []shop.Window{{9*60 + 7, 9*60 + 30}, {10*60 + 40, 12 * 60}}}}
	s.Crews = []shop.Crew{{ID: "hands", Shifts: []shop.Shift{{Calendar: "hands", People: 2}}}}
	s.Ovens[0].Crew, s.Ovens[0].People = "hands", 2
	table := compile(s)
	l := placed(t, table, load(t, table, 1, clock(9, 0), run(0, 4)))
	// Loaded from 9:07 to 9:17, cured to 10:17, unloaded from 10:40.
	if got, want := [4]line.Tick{l.In, l.CureStart, l.CureEnd, l.Out}, [4]line.Tick{clock(9, 7), clock(9, 17), clock(10, 17), clock(10, 50)}; got != want {
		t.Errorf("in the oven %v, want %v", got, want)
	}
}

// An oven that is not unattended is shut within one window: in one of 8:00 to
// 15:00 with lunch from 11:30, 80 minutes from 10:15 do not end in time.
func TestPlace_AttendedOven(t *testing.T) {
	s := bench()
	s.Ovens[0].Calendar, s.Ovens[0].Unattended = "floor", false
	table := compile(s)
	l := placed(t, table, load(t, table, 1, clock(10, 15), run(0, 4)))
	if l.In != clock(12, 0) || l.Out != clock(13, 20) {
		t.Errorf("in at %d, out at %d; want 12:00 and 13:20", l.In, l.Out)
	}
}

// Material that comes at 10:00 is not cut before: 4 minutes to cut, 8 to tack, 4
// to roll, 8 to wrap.
func TestPlace_WaitsForMaterial(t *testing.T) {
	s := bench()
	s.Products[0].Sections[0].Flags[0] = shop.Flag{Prepreg: "prepreg", LengthMM: 1000, ButtMM: 100, TipMM: 100, CutMinutes: 1}
	supply := func(id string, m2 float64, from, expires shop.Instant) shop.Supply {
		return shop.Supply{ID: id, Prepreg: "prepreg", M2: m2, From: from, Expires: expires}
	}
	cases := []struct {
		name   string
		supply []shop.Supply
		in     line.Tick // -1: never
	}{
		{"all there: 4 × 0.1 m²", []shop.Supply{supply("a", 0.4, at(s, 0, 0, 0), at(s, 9, 0, 0))}, clock(9, 0)},
		{"more at 10:00", []shop.Supply{supply("a", 0.3, at(s, 0, 0, 0), at(s, 9, 0, 0)), supply("b", 0.1, at(s, 0, 10, 0), at(s, 9, 0, 0))}, clock(10, 24)},
		{"a roll that expires before the cure", []shop.Supply{supply("a", 9, at(s, 0, 0, 0), at(s, 0, 9, 9)), supply("b", 9, at(s, 0, 10, 0), at(s, 9, 0, 0))}, clock(10, 24)},
		{"a roll that expires as the cure starts", []shop.Supply{supply("a", 9, at(s, 0, 0, 0), at(s, 0, 9, 10))}, clock(9, 0)},
		{"never enough", []shop.Supply{supply("a", 0.39, at(s, 0, 0, 0), at(s, 9, 0, 0))}, -1},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			s.Supply = c.supply
			table := compile(s)
			l := load(t, table, 1, clock(9, 0), run(0, 4))
			if ok := table.Place(l); ok != (c.in >= 0) || ok && l.In != c.in {
				t.Errorf("placed %t at %d, want %d", ok, l.In, c.in)
			}
		})
	}
}

// Nothing is cut that cannot be cured in time: an oven that closes for the
// weekend takes a load meant for Friday 15:25 on Monday, and its flags, good for
// ten hours, are cut on Monday too.
func TestPlace_OpenTimeOverTheWeekend(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(*shop.Shop)
		in     line.Tick
		cut    line.Tick
	}{
		{"ten hours", func(s *shop.Shop) { s.Prepregs[0].MaxOpenMinutes = 600 }, 7*1440 + clock(7, 24), 7*1440 + clock(7, 0)},
		// From Friday 15:06 to Monday 7:10 are 3 days less 7:56, 3844 minutes.
		{"just long enough", func(s *shop.Shop) { s.Prepregs[0].MaxOpenMinutes = 3844 }, 7*1440 + clock(7, 0), 4*1440 + clock(15, 6)},
		// What is cut a minute later is cured a minute later: all of it waits for Monday.
		{"a minute too short", func(s *shop.Shop) { s.Prepregs[0].MaxOpenMinutes = 3843 }, 7*1440 + clock(7, 24), 7*1440 + clock(7, 0)},
		// Rolled on Friday at 15:30, wrapped on Monday from 7:00 to 7:08
		{"wrapped pieces may lie an hour", func(s *shop.Shop) { s.Policy.MaxGreenMinutes = 60 }, 7*1440 + clock(7, 8), 4*1440 + clock(15, 14)},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := bench()
			s.Ovens[0].Calendar = "floor"
			c.change(s)
			table := compile(s)
			l := placed(t, table, load(t, table, 1, 4*1440+clock(15, 25), run(0, 4)))
			if cut := stageRows(l, shop.Cut)[0].start; l.In != c.in || cut != c.cut {
				t.Errorf("in at %d, cut at %d; want %d and %d", l.In, cut, c.in, c.cut)
			}
		})
	}
}

// Released work has its share first: of a position, an oven, mandrels, racks and
// people.
func TestPlace_ReleasedWorkFirst(t *testing.T) {
	release := func(s *shop.Shop, tasks ...shop.Task) {
		s.Ovens = append(s.Ovens, shoptest.BareOven("released oven", "cure"))
		s.Released = &shop.Released{Tasks: tasks, Loads: []shop.Load{{
			ID: "R", Oven: "released oven", Profile: "cure",
			In: at(s, 0, 8, 0), CureStart: at(s, 0, 8, 10), CureEnd: at(s, 0, 9, 10), Out: at(s, 0, 9, 20),
			Racks: []shop.RackUse{{Rack: "rack", Setup: "one level", Levels: [][]shop.Hang{{{Section: "S", Pieces: 4}}}}},
		}}}
	}
	task := func(stage shop.Stage, from, to shop.Instant) shop.Task {
		return shop.Task{Load: "R", Section: "S", Stage: stage, Position: 1, Pieces: 4, Start: from, End: to}
	}
	cases := []struct {
		name   string
		change func(*shop.Shop)
		in     line.Tick // of a load meant for 9:00
		wrap   line.Tick // when it is wrapped
	}{
		{"nothing taken", func(s *shop.Shop) { release(s) }, clock(9, 0), clock(8, 52)},
		{"the wrapping position from 8:49 to 8:58", func(s *shop.Shop) {
			release(s, task(shop.Wrap, at(s, 0, 8, 49), at(s, 0, 8, 58)))
		}, clock(9, 0), clock(8, 41)},
		{"the oven until 9:20", func(s *shop.Shop) {
			release(s)
			s.Released.Loads[0].Oven = "oven"
		}, clock(9, 20), clock(9, 12)},
		// Tacked before now, pulled until 9:40, cleaned for 5 minutes
		{"all four mandrels", func(s *shop.Shop) {
			s.Mandrels, s.MandrelTypes[0].TurnaroundMinutes = s.Mandrels[:4], 5
			release(s, task(shop.Tack, at(s, -1, 9, 0), at(s, -1, 9, 8)), task(shop.Pull, at(s, 0, 9, 36), at(s, 0, 9, 40)))
		}, clock(10, 5), clock(9, 57)},
		{"the one rack, until pulled at 9:40", func(s *shop.Shop) {
			s.Racks[0].Count = 1
			release(s, task(shop.Pull, at(s, 0, 9, 36), at(s, 0, 9, 40)))
		}, clock(9, 48), clock(9, 40)},
		{"the one pair of hands, pulling", func(s *shop.Shop) {
			s.Crews = []shop.Crew{{ID: "hands", Shifts: []shop.Shift{{Calendar: "floor", People: 1}}}}
			s.Stations.Wrap.Crew, s.Stations.Wrap.People = "hands", 1
			s.Stations.Pull.Crew, s.Stations.Pull.People = "hands", 1
			release(s, task(shop.Pull, at(s, 0, 8, 45), at(s, 0, 8, 55)))
		}, clock(9, 0), clock(8, 37)},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			s := bench()
			c.change(s)
			table := compile(s)
			l := placed(t, table, load(t, table, 1, clock(9, 0), run(0, 4)))
			if wrap := stageRows(l, shop.Wrap)[0].start; l.In != c.in || wrap != c.wrap {
				t.Errorf("in at %d, wrapped from %d; want %d and %d", l.In, wrap, c.in, c.wrap)
			}
		})
	}
}

// A load that ends past the horizon finds no place, nor does one that may not go
// in as late as it must.
func TestPlace_RefusesWhatIsTooLate(t *testing.T) {
	s := bench()
	s.HorizonDays = 1
	table := compile(s)
	// Pulled, stripped and trimmed by 15:30 at the latest: out by 14:48
	if l := load(t, table, 1, clock(13, 28), run(0, 4)); !table.Place(l) || l.In != clock(13, 28) {
		t.Errorf("in at %d, want 13:28", l.In)
	}
	table = compile(s)
	if l := load(t, table, 1, clock(13, 29), run(0, 4)); table.Place(l) || l.Placed() {
		t.Errorf("placed at %d, though trimming would end the day after", l.In)
	}
	table = compile(bench())
	l := load(t, table, 1, clock(6, 0), run(0, 4))
	if l.Latest = clock(7, 23); table.Place(l) {
		t.Errorf("in at %d, though 7:24 is too late", l.In)
	}
	if l.Latest = clock(7, 24); !table.Place(l) {
		t.Error("no place at 7:24")
	}
}

// The last start before the oven closes is not passed over: what is upstream takes
// 6 minutes from 7:00, and a set-up, of which no stage tells how much later it asks
// the load to be.
func TestPlace_LastStartBeforeTheOvenCloses(t *testing.T) {
	for setup := range 60 {
		s := bench()
		s.Stations.Tack.SetupMinutes = setup
		s.Calendars["morning"] = shop.Calendar{Weekly: shop.Weekly{Mon: []shop.Window{{7 * 60, shop.Clock(7*60 + 16 + setup)}}}}
		s.Ovens[0].Calendar = "morning"
		table := compile(s)
		l := load(t, table, 1, 0, run(0, 1))
		if !table.Place(l) || l.In != clock(7, 6+setup) {
			t.Errorf("set up for %d minutes, the load goes in at %d, want %d", setup, l.In, clock(7, 6+setup))
		}
	}
}

// A start for which other work leaves a station too little time is the station's
// doing, not that of how long prepreg may lie.
func TestPlaceWhere_StationTaken(t *testing.T) {
	s := bench()
	s.Ovens = append(s.Ovens, shoptest.BareOven("another", "cure"))
	s.Prepregs[0].MaxOpenMinutes = 2000
	table := compile(s)
	placed(t, table, load(t, table, 1, 0, run(0, 60)))
	l, ok := line.NewLoad(table.Instance(), 2, 1, 0, []rack.Run{run(0, 30)})
	if !ok {
		t.Fatal("the load does not fit")
	}
	l.Target = clock(9, 0)
	var watch line.Watch
	if !table.PlaceWhere(l, &watch) || len(watch.Obstacles) == 0 {
		t.Fatalf("in at %d, after the obstacles %v", l.In, watch.Obstacles)
	}
	if o := watch.Obstacles[0]; o.Kind != line.StationBusy {
		t.Errorf("the first obstacle is %+v", o)
	}
}
