package line_test

import (
	"testing"

	"blankwright/scheduler/line"
	"blankwright/scheduler/shop"
)

// A trim task that is put off ends at the instant that is asked for, or starts as
// soon after it as its position and its crew have time.
func TestPutOff(t *testing.T) {
	day := line.Tick(1440)
	cases := []struct {
		name       string
		tighten    func(s *shop.Shop)
		until      line.Tick
		start, end line.Tick
	}{
		{"to another day", nil, day, day + clock(7, 0), day + clock(7, 4)},
		{"to end at the end of a window", nil, clock(15, 30), clock(15, 26), clock(15, 30)},
		{"into a pause", nil, clock(11, 40), clock(12, 0), clock(12, 4)},
		{"behind its position's downtime", func(s *shop.Shop) {
			s.Downtime = []shop.Downtime{{Resource: "trim/1", From: at(s, 1, 6, 0), To: at(s, 1, 9, 30)}}
		}, day, day + clock(9, 30), day + clock(9, 34)},
		{"until its crew is there", func(s *shop.Shop) {
			s.Calendars["noon"] = shop.Calendar{Weekly: shop.Weekly{Mon: []shop.Window{{0, 1440}}, Tue: []shop.Window{{13 * 60, 1440}}}}
			s.Crews = []shop.Crew{{ID: "finishers", Shifts: []shop.Shift{{Calendar: "noon", People: 1}}}}
			s.Stations.Trim.Crew, s.Stations.Trim.People = "finishers", 1
		}, day, day + clock(13, 0), day + clock(13, 4)},
	}
	for _, c := range cases {
		s := bench()
		if c.tighten != nil {
			c.tighten(s)
		}
		table := compile(s)
		task := &placed(t, table, load(t, table, 1, clock(9, 0), run(0, 4))).Trims()[0]
		if !table.PutOff(task, c.until) || task.Start != c.start || task.End != c.end {
			t.Errorf("put off %s: from %d to %d, want %d to %d", c.name, task.Start, task.End, c.start, c.end)
		}
	}
}

// Where there is no place before the horizon, a task stays where it is.
func TestPutOff_NotBeyondTheHorizon(t *testing.T) {
	table := compile(bench())
	task := &placed(t, table, load(t, table, 1, clock(9, 0), run(0, 4))).Trims()[0]
	before := *task
	if table.PutOff(task, table.Instance().Horizon) || task.Start != before.Start || task.End != before.End {
		t.Errorf("put off beyond the horizon, a task goes from %d to %d", task.Start, task.End)
	}
}
