package sheet

import (
	"blankwright/scheduler/plan"
	"blankwright/scheduler/shop"
)

// Next returns the first day with work that has not begun by the plan's now:
// at three in the afternoon the next working day, at six in the morning, when
// no station has opened yet, the day itself. It is false where no such day has
// any work.
func Next(s *shop.Shop, p *plan.Plan) (shop.Date, bool) {
	today := s.Today()
	for day := today; day <= last(s, p); day++ {
		if day == today && begun(s, day) {
			continue
		}
		if !Of(s, p, day).Idle() {
			return day, true
		}
	}
	return 0, false
}

// begun reports whether some station has opened on a day before now.
func begun(s *shop.Shop, day shop.Date) bool {
	for _, stage := range shop.Stages() {
		calendar := s.Calendars[s.Stations.At(stage).Calendar]
		if open := calendar.Spans(day, day+1, s.Zone()); len(open) > 0 && open[0].From < s.Now.Minute {
			return true
		}
	}
	return false
}

// last returns the last date on which the plan has anything.
func last(s *shop.Shop, p *plan.Plan) shop.Date {
	end := s.Now.Minute
	for _, t := range p.Tasks {
		end = max(end, t.End.Minute)
	}
	for _, l := range p.Loads {
		end = max(end, l.Out.Minute)
	}
	return shop.DateAt(end, s.Zone())
}
