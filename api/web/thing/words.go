package thing

import (
	"reflect"
	"strings"

	"blankwright/scheduler/shop"
)

// measures are the ends of field names that say a unit.
var measures = []struct{ end, unit string }{
	{"_c_per_min", "°C/min"}, {"_minutes_per_kg", "min/kg"}, {"_mm", "mm"}, {"_kg", "kg"}, {"_minutes", "min"}, {"_days", "days"}, {"_c", "°C"},
}

// words are the labels that a field's name does not give by itself.
var words = map[string]string{
	"id": "id", "m2": "area, m²", "c": "temperature, °C", "minutes": "minutes", "od_mm": "outside at the butt, mm", "yield": "yield, share that is good",
	"nest_yield": "share of the area that nesting uses", "mon": "Monday", "tue": "Tuesday", "wed": "Wednesday", "thu": "Thursday", "fri": "Friday",
	"sat": "Saturday", "sun": "Sunday", "busy_until": "busy until", "setups": "set-ups", "from": "from", "to": "to", "kg": "weight, kg",
	"tack": "tack, min a piece", "roll": "roll, min a piece", "wrap": "wrap, min a piece", "pull": "pull, min a piece", "strip": "strip, min a piece", "trim": "trim, min a piece",
	"late_cost": "cost of a late set a day", "hold_cost": "cost of holding a set a day", "labour_cost": "cost of a set-up minute",
	"run_cost": "cost of a load", "hour_cost": "cost of a cure hour", "timezone": "time zone", "setup_minutes": "set-up, min", "last_setup": "set up now, position by position",
	"horizon_days": "days planned ahead", "clear_mm": "clear height, mm", "pitch_mm": "from peg to peg, mm", "od": "outside", "resource": "what is closed", "why": "why",
}

// Label is a field's name as a reader wants it.
func Label(name string) string {
	if word, ok := words[name]; ok {
		return word
	}
	for _, m := range measures {
		if base, ok := strings.CutSuffix(name, m.end); ok {
			return strings.ReplaceAll(base, "_", " ") + ", " + m.unit
		}
	}
	return strings.ReplaceAll(name, "_", " ")
}

func singular(label string) string {
	if label == "minutes" {
		return label
	}
	return strings.TrimSuffix(label, "s")
}

// refers says which fields hold the id of another thing, and of which kind.
var refers = map[string]string{
	"calendar": "calendar", "shipping_calendar": "calendar", "crew": "crew", "resin": "resin", "tape": "tape", "prepreg": "prepreg",
	"mandrel": "mandrel_type", "type": "mandrel_type",
}

// hints say how to write what is more than one value.
var hints = map[reflect.Type]string{
	typeOf[[]string]():                    "One to a line.",
	typeOf[[]*string]():                   "One to a line; - where nothing is set up.",
	typeOf[[]shop.Instant]():              "One to a line, as 2026-11-27T12:00.",
	typeOf[[]shop.Window]():               "As 07:00–11:30, 12:00–15:30; empty is closed.",
	typeOf[map[shop.Date][]shop.Window](): "One day to a line, as 2026-12-24: 07:00–12:00 or 2026-12-25: closed.",
}
