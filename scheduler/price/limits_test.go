package price_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"blankwright/scheduler/instance"
	"blankwright/scheduler/price"
	"blankwright/scheduler/shop"
	"blankwright/scheduler/shoptest"
)

// dayShift returns a bare shop of three days in which the stages after the oven are
// worked from 8:00 to 16:00, with a line of demand. Its first piece is in the oven
// at minute 4 and could be pulled at 66; the pull station opens at 480.
func dayShift() *shop.Shop {
	s := shoptest.Bare()
	s.HorizonDays = 3
	hours := []shop.Window{{8 * 60, 16 * 60}}
	s.Calendars["day"] = shop.Calendar{Weekly: shop.Weekly{Mon: hours, Tue: hours, Wed: hours}}
	for _, stage := range []shop.Stage{shop.Pull, shop.Strip, shop.Trim} {
		s.Stations.At(stage).Calendar = "day"
	}
	shoptest.AddLine(s, "P", 500, 0, 1)
	return s
}

// rooms returns the room of a limit of a shop by day: the three and the horizon's
// midnight.
func rooms(s *shop.Shop, kind, id string) []float64 {
	return price.HallOf(instance.New(shoptest.Accepted(s))).Rooms(kind, id)
}

// Each limit has the room that its own argument leaves it.
func TestLimits_Room(t *testing.T) {
	down := func(s *shop.Shop, resource string, from, to int64) {
		s.Downtime = append(s.Downtime, shop.Downtime{
			Resource: resource, From: shop.Instant{Minute: s.Now.Minute + from}, To: shop.Instant{Minute: s.Now.Minute + to},
		})
	}
	tests := []struct {
		name, kind, id string
		change         func(*shop.Shop)
		want           []float64
	}{
		{"a station after the oven: its windows", "station", "pull", func(*shop.Shop) {}, []float64{480, 960, 1440}},
		{"less downtime", "station", "pull", func(s *shop.Shop) { down(s, "pull", 1440+600, 1440+660) }, []float64{480, 900, 1380}},
		{"from when the first piece can be there: 482", "station", "trim", func(*shop.Shop) {}, []float64{478, 958, 1438}},
		{
			// Out at 957 at the latest to be pulled, stripped and trimmed by 960; wrapped
			// at 957 - 1 - 60 - 1 = 895. Wrap opens for new pieces at minute 3.
			"before the oven: up to the last wrap", "station", "wrap", func(*shop.Shop) {},
			[]float64{892, 892 + 1440, 892 + 2880},
		},
		{"positions add up", "station", "pull", func(s *shop.Shop) { s.Stations.Pull.Positions = 3 }, []float64{1440, 2880, 4320}},
		{
			"a position down leaves the others", "station", "pull",
			func(s *shop.Shop) { s.Stations.Pull.Positions = 2; down(s, "pull/2", 0, 1440) },
			[]float64{480, 480 + 960, 480 + 1920},
		},
		{
			// 1 + 60 + 1 minutes a load, from minute 4 on, out by 957: 15; then every 62
			// minutes until 957 of each day: (957 + 1440 - 4)/62 = 38 and 61.
			"pegs of the loads there can be", "oven", " oven",
			func(s *shop.Shop) { s.Racks = []shop.Rack{shoptest.BareRack("rack", 7)} },
			[]float64{15 * 7, 38 * 7, 61 * 7},
		},
		{
			"material by the last cut", "material", "prepreg",
			func(s *shop.Shop) {
				never := shop.Instant{Minute: s.Now.Minute + 90*1440}
				s.Products[0].Sections[0].Flags[0].LengthMM, s.Products[0].Sections[0].Flags[0].ButtMM = 1000, 1000
				s.Supply = []shop.Supply{
					{ID: "a", Prepreg: "prepreg", M2: 3, From: s.Now, Expires: never},
					{ID: "b", Prepreg: "prepreg", M2: 5, From: shop.Instant{Minute: s.Now.Minute + 894}, Expires: never},
					{ID: "c", Prepreg: "prepreg", M2: 8, From: shop.Instant{Minute: s.Now.Minute + 895}, Expires: never},
				}
			},
			[]float64{8, 16, 16},
		},
		{
			// Wrapped at 13, 23 and 33, all are pulled at 480, and free at 881. Of the
			// second round, wrapped at 893, 903 and 913, the first is out in time to be
			// trimmed; it is free at 2316 and done on that day once more, before the others.
			"mandrels, one piece after the other at the wrap", "mandrel", "mandrel",
			func(s *shop.Shop) {
				s.Mandrels, s.MandrelTypes[0].TurnaroundMinutes = s.Mandrels[:3], 400
				s.Products[0].Sections[0].Minutes.Wrap = 10
			},
			[]float64{3 + 1, 4 + 2 + 1, 7 + 2 + 2},
		},
		{
			// Two positions for one person are as good as one.
			"or behind one person", "mandrel", "mandrel",
			func(s *shop.Shop) {
				s.Mandrels, s.MandrelTypes[0].TurnaroundMinutes = s.Mandrels[:3], 400
				s.Crews = []shop.Crew{{ID: "hands", Shifts: []shop.Shift{{Calendar: "always", People: 1}}}}
				s.Stations.Wrap.Crew, s.Stations.Wrap.People, s.Stations.Wrap.Positions = "hands", 1, 2
				s.Products[0].Sections[0].Minutes.Wrap = 10
			},
			[]float64{3 + 1, 4 + 2 + 1, 7 + 2 + 2},
		},
		{"what stands there", "standing", "S", func(s *shop.Shop) {
			s.Products[0].Stock = 2
			s.Incoming = []shop.Incoming{{Section: "S", Pieces: 5, At: shop.Instant{Minute: s.Now.Minute + 1500}}}
		}, []float64{2, 7, 7}},
	}
	for _, test := range tests {
		s := dayShift()
		test.change(s)
		got := rooms(s, test.kind, test.id)
		if len(got) < 3 || !cmp.Equal(got[:3], test.want, cmpopts.EquateApprox(0, 1e-3)) {
			t.Errorf("%s: room %v, want %v", test.name, got, test.want)
		}
	}
}

// Released work comes first: a task at a position, and its people of a crew.
func TestLimits_Released(t *testing.T) {
	s := dayShift()
	s.Crews = []shop.Crew{{ID: "hands", Shifts: []shop.Shift{{Calendar: "day", People: 3}}}}
	s.Stations.Pull.Crew, s.Stations.Pull.People, s.Stations.Pull.Positions = "hands", 1, 2
	at := func(minute int64) shop.Instant { return shop.Instant{Minute: s.Now.Minute + minute} }
	s.Released = &shop.Released{
		Loads: []shop.Load{{ID: "R", Oven: "oven", Profile: "cure", In: at(-90), CureStart: at(-80), CureEnd: at(-20), Out: at(-10)}},
		Tasks: []shop.Task{{Load: "R", Section: "S", Stage: shop.Pull, Position: 1, Pieces: 5, Start: at(500), End: at(1440 + 490)}},
	}
	// Of two positions one is taken from minute 500 to 10 minutes into the next day:
	// 460 + 10 minutes of its windows.
	if got, want := rooms(s, "station", "pull"), []float64{960 - 460, 1920 - 470, 2880 - 470}; !cmp.Equal(got[:3], want) {
		t.Errorf("positions: room %v, want %v", got, want)
	}
	// Of three people two can work at positions, and one beside the released task.
	if got, want := rooms(s, "crew", "hands"), []float64{960 - 460, 1920 - 470, 2880 - 470}; !cmp.Equal(got[:3], want) {
		t.Errorf("the crew: room %v, want %v", got, want)
	}
	// One person more than there are positions does not help; one less does harm: from
	// minute 500 on nobody is left.
	s.Crews[0].Shifts[0].People = 1
	if got, want := rooms(s, "crew", "hands"), []float64{20, 20 + 470, 20 + 470 + 480}; !cmp.Equal(got[:3], want) {
		t.Errorf("a crew of one: room %v, want %v", got, want)
	}
}
