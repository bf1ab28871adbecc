package construct_test

import (
	"testing"

	"blankwright/scheduler/construct"
	"blankwright/scheduler/instance"
	"blankwright/scheduler/shop"
	"blankwright/scheduler/shoptest"
)

// A shop is busy where a crew has little more time than its work takes: 8 hours a
// day of one person for 500 pieces of 12 minutes at the wrap are 100 hours, of 480
// in 60 days, or of 160 in 20. Without a crew nobody is busy.
func TestBusy(t *testing.T) {
	cases := []struct {
		name string
		crew bool
		days int
		want bool
	}{{"plenty of time", true, 60, false}, {"little time", true, 20, true}, {"no crew", false, 20, false}}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			s := shoptest.Bare()
			s.HorizonDays = c.days
			day := []shop.Window{{8 * 60, 16 * 60}}
			s.Calendars["hands"] = shop.Calendar{Weekly: shop.Weekly{Mon: day, Tue: day, Wed: day, Thu: day, Fri: day, Sat: day, Sun: day}}
			s.Products[0].Sections[0].Minutes.Wrap = 12
			if c.crew {
				s.Crews = []shop.Crew{{ID: "hands", Shifts: []shop.Shift{{Calendar: "hands", People: 1}}}}
				s.Stations.Wrap.Crew, s.Stations.Wrap.People = "hands", 1
			}
			shoptest.AddLine(s, "P", 500, 5, 1)
			if got := construct.Busy(instance.New(shoptest.Accepted(s))); got != c.want {
				t.Errorf("busy %v, want %v", got, c.want)
			}
		})
	}
}
