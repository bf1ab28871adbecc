package shop

import (
	"fmt"
	"math"
	"time"

	"blankwright/scheduler/strict"
)

// A validator judges what the form alone does not: references, and the rules
// that tie one field to another. Numbers are judged by the types' own tags.
type validator struct {
	doc  *strict.Document
	shop *Shop
	ids  *ids
}

func validate(doc *strict.Document, s *Shop) {
	v := validator{doc, s, collect(doc, s)}
	v.head()
	v.calendars()
	v.people()
	v.materials()
	v.ovens()
	v.racks()
	v.products()
	v.demand()
	v.incoming()
	v.downtime()
	v.released()
}

func (v *validator) head() {
	if v.shop.Format != Format {
		v.doc.Add("format", "is %q, not %q", v.shop.Format, Format)
	}
	if !zoneKnown(v.shop.Timezone) {
		v.doc.Add("timezone", "%q is no IANA time zone, as Europe/Lisbon is", v.shop.Timezone)
	}
	if v.timed() && v.shop.Horizon() > latest.Minute {
		v.doc.Add("horizon_days", "the horizon ends after %s, the last instant of a file", latest)
	}
}

// zoneKnown refuses the two names that time.LoadLocation takes from the
// machine or makes up.
func zoneKnown(name string) bool {
	_, err := time.LoadLocation(name)
	return err == nil && name != "" && name != "Local"
}

// timed reports whether the horizon can be told.
func (v *validator) timed() bool {
	return !v.doc.Bad("timezone") && !v.doc.Bad("now") && !v.doc.Bad("horizon_days")
}

func (v *validator) calendars() {
	for _, id := range calendarIDs(v.shop) {
		c, path := v.shop.Calendars[id], strict.Field("calendars", id)
		for i, windows := range c.Weekly.days() {
			v.windows(path+".weekly."+weekdays[i], windows)
		}
		for day, windows := range c.Exceptions {
			v.windows(path+".exceptions."+day.String(), windows)
		}
	}
	id := v.shop.Policy.ShippingCalendar
	v.ids.calendars.Refer("policy.shipping_calendar", id)
	c, ok := v.shop.Calendars[id]
	if ok && !v.doc.Bad(strict.Field("calendars", id)) && !c.Weekly.opens() {
		v.doc.Add("policy.shipping_calendar", "%q opens on no weekday", id)
	}
}

func (v *validator) windows(path string, windows []Window) {
	for i, w := range windows {
		at := index(path, i)
		if read := !v.doc.Bad(at+"[0]") && !v.doc.Bad(at+"[1]"); read && w[1] <= w[0] {
			v.doc.Add(at, "the window %s to %s does not end after it begins", w[0], w[1])
		}
	}
}

func (v *validator) people() {
	for i, c := range v.shop.Crews {
		for j, s := range c.Shifts {
			v.ids.calendars.Refer(index(index("crews", i)+".shifts", j)+".calendar", s.Calendar)
		}
	}
	for _, stage := range Stages() {
		s, path := v.shop.Stations.At(stage), "stations."+stage.String()
		v.ids.calendars.Refer(path+".calendar", s.Calendar)
		v.ids.crews.Refer(path+".crew", s.Crew)
	}
}

func (v *validator) materials() {
	for i, r := range v.shop.Resins {
		v.soak(index("resins", i)+".soak", r.Soak)
	}
	for i, p := range v.shop.Prepregs {
		v.ids.resins.Refer(index("prepregs", i)+".resin", p.Resin)
	}
	for i, s := range v.shop.Supply {
		v.ids.prepregs.Refer(index("supply", i)+".prepreg", s.Prepreg)
	}
	for i, m := range v.shop.Mandrels {
		v.ids.mandrelTypes.Refer(index("mandrels", i)+".type", m.Type)
	}
}

// tolerance is how close two decimals are the same.
const tolerance = 0.000001

func (v *validator) soak(path string, points []SoakPoint) {
	for i, p := range points {
		if v.doc.Bad(index(path, i) + ".c") {
			continue
		}
		for j, other := range points[:i] {
			if math.Abs(p.C-other.C) <= tolerance && !v.doc.Bad(index(path, j)+".c") {
				v.doc.Add(index(path, i)+".c", "%v °C is already at %s", p.C, index(path, j))
				break
			}
		}
	}
}

func (v *validator) ovens() {
	for i, o := range v.shop.Ovens {
		path := index("ovens", i)
		for j, id := range o.Profiles {
			v.ids.profiles.Refer(index(path+".profiles", j), id)
		}
		v.ids.calendars.Refer(path+".calendar", o.Calendar)
		v.ids.crews.Refer(path+".crew", o.Crew)
	}
}

func (v *validator) racks() {
	for i, r := range v.shop.Racks {
		path := index("racks", i)
		if len(r.BusyUntil) > r.Count && !v.doc.Bad(path+".count") {
			v.doc.Add(path+".busy_until", "has %d instants for %d racks", len(r.BusyUntil), r.Count)
		}
	}
}

func (v *validator) products() {
	for i, p := range v.shop.Products {
		for j, s := range p.Sections {
			v.section(index(index("products", i)+".sections", j), s)
		}
	}
}

func (v *validator) section(path string, s Section) {
	v.ids.mandrelTypes.Refer(path+".mandrel", s.Mandrel)
	v.ids.tapes.Refer(path+".tape", s.Tape)
	for i, id := range s.Profiles {
		v.ids.profiles.Refer(index(path+".profiles", i), id)
	}
	for i, f := range s.Flags {
		v.ids.prepregs.Refer(index(path+".flags", i)+".prepreg", f.Prepreg)
	}
}

func (v *validator) demand() {
	for i, line := range v.shop.Demand {
		path := index("demand", i)
		v.ids.products.Refer(path+".product", line.Product)
		if line.Kind != KindOrder && line.Kind != KindRestock {
			v.doc.Add(path+".kind", "is %q, not %q or %q", line.Kind, KindOrder, KindRestock)
		}
	}
}

func (v *validator) incoming() {
	horizon := int64(math.MaxInt64)
	if v.timed() {
		horizon = v.shop.Horizon()
	}
	for i, in := range v.shop.Incoming {
		path := index("incoming", i)
		v.ids.sections.Refer(path+".section", in.Section)
		if in.At.Minute > horizon {
			v.doc.Add(path+".at", "%s lies beyond the horizon, which ends at %s", in.At, InstantIn(horizon, v.shop.Zone()))
		}
	}
}

func index(list string, i int) string { return fmt.Sprintf("%s[%d]", list, i) }
