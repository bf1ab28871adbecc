package check_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"blankwright/scheduler/check"
	"blankwright/scheduler/plan"
	"blankwright/scheduler/shop"
)

// A work is tern's shop and plan, to be changed by a case.
type work struct {
	*shop.Shop
	plan *plan.Plan
}

// load returns one of the plan's loads.
func (w work) load(id string) *shop.Load {
	for i := range w.plan.Loads {
		if w.plan.Loads[i].ID == id {
			return &w.plan.Loads[i]
		}
	}
	panic("no load " + id)
}

// task returns the n-th of a run's tasks at a stage, from 0.
func (w work) task(load, section string, stage shop.Stage, n int) *shop.Task {
	for i := range w.plan.Tasks {
		t := &w.plan.Tasks[i]
		if t.Load == load && t.Section == section && t.Stage == stage {
			if n == 0 {
				return t
			}
			n--
		}
	}
	panic("no such task of load " + load)
}

// The ovens, the rack and the sections that cases change, by their ids. In the
// shop's lists, resins are E120 and E95, tapes film and poly, profiles slow and
// fast, prepregs carbon, scrim and veil.
func (w work) big() *shop.Oven   { return &w.Ovens[0] }
func (w work) small() *shop.Oven { return &w.Ovens[1] }
func (w work) long() *shop.Rack  { return &w.Racks[0] }

// pair is the two-piece product, of tip and butt.
func (w work) pair() *shop.Product { return &w.Products[0] }
func (w work) butt() *shop.Section { return &w.Products[0].Sections[1] }

// calendar gives a calendar other windows on one date.
func (w work) calendar(id, date string, windows ...shop.Window) {
	var day shop.Date
	if err := day.UnmarshalText([]byte(date)); err != nil {
		panic(err)
	}
	c := w.Calendars[id]
	exceptions := map[shop.Date][]shop.Window{day: windows}
	for d, old := range c.Exceptions {
		if d != day {
			exceptions[d] = old
		}
	}
	c.Exceptions = exceptions
	w.Calendars[id] = c
}

// instant returns an instant of October 2026, as "23 13:00" of Berlin.
func (w work) instant(text string) shop.Instant {
	l := newLayer(w.Shop)
	return l.instant(l.at(text))
}

func (w work) down(resource, from, to string) {
	w.Downtime = append(w.Downtime, shop.Downtime{Resource: resource, From: w.instant(from), To: w.instant(to)})
}

// move moves a task by minutes.
func move(t *shop.Task, minutes int64) {
	t.Start.Minute += minutes
	t.End.Minute += minutes
}

func hm(hour, minute int) shop.Clock { return shop.Clock(hour*60 + minute) }

// A ruleCase breaks tern's plan, or changes its shop so that the plan breaks
// it, and lists every rule that is then broken; none where it stays valid.
type ruleCase struct {
	name  string
	rules string
	do    func(w work)
}

var ruleCases = []ruleCase{
	{"R1 the oven lacks the profile", "R1", func(w work) { w.big().Profiles = []string{"slow"} }},
	{"R1 the profile heats just as fast as a resin allows", "", func(w work) { w.Resins[0].MaxRampCPerMin = 2.5 }},
	{"R1 the profile heats faster", "R1", func(w work) { w.Resins[0].MaxRampCPerMin = 2.49 }},
	{"R1 the profile is just as hot as a resin allows", "", func(w work) { w.Resins[0].MaxC = 130 }},
	{"R1 the profile is hotter", "R1", func(w work) { w.Resins[0].MaxC = 129.9 }},
	{"R1 a soak between two points is just enough", "", func(w work) { w.Resins[0].Soak[2].Minutes = 75 }},
	{"R1 a soak between two points is too short", "R1", func(w work) { w.Resins[0].Soak[2].Minutes = 75.1 }},
	{"R1 a soak at a point is too short", "R1", func(w work) { w.Resins[1].Soak[1].Minutes = 100.1 }},
	{"R1 no soak is in the table", "R1", func(w work) { w.Resins[1].Soak[1].C = 119 }},
	{"R1 the tape shrinks at the peak", "", func(w work) { w.Tapes[0].ShrinkFromC = 120 }},
	{"R1 the tape never shrinks", "R1", func(w work) { w.Tapes[0].ShrinkFromC = 120.1 }},
	{"R1 a hot shop shrinks the tape", "R2 cost", func(w work) { w.Tapes[0].ShrinkFromC, w.Tapes[0].MaxC, w.Policy.AmbientC = 122, 123, 122 }},
	{"R1 the tape burns", "R1", func(w work) { w.Tapes[1].MaxC = 129.9 }},
	{"R1 the section names another profile", "R1", func(w work) { w.butt().Profiles = []string{"slow"} }},
	{"R1 R15 released loads qualify unasked", "", func(w work) { w.Resins[0].MaxRampCPerMin, w.big().Profiles = 2.5, []string{"slow", "fast"} }},

	{"R2 a cure is longer", "R2", func(w work) { w.load("L-1").CureEnd.Minute++ }},
	{"R2 a cure is shorter", "R2", func(w work) { w.load("L-1").CureEnd.Minute-- }},
	{"R2 a heavier load trails more", "R2 cost", func(w work) { w.big().LagMinutesPerKg = 0.3 }},
	{"R2 cooling adds nothing where it is warm already", "R2 cost", func(w work) { w.Profiles[1].CoolToC = 140 }},
	{"R2 a sum just above a whole number is that number", "", func(w work) {
		w.Profiles[1].Segments[0].SoakMinutes = 10.0000005
		w.Profiles[1].Segments[1].SoakMinutes = 65
	}},

	{"R3 more racks than bays", "R3", func(w work) { w.big().Bays = 1 }},
	{"R3 no racks", "R2 R3 R8 cost", func(w work) { w.load("L-1").Racks = nil }},
	{"R3 an entry without pieces", "R3", func(w work) {
		level := &w.load("L-1").Racks[0].Levels[0]
		*level = append(*level, shop.Hang{Section: "one"})
	}},
	{"R3 the rack just fits the oven", "", func(w work) { w.big().HeightMM = 1900 }},
	{"R3 the rack is too high", "R3", func(w work) { w.big().HeightMM = 1899 }},
	{"R3 a mandrel hangs too low", "R3", func(w work) { w.MandrelTypes[1].HangMM = 780.1 }},
	{"R3 pegs are all taken", "", func(w work) { w.long().Setups[1].Levels[1].Pegs = 12 }},
	{"R3 too few pegs", "R3", func(w work) { w.long().Setups[1].Levels[1].Pegs = 11 }},
	{"R3 a wider gap takes another peg", "R3", func(w work) { w.Policy.GapMM = 25.1 }},
	{"R3 a rack carries all it may", "", func(w work) { w.long().MaxKg = 4.14 }},
	{"R3 a rack carries too much", "R3", func(w work) { w.long().MaxKg = 4.13 }},
	{"R3 an oven carries all it may", "", func(w work) { w.big().MaxKg = 43.88 }},
	{"R3 an oven carries too much", "R3", func(w work) { w.big().MaxKg = 43.87 }},
	{"R3 a level that the set-up lacks", "R3", func(w work) {
		rack := &w.load("L-1").Racks[0]
		rack.Levels = append(rack.Levels, nil)
	}},
	{"R3 levels left out at the end", "", func(w work) { w.load("L-4").Racks[0].Levels = w.load("L-4").Racks[0].Levels[:1] }},

	{"R4 the cure starts late", "R4", func(w work) { w.load("L-1").CureStart.Minute++; w.load("L-1").CureEnd.Minute++ }},
	{"R4 out comes with the cure's end", "R4", func(w work) { w.load("L-3").Out.Minute -= 7 }},
	{"R4 unloading follows the cure at once", "", func(w work) { w.load("L-3").Out.Minute -= 6 }},
	{"R4 in is before the oven is free", "R4", func(w work) { busy := w.instant("22 16:41"); w.big().BusyUntil = &busy }},
	{"R4 in is when the oven gets free", "", func(w work) { busy := w.instant("22 16:40"); w.big().BusyUntil = &busy }},
	{"R4 in is before now", "R4 R6 R13 cost", func(w work) { w.Now = w.instant("26 12:00"); w.plan.Now = w.Now; w.HorizonDays = 3 }},
	{"R4 loads overlap", "R4 R8", func(w work) { w.load("L-1").Out = w.instant("23 13:01") }},
	{"R4 R15 a load overlaps a released one", "R4", func(w work) {
		w.release("R-2").Out, w.load("R-2").Out = w.instant("22 16:41"), w.instant("22 16:41")
		w.big().People = 0
	}},
	{"R4 R15 released loads may overlap", "", func(w work) { w.release("R-1").Out, w.load("R-1").Out = w.instant("22 11:00"), w.instant("22 11:00") }},
	{"R4 downtime in a load", "R4", func(w work) { w.down("oven:small", "23 12:00", "23 12:01") }},
	{"R4 downtime before and after a load", "", func(w work) {
		w.down("oven:small", "23 09:00", "23 10:00")
		w.down("oven:small", "23 12:53", "23 13:00")
	}},
	{"R4 downtime that is none", "", func(w work) { w.down("oven:small", "23 12:00", "23 12:00") }},
	{"R4 loading lies in two windows", "R4", func(w work) {
		w.calendar("oven", "2026-10-22", shop.Window{hm(6, 30), hm(16, 45)}, shop.Window{hm(16, 46), hm(17, 0)})
	}},
	{"R4 loading lies in windows that touch", "", func(w work) {
		w.calendar("oven", "2026-10-22", shop.Window{hm(16, 45), hm(17, 0)}, shop.Window{hm(6, 30), hm(16, 45)})
	}},
	{"R4 unloading lies in no window", "R4", func(w work) { w.calendar("oven", "2026-10-23", shop.Window{hm(6, 31), hm(17, 0)}) }},
	{"R4 an attended cure lies in two windows", "R4", func(w work) {
		w.big().Calendar = "site"
		w.calendar("oven", "2026-10-23", shop.Window{hm(6, 30), hm(12, 0)}, shop.Window{hm(12, 1), hm(17, 0)})
	}},
	{"R4 an unattended cure lies in two windows", "", func(w work) {
		w.calendar("oven", "2026-10-23", shop.Window{hm(6, 30), hm(9, 0)}, shop.Window{hm(9, 30), hm(17, 0)})
	}},
	{"R4 the oven over night is attended", "R4", func(w work) { w.big().Unattended = false }},

	{"R5 too few racks", "R5", func(w work) { w.long().Count = 1 }},
	{"R5 all racks", "", func(w work) { w.long().Count, w.long().BusyUntil = 2, nil }},
	{"R5 a rack is busy as wrapping starts", "R5", func(w work) { w.long().Count, w.long().BusyUntil = 2, []shop.Instant{w.instant("26 07:47")} }},
	{"R5 a rack gets free as wrapping starts", "", func(w work) {
		w.long().Count, w.long().BusyUntil = 3, []shop.Instant{w.instant("22 12:00"), w.instant("26 07:46")}
	}},
	{"R5 R15 released loads have the racks first", "R5", func(w work) { w.long().Count, w.long().BusyUntil = 2, []shop.Instant{w.instant("22 13:30")} }},
	{"R5 R15 released loads may have more racks than there are", "", func(w work) {
		w.long().Count, w.long().BusyUntil = 2, []shop.Instant{w.instant("22 08:00"), w.instant("22 07:30")}
	}},

	{"R6 no such position", "R6", func(w work) { w.task("L-2", "one", shop.Trim, 0).Position = 2 }},
	{"R6 position 0", "R6", func(w work) { w.task("L-2", "one", shop.Trim, 0).Position = 0 }},
	{"R6 too many pieces in a task", "R6", func(w work) { w.Policy.TransferPieces = 3 }},
	{"R6 too many tasks", "R6", func(w work) { w.Policy.TransferPieces = 8 }},
	{"R6 a task of no pieces", "R6 R8", func(w work) { w.task("L-4", "butt", shop.Trim, 0).Pieces = 0 }},
	{"R6 a task starts in a pause", "R6 R13", func(w work) { move(w.task("L-4", "one", shop.Trim, 0), 86) }},
	{"R6 a task ends late", "R6", func(w work) { w.task("L-4", "butt", shop.Trim, 0).End.Minute++ }},
	{"R6 a task ends early", "R6", func(w work) { w.task("L-4", "butt", shop.Trim, 0).End.Minute-- }},
	{"R6 a longer set-up", "R6 cost", func(w work) { w.Stations.Wrap.SetupMinutes = 9 }},
	{"R6 downtime pauses a task", "R6", func(w work) { w.down("cut/1", "23 07:31", "23 07:32") }},
	{"R6 downtime of a stage pauses a task", "R6", func(w work) { w.down("cut", "23 07:31", "23 07:32") }},
	{"R6 downtime of another position", "", func(w work) { w.down("cut/2", "23 07:31", "23 07:32") }},
	{"R6 tasks overlap on a position", "R6", func(w work) { move(w.task("L-1", "one", shop.Pull, 1), -1) }},
	{"R6 R15 a task overlaps a released one", "R6", func(w work) {
		for _, t := range []*shop.Task{w.releasedTask("R-2", shop.Strip), w.task("R-2", "tip", shop.Strip, 0)} {
			t.Start, t.End = w.instant("23 07:02"), w.instant("23 07:04")
		}
	}},
	{"R6 the minutes of every flag of the prepreg count", "R6", func(w work) { w.butt().Flags[1].CutMinutes = 0 }},

	{"R7 a set-up unstated", "R7", func(w work) { w.task("L-3", "tip", shop.Wrap, 0).Setup = false }},
	{"R7 a set-up unneeded", "R7", func(w work) { w.task("L-3", "tip", shop.Wrap, 1).Setup = true }},
	{"R7 a set-up at a stage without", "R7", func(w work) { w.task("L-3", "tip", shop.Roll, 0).Setup = true }},
	{"R7 set up already by last_setup", "R6 R7 cost", func(w work) { key := "m-one"; w.Stations.Tack.LastSetup[1] = &key }},
	{"R7 no last_setup is as a missing one", "", func(w work) { w.Stations.Tack.LastSetup = w.Stations.Tack.LastSetup[:1] }},
	{"R7 a set-up without minutes is one", "R6 cost", func(w work) { w.Stations.Tack.SetupMinutes = 0 }},

	{"R8 a piece is missing", "R6 R8 R13", func(w work) { w.task("L-2", "one", shop.Trim, 0).Pieces-- }},
	{"R8 a task is missing", "R8", func(w work) { w.drop("L-2", "one", shop.Strip) }},
	{"R8 a task of a foreign prepreg", "R8", func(w work) { w.cutVeil() }},
	{"R8 a section that does not hang there", "R8 R13", func(w work) { w.task("L-2", "one", shop.Trim, 0).Section = "butt" }},
	{"R8 a task starts before its pieces are there", "R8", func(w work) { move(w.task("L-2", "one", shop.Tack, 0), -1) }},
	{"R8 all prepregs are cut before tacking", "R8", func(w work) { move(w.task("L-3", "tip", shop.Tack, 0), -1) }},
	{"R8 wrapping ends as the load goes in", "", func(w work) { w.moveLoad("L-2", -129) }},
	{"R8 wrapping ends after the load went in", "R8", func(w work) { w.moveLoad("L-2", -130) }},
	{"R8 pulling starts with the rest's end", "", func(w work) { w.Profiles[1].RestMinutes = 20 }},
	{"R8 pulling starts in the rest", "R8", func(w work) { w.Profiles[1].RestMinutes = 21 }},

	{"R9 a mandrel too few", "R9", func(w work) { w.mandrel("m-butt-1").State = "quarantine" }},
	{"R9 a mandrel is not ready yet", "R9", func(w work) { ready := w.instant("23 12:00"); w.mandrel("m-butt-1").ReadyAt = &ready }},
	{"R9 mandrels come back later", "R9", func(w work) { w.MandrelTypes[2].TurnaroundMinutes = 900 }},
	{"R9 turnaround counts the pull station's minutes", "R9", func(w work) {
		w.Stations.Pull.Calendar = "pulling"
		w.MandrelTypes[2].TurnaroundMinutes = 300
		w.calendar("pulling", "2026-10-23", shop.Window{hm(7, 0), hm(7, 3)}, shop.Window{hm(13, 0), hm(14, 0)})
	}},
	{"R9 R15 released loads have the mandrels first", "R9", func(w work) {
		for _, id := range []string{"m-tip-1", "m-tip-2"} {
			w.mandrel(id).State = "quarantine"
		}
		w.postpone("R-2", "23 14:00")
	}},

	{"R10 flags lie as long as they may", "", func(w work) { w.Prepregs[0].MaxOpenMinutes = 230 }},
	{"R10 flags lie too long", "R10", func(w work) { w.Prepregs[0].MaxOpenMinutes = 229 }},
	{"R10 green pieces lie as long as they may", "", func(w work) { w.Policy.MaxGreenMinutes = 197 }},
	{"R10 green pieces lie too long", "R10", func(w work) { w.Policy.MaxGreenMinutes = 196 }},

	{"R11 too few people", "R11", func(w work) { w.Crews[0].Shifts[0].People = 3 }},
	{"R11 nobody loads", "R11", func(w work) { w.Crews[0].Shifts = w.Crews[0].Shifts[:1] }},
	{"R11 an oven needs more", "R11", func(w work) { w.big().People = 2 }},
	{"R11 no crew, no people needed", "", func(w work) { w.big().Crew = ""; w.big().People = 9 }},
	{"R11 R15 released work has the people first", "R11", func(w work) {
		w.Mandrels = append(w.Mandrels, w.Mandrels[:4]...) // for L-3, while R-2 has four
		w.postpone("R-2", "23 10:03")
	}},

	{"R12 too little prepreg", "R12", func(w work) { w.Supply[0].M2 = 1.5 }},
	{"R12 none of a prepreg", "R12", func(w work) { w.Supply[2].M2 = 0 }},
	{"R12 no supply is no end", "", func(w work) { w.Supply = w.Supply[2:] }},
	{"R12 supply expires before the cure", "R12", func(w work) { w.Supply[0].Expires = w.instant("26 11:09") }},
	{"R12 supply expires with the cure's start", "", func(w work) { w.Supply[0].Expires = w.instant("26 11:10") }},
	{"R12 supply comes later", "R12", func(w work) { w.Supply[0].From = w.instant("23 07:31") }},
	{"R12 a smaller share of the roll is used", "R12", func(w work) { w.Prepregs[0].NestYield = 0.7 }},
	{"R12 R15 released work draws from now on", "R12", func(w work) { w.Supply[2].M2 = 0.17 }},
	{"R12 R15 what released work cut before now draws nothing", "", func(w work) { w.Supply[2].M2 = 0.30 }},

	{"R13 a line gets too much", "R13", func(w work) { w.Demand[2].Quantity = 1 }},
	{"R13 less stock", "R13", func(w work) { w.pair().Stock = 0 }},
	{"R13 more stock", "R13", func(w work) { w.pair().Stock = 2 }},
	{"R13 a lower yield", "R13", func(w work) { w.butt().Yield = 0.7 }},
	{"R13 a yield within the tolerance of a whole number", "", func(w work) { w.butt().Yield = 0.8333333 }},
	{"R13 incoming later", "R13", func(w work) { w.Incoming[0].At.Minute++ }},
	{"R13 sets before they are good", "R13", func(w work) { w.plan.Allocations[9].DoneAt.Minute-- }},
	{"R13 sets after they are good", "R13", func(w work) { w.plan.Allocations[9].DoneAt.Minute++ }},
	{"R13 sets before now", "R13 cost", func(w work) { w.plan.Allocations[0].DoneAt.Minute-- }},
	{"R13 no sets", "R13", func(w work) {
		w.plan.Allocations = append(w.plan.Allocations, plan.Allocation{Line: "D6", DoneAt: w.Now})
	}},
	{"R13 more sets than good", "R13 cost", func(w work) { w.plan.Allocations[10].Sets++ }},
	{"R13 an allocation in two rows", "", func(w work) {
		a := w.plan.Allocations[3]
		w.plan.Allocations[3].Sets = 1
		a.Sets = 3
		w.plan.Allocations = append(w.plan.Allocations, a)
	}},
	{"R13 R15 released trims still to come count", "R13", func(w work) { w.dropReleased("R-1", shop.Trim) }},

	{"R14 the horizon comes before an end", "R13 R14 cost", func(w work) { w.HorizonDays = 4 }},
	{"R14 a load is out beyond the horizon", "R8 R14", func(w work) { w.load("L-4").Out = w.instant("29 07:00") }},

	{"R15 a released load is missing", "R13 R15 cost", func(w work) { w.forget("R-1") }},
	{"R15 a released load's instant differs", "R15", func(w work) { w.load("R-1").In.Minute-- }},
	{"R15 a released load's offset differs", "", func(w work) { w.load("R-1").In.Offset = 0; w.task("R-1", "one", shop.Pull, 0).Start.Offset = 0 }},
	{"R15 a released load hangs otherwise", "R15", func(w work) { w.load("R-1").Racks[0].Levels[0][0].Pieces-- }},
	{"R15 a released load's empty levels at the end", "", func(w work) { w.load("R-2").Racks[0].Levels = append(w.load("R-2").Racks[0].Levels, nil) }},
	{"R15 a released task is missing", "R15", func(w work) { w.drop("R-1", "one", shop.Strip) }},
	{"R15 a released task differs", "R15", func(w work) { w.task("R-2", "tip", shop.Roll, 0).End.Minute++ }},
	{"R15 a task too many of a released load", "R15", func(w work) {
		t := *w.task("R-2", "tip", shop.Roll, 0)
		move(&t, 200)
		w.plan.Tasks = append(w.plan.Tasks, t)
	}},
	{"R15 a released task's set-up differs", "R15 cost", func(w work) { w.task("R-1", "one", shop.Wrap, 0).Setup = false }},

	{"cost a late cost off", "cost", func(w work) { w.plan.Cost.Late += 0.02 }},
	{"cost a hold cost off", "cost", func(w work) { w.plan.Cost.Hold -= 0.02 }},
	{"cost an oven cost off", "cost", func(w work) { w.plan.Cost.Oven += 0.02 }},
	{"cost a setup cost off", "cost", func(w work) { w.plan.Cost.Setup -= 0.02 }},
	{"cost a total off", "cost", func(w work) { w.plan.Cost.Total += 0.02 }},
	{"cost a total that is no number", "cost bound", func(w work) { w.plan.Cost.Total = math.NaN() }},
	{"cost within the tolerance", "", func(w work) { w.plan.Cost.Late += 0.01 }},
	{"cost a later due date", "cost", func(w work) { w.Demand[0].Due += 2 }},
	{"cost finishing takes longer", "cost", func(w work) { w.pair().FinishDays = 3 }},
	{"cost an order that need not ship complete", "cost", func(w work) { w.Demand[0].Complete = false }},
	{"cost complete without an order", "cost", func(w work) { w.Demand[6].Order = "" }},

	{"bound below 0", "bound", func(w work) { w.bound(-1) }},
	{"bound of 0", "", func(w work) { w.bound(0) }},
	{"bound of the cost", "", func(w work) { w.bound(w.plan.Cost.Total) }},
	{"bound above the cost", "bound", func(w work) { w.bound(w.plan.Cost.Total + 0.02) }},
	{"bound a gap off", "bound", func(w work) { w.plan.Bound.Gap += 0.0002 }},
	{"bound a bound that is no number", "bound", func(w work) { w.bound(math.NaN()) }},

	{"file another format", "file", func(w work) { w.plan.Format = "blankwright/plan/2" }},
	{"file another shop", "file", func(w work) { w.plan.Shop = "elsewhere" }},
	{"file another now", "file", func(w work) { w.plan.Now.Minute++ }},
	{"file a load id twice", "file", func(w work) { w.load("L-2").ID = "L-1" }},
	{"file no such oven", "file", func(w work) { w.load("L-2").Oven = "none" }},
	{"file no such profile", "file", func(w work) { w.load("L-2").Profile = "none" }},
	{"file no such rack", "file", func(w work) { w.load("L-2").Racks[0].Rack = "none" }},
	{"file no such set-up", "file", func(w work) { w.load("L-2").Racks[0].Setup = "two" }},
	{"file no such section on a level", "file", func(w work) { w.load("L-2").Racks[0].Levels[0][0].Section = "none" }},
	{"file no such load of a task", "file", func(w work) { w.plan.Tasks[50].Load = "none" }},
	{"file no such section of a task", "file", func(w work) { w.plan.Tasks[50].Section = "none" }},
	{"file no such stage", "file", func(w work) { w.plan.Tasks[50].Stage = 7 }},
	{"file no such prepreg", "file", func(w work) { w.task("L-2", "one", shop.Cut, 0).Prepreg = "none" }},
	{"file a prepreg at another stage", "file", func(w work) { w.task("L-2", "one", shop.Tack, 0).Prepreg = "carbon" }},
	{"file no such line", "file", func(w work) { w.plan.Allocations[0].Line = "none" }},
}

// Each rule has its limits where the contract puts them, and a plan that
// breaks it is reported under it and under no other.
func TestPlan_Rules(t *testing.T) {
	b := readBase(t, "tern")
	for _, c := range ruleCases {
		t.Run(c.name, func(t *testing.T) {
			s, p := b.parse(t)
			s.Calendars["oven"], s.Calendars["pulling"] = s.Calendars["site"], s.Calendars["floor"]
			w := work{s, p}
			w.big().Calendar, w.small().Calendar = "oven", "oven"
			c.do(w)
			r := check.Plan(s, p)
			if got, want := r.Rules(), strings.Fields(c.rules); !slices.Equal(got, want) {
				t.Errorf("rules %v are broken, want %v", got, want)
				for _, breach := range r.Breaches {
					t.Log(breach)
				}
			}
		})
	}
}

// release returns one of the shop's released loads.
func (w work) release(id string) *shop.Load {
	for i := range w.Released.Loads {
		if w.Released.Loads[i].ID == id {
			return &w.Released.Loads[i]
		}
	}
	panic("no released load " + id)
}

// releasedTask returns a released load's first task at a stage, in the shop.
func (w work) releasedTask(load string, stage shop.Stage) *shop.Task {
	for i := range w.Released.Tasks {
		if t := &w.Released.Tasks[i]; t.Load == load && t.Stage == stage {
			return t
		}
	}
	panic("no such released task of load " + load)
}

// postpone has the pulling of a released load begin late, in shop and plan.
func (w work) postpone(load, pull string) {
	for _, tasks := range [][]shop.Task{w.Released.Tasks, w.plan.Tasks} {
		for i := range tasks {
			if t := &tasks[i]; t.Load == load && t.Stage == shop.Pull {
				minutes := t.End.Minute - t.Start.Minute
				t.Start = w.instant(pull)
				t.End = w.instant(pull)
				t.End.Minute += minutes
			}
		}
	}
}

// drop drops a run's tasks at a stage from the plan.
func (w work) drop(load, section string, stage shop.Stage) {
	w.plan.Tasks = slices.DeleteFunc(w.plan.Tasks, func(t shop.Task) bool {
		return t.Load == load && t.Section == section && t.Stage == stage
	})
}

// dropReleased drops a released load's tasks at a stage from shop and plan.
func (w work) dropReleased(load string, stage shop.Stage) {
	gone := func(t shop.Task) bool { return t.Load == load && t.Stage == stage }
	w.Released.Tasks = slices.DeleteFunc(w.Released.Tasks, gone)
	w.plan.Tasks = slices.DeleteFunc(w.plan.Tasks, gone)
}

// forget drops a load and all of its tasks from the plan.
func (w work) forget(load string) {
	w.plan.Loads = slices.DeleteFunc(w.plan.Loads, func(l shop.Load) bool { return l.ID == load })
	w.plan.Tasks = slices.DeleteFunc(w.plan.Tasks, func(t shop.Task) bool { return t.Load == load })
}

// moveLoad moves a load's times in the oven by minutes.
func (w work) moveLoad(id string, minutes int64) {
	l := w.load(id)
	for _, i := range []*shop.Instant{&l.In, &l.CureStart, &l.CureEnd, &l.Out} {
		i.Minute += minutes
	}
}

// cutVeil adds a task that cuts three pieces of a prepreg that none of their
// flags is of, after all other cutting.
func (w work) cutVeil() {
	w.plan.Tasks = append(w.plan.Tasks, shop.Task{
		Load: "L-2", Section: "one", Stage: shop.Cut, Prepreg: "veil", Position: 1, Pieces: 3, Setup: true,
		Start: w.instant("27 07:00"), End: w.instant("27 07:06"),
	})
	w.plan.Cost.Setup += 6 * w.Policy.LabourCost
	w.plan.Cost.Total += 6 * w.Policy.LabourCost
	w.bound(0)
}

func (w work) mandrel(id string) *shop.Mandrel {
	for i := range w.Mandrels {
		if w.Mandrels[i].ID == id {
			return &w.Mandrels[i]
		}
	}
	panic("no mandrel " + id)
}

// bound states a bound, with the gap that goes with it.
func (w work) bound(total float64) {
	cost := w.plan.Cost.Total
	w.plan.Bound = plan.Bound{Total: total, Gap: (cost - total) / cost}
}
