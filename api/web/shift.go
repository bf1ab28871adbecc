package web

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"time"

	"github.com/gin-gonic/gin"

	"blankwright/scheduler/shop"
	"blankwright/scheduler/strict"
	"blankwright/store"
)

// addShift gives a crew people for one stretch of one day, by a calendar of its
// own, and opens what they work at.
func (p *pages) addShift(c *gin.Context) {
	err := p.shift(c)
	said := "The shift is added."
	if errors.Is(err, errSameShift) {
		said, err = "The shift is there. For more people in it, change the crew in the catalog.", nil
	}
	var opened string
	if err == nil {
		opened, err = p.openFor(c)
	}
	if err != nil {
		p.refuseChange(c, "shift", err)
		return
	}
	done(c, "/day", said+opened+" Plan again to see what that does.")
}

// openFor opens the calendars of what a crew works at for its shift, where the
// form asks for that, and says what was closed then.
func (p *pages) openFor(c *gin.Context) (string, error) {
	ctx := store.WithKey(c.Request.Context(), "")
	s, err := p.Books.Catalog(ctx)
	if err != nil {
		return "", err
	}
	date, window, err := stretchOf(c)
	if err != nil {
		return "", err
	}
	said := ""
	for _, id := range worksBy(s, c.PostForm("crew")) {
		calendar := s.Calendars[id]
		day := slices.Clone(calendar.Day(date))
		switch {
		case covers(day, window):
			continue
		case c.PostForm("open") == "" || hasPeople(s, id):
			said += fmt.Sprintf(" Calendar %s, by which some of what they work at is open, is closed for some of that time; it was left as it is.", id)
			continue
		}
		if err := p.openDay(ctx, id, date, union(append(day, window))); err != nil {
			return "", err
		}
		said += fmt.Sprintf(" Calendar %s is open then, too.", id)
	}
	return said, nil
}

// stretchOf reads when a shift is.
func stretchOf(c *gin.Context) (date shop.Date, window shop.Window, err error) {
	err = errors.Join(date.UnmarshalText([]byte(c.PostForm("date"))), window[0].UnmarshalText([]byte(c.PostForm("from"))), window[1].UnmarshalText([]byte(c.PostForm("to"))))
	return date, window, err
}

// worksBy are the calendars of the stations and ovens that a crew works at.
func worksBy(s *shop.Shop, crew string) []string {
	ids := map[string]bool{}
	for _, stage := range shop.Stages() {
		if station := s.Stations.At(stage); station.Crew == crew {
			ids[station.Calendar] = true
		}
	}
	for _, o := range s.Ovens {
		if o.Crew == crew {
			ids[o.Calendar] = true
		}
	}
	return slices.Sorted(maps.Keys(ids))
}

// hasPeople reports whether people come, or parcels go, by a calendar: it cannot be
// opened for one crew's shift without that.
func hasPeople(s *shop.Shop, calendar string) bool {
	return s.Policy.ShippingCalendar == calendar || slices.ContainsFunc(s.Crews, func(crew shop.Crew) bool {
		return slices.ContainsFunc(crew.Shifts, func(shift shop.Shift) bool { return shift.Calendar == calendar })
	})
}

// covers reports whether a day is open for a whole stretch of it.
func covers(day []shop.Window, stretch shop.Window) bool {
	return slices.ContainsFunc(union(slices.Clone(day)), func(w shop.Window) bool { return w[0] <= stretch[0] && stretch[1] <= w[1] })
}

// union sorts a day's windows and joins those that touch.
func union(day []shop.Window) []shop.Window {
	slices.SortFunc(day, func(a, b shop.Window) int { return int(a[0] - b[0]) })
	var out []shop.Window
	for _, w := range day {
		if last := len(out) - 1; last >= 0 && w[0] <= out[last][1] {
			out[last][1] = max(out[last][1], w[1])
			continue
		}
		out = append(out, w)
	}
	return out
}

// openDay makes one day of a calendar an exception.
func (p *pages) openDay(ctx context.Context, id string, date shop.Date, day []shop.Window) error {
	t, err := p.Books.Thing(ctx, "calendar", id)
	if err != nil {
		return err
	}
	var calendar shop.Calendar
	if err := json.Unmarshal(t.Body, &calendar); err != nil {
		return err
	}
	if calendar.Exceptions == nil {
		calendar.Exceptions = map[shop.Date][]shop.Window{}
	}
	calendar.Exceptions[date] = day
	body, err := json.Marshal(calendar)
	if err != nil {
		return err
	}
	_, err = p.Books.PutThing(ctx, "calendar", id, body, t.Rev)
	return err
}

// errSameShift says that the crew has the shift: the form was sent twice.
var errSameShift = errors.New("the crew has this shift")

// shift makes two changes, so that no key can stand for it.
func (p *pages) shift(c *gin.Context) error {
	ctx := store.WithKey(c.Request.Context(), "")
	people, problems := shiftPeople(c)
	t, err := p.Books.Thing(ctx, "crew", c.PostForm("crew"))
	if errors.Is(err, store.ErrNotFound) {
		problems, err = append(problems, strict.Problem{Path: "crew", Message: "is missing: choose a crew"}), nil
	}
	if err == nil {
		err = orNil(problems)
	}
	if err != nil {
		return err
	}
	var crew shop.Crew
	if err := json.Unmarshal(t.Body, &crew); err != nil {
		return err
	}
	calendar := fmt.Sprintf("extra %s %s %s", c.PostForm("date"), c.PostForm("from"), c.PostForm("to"))
	extra := shop.Shift{Calendar: calendar, People: people}
	if slices.Contains(crew.Shifts, extra) {
		return errSameShift
	}
	crew.Shifts = append(slices.Clone(crew.Shifts), extra)
	return p.putShift(ctx, c, calendar, crew, t.Rev)
}

// shiftPeople reads how many come, and says what is wrong with that, the day or
// the hours.
func shiftPeople(c *gin.Context) (people int, problems strict.Problems) {
	people, err := strconv.Atoi(c.PostForm("people"))
	if err != nil || people < 1 {
		problems = append(problems, strict.Problem{Path: "people", Message: fmt.Sprintf("%q is no whole number from 1", c.PostForm("people"))})
	}
	var date shop.Date
	if err := date.UnmarshalText([]byte(c.PostForm("date"))); err != nil {
		problems = append(problems, strict.Problem{Path: "date", Message: err.Error()})
	}
	for _, name := range []string{"from", "to"} {
		if _, err := time.Parse("15:04", c.PostForm(name)); err != nil {
			problems = append(problems, strict.Problem{Path: name, Message: "is no time of day, as 07:30"})
		}
	}
	if len(problems) == 0 && c.PostForm("to") <= c.PostForm("from") {
		problems = append(problems, strict.Problem{Path: "to", Message: "is not after " + c.PostForm("from") + ", from which it lasts"})
	}
	return people, problems
}

// putShift makes the shift's calendar, where it is not there, and the crew with
// it.
func (p *pages) putShift(ctx context.Context, c *gin.Context, calendar string, crew shop.Crew, rev int64) error {
	open := map[string]any{"exceptions": map[string]any{c.PostForm("date"): [][2]string{{c.PostForm("from"), c.PostForm("to")}}}}
	body, err := json.Marshal(open)
	if err != nil {
		return err
	}
	if _, err := p.Books.PutThing(ctx, "calendar", calendar, body, 0); err != nil {
		return err
	}
	text, err := json.Marshal(crew)
	if err != nil {
		return err
	}
	_, err = p.Books.PutThing(ctx, "crew", crew.ID, text, rev)
	return err
}
