package shoptest_test

import (
	"fmt"
	"reflect"
	"strings"
	"testing"

	"blankwright/scheduler/shop"
	. "blankwright/scheduler/shoptest"
)

// Each field that the contract calls optional (section 3) is there in some
// shop and absent in some other.
func TestMake_OptionalFields(t *testing.T) {
	optional := []string{
		"Station.crew", "Station.people", "Station.last_setup", "Section.profiles", "Shop.supply",
		"Oven.busy_until", "Rack.busy_until", "Mandrel.ready_at", "Shop.incoming", "Shop.downtime", "Shop.released",
		"Product.stock", "Oven.unattended", "Oven.lag_minutes_per_kg", "Oven.crew", "Oven.people",
		"Line.order", "Line.complete", "Calendar.exceptions", "Shop.crews",
	}
	present, absent := map[string]bool{}, map[string]bool{}
	for seed := range seeds {
		observe(reflect.ValueOf(Make(seed, Size{})), present, absent)
	}
	for _, field := range optional {
		if !present[field] || !absent[field] {
			t.Errorf("%s: present %t, absent %t", field, present[field], absent[field])
		}
	}
}

// observe notes which fields of the structs in v have a value and which none.
func observe(v reflect.Value, present, absent map[string]bool) {
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			observe(v.Elem(), present, absent)
		}
	case reflect.Slice:
		for i := range v.Len() {
			observe(v.Index(i), present, absent)
		}
	case reflect.Map:
		for _, key := range v.MapKeys() {
			observe(v.MapIndex(key), present, absent)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			name, _, _ := strings.Cut(v.Type().Field(i).Tag.Get("json"), ",")
			field := fmt.Sprintf("%s.%s", v.Type().Name(), name)
			if v.Field(i).IsZero() || v.Field(i).Kind() == reflect.Slice && v.Field(i).Len() == 0 {
				absent[field] = true
			} else {
				present[field] = true
			}
			observe(v.Field(i), present, absent)
		}
	}
}

// The peculiarities that a planner has to cope with all turn up.
func TestMake_Peculiarities(t *testing.T) {
	left := map[string]func(*shop.Shop) bool{
		"clock change in the horizon": func(s *shop.Shop) bool { return (s.Horizon()-shop.At(s.Today(), 0, s.Zone()))%1440 != 0 },
		"night shift":                 func(s *shop.Shop) bool { return endsAtMidnight(s.Calendars["floor"].Weekly.Mon) },
		"closed day":                  func(s *shop.Shop) bool { return closedDay(s.Calendars["floor"].Exceptions) },
		"several crews":               func(s *shop.Shop) bool { return len(s.Crews) > 1 },
		"shifts that add up":          func(s *shop.Shop) bool { return len(s.Crews) > 0 && len(s.Crews[0].Shifts) > 1 },
		"several ovens":               func(s *shop.Shop) bool { return len(s.Ovens) > 1 },
		"several racks":               func(s *shop.Shop) bool { return len(s.Racks) > 1 },
		"several set-ups":             func(s *shop.Shop) bool { return len(s.Racks[0].Setups) > 1 },
		"several levels":              func(s *shop.Shop) bool { return len(s.Racks[0].Setups[len(s.Racks[0].Setups)-1].Levels) > 1 },
		"last set-up with nothing":    nothingSetUp,
		"one prepreg in two flags":    anySection(func(x shop.Section) bool { return len(x.Flags) > 1 && x.Flags[0].Prepreg == x.Flags[1].Prepreg }),
		"two prepregs in a section":   anySection(func(x shop.Section) bool { return len(x.Flags) > 1 && x.Flags[0].Prepreg != x.Flags[1].Prepreg }),
		"no yield loss":               anySection(func(x shop.Section) bool { return x.Yield == 1 }),
		"no finish days":              anyOf(func(s *shop.Shop) []shop.Product { return s.Products }, func(p shop.Product) bool { return p.FinishDays == 0 }),
		"four sections":               anyOf(func(s *shop.Shop) []shop.Product { return s.Products }, func(p shop.Product) bool { return len(p.Sections) == 4 }),
		"supply of nothing":           anySupply(func(s *shop.Shop, x shop.Supply) bool { return x.M2 == 0 }),
		"supply to come":              anySupply(func(s *shop.Shop, x shop.Supply) bool { return x.From.Minute > s.Now.Minute }),
		"supply that expires soon":    anySupply(func(s *shop.Shop, x shop.Supply) bool { return x.M2 > 0 && x.Expires.Minute < s.Horizon() }),
		"downtime of an oven":         anyDowntime(func(r string) bool { return strings.HasPrefix(r, "oven:") }),
		"downtime of a position":      anyDowntime(func(r string) bool { return strings.Contains(r, "/") }),
		"downtime of a stage":         anyDowntime(func(r string) bool { return !strings.ContainsAny(r, ":/") }),
		"weight with decimals":        anyLine(func(s *shop.Shop, l shop.Line) bool { return l.Weight == 1.5 }),
		"restock":                     anyLine(func(s *shop.Shop, l shop.Line) bool { return l.Kind == shop.KindRestock }),
		"due in the past":             anyLine(func(s *shop.Shop, l shop.Line) bool { return l.Due < s.Today() }),
		"complete without order":      anyLine(func(s *shop.Shop, l shop.Line) bool { return l.Complete && l.Order == "" }),
		"released and in the oven":    anyReleased(func(s *shop.Shop, l shop.Load) bool { return l.In.Minute < s.Now.Minute && s.Now.Minute < l.Out.Minute }),
		"released and out of it":      anyReleased(func(s *shop.Shop, l shop.Load) bool { return l.Out.Minute <= s.Now.Minute }),
	}
	for seed := range seeds {
		s := Make(seed, Size{})
		for name, is := range left {
			if is(s) {
				delete(left, name)
			}
		}
	}
	for name := range left {
		t.Errorf("no shop has: %s", name)
	}
}

func endsAtMidnight(windows []shop.Window) bool {
	return len(windows) > 1 && windows[len(windows)-1][1] == 1440
}

func closedDay(exceptions map[shop.Date][]shop.Window) bool {
	for _, windows := range exceptions {
		if len(windows) == 0 {
			return true
		}
	}
	return false
}

func nothingSetUp(s *shop.Shop) bool {
	for _, key := range s.Stations.Tack.LastSetup {
		if key == nil {
			return true
		}
	}
	return false
}

func anyOf[T any](list func(*shop.Shop) []T, is func(T) bool) func(*shop.Shop) bool {
	return func(s *shop.Shop) bool {
		for _, x := range list(s) {
			if is(x) {
				return true
			}
		}
		return false
	}
}

func anySection(is func(shop.Section) bool) func(*shop.Shop) bool {
	return anyOf(func(s *shop.Shop) []shop.Product { return s.Products }, func(p shop.Product) bool {
		return anyOf(func(*shop.Shop) []shop.Section { return p.Sections }, is)(nil)
	})
}

func anySupply(is func(*shop.Shop, shop.Supply) bool) func(*shop.Shop) bool {
	return func(s *shop.Shop) bool {
		return anyOf(func(s *shop.Shop) []shop.Supply { return s.Supply }, func(x shop.Supply) bool { return is(s, x) })(s)
	}
}

func anyLine(is func(*shop.Shop, shop.Line) bool) func(*shop.Shop) bool {
	return func(s *shop.Shop) bool {
		return anyOf(func(s *shop.Shop) []shop.Line { return s.Demand }, func(l shop.Line) bool { return is(s, l) })(s)
	}
}

func anyDowntime(is func(resource string) bool) func(*shop.Shop) bool {
	return anyOf(func(s *shop.Shop) []shop.Downtime { return s.Downtime }, func(d shop.Downtime) bool { return is(d.Resource) })
}

func anyReleased(is func(*shop.Shop, shop.Load) bool) func(*shop.Shop) bool {
	return func(s *shop.Shop) bool {
		if s.Released == nil {
			return false
		}
		return anyOf(func(s *shop.Shop) []shop.Load { return s.Released.Loads }, func(l shop.Load) bool { return is(s, l) })(s)
	}
}
