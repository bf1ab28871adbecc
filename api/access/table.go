package access

import (
	"maps"
	"slices"
	"strings"
)

// A set of roles, a bit for each.
type set uint

const (
	planner set = 1 << iota
	sales
	crib
	station
	viewer
	admin

	// everyone needs no account at all.
	everyone set = 1 << 31
	// anyone has an account, whatever its roles.
	anyone = planner | sales | crib | station | viewer | admin
)

var bits = map[Role]set{Planner: planner, Sales: sales, Crib: crib, Station: station, Viewer: viewer, Admin: admin}

func (s set) has(r Role) bool { return s&bits[r] != 0 }

// table says which roles may carry out each operation. An operation without a
// row is refused to all, and a server with such a route does not start.
var table = map[string]set{
	// The server itself.
	"alive":        everyone,
	"ready":        everyone,
	"read-openapi": everyone,
	"read-metrics": viewer | admin,
	"read-events":  anyone,
	"read-trail":   planner | sales | crib | admin,

	// The pages: their frame, and those that only show.
	"open-pages": everyone,
	"see-pages":  anyone,

	// Accounts and tokens.
	"begin-session":  everyone,
	"end-session":    everyone,
	"read-caller":    anyone,
	"make-first":     everyone,
	"list-accounts":  admin,
	"read-account":   admin,
	"add-account":    admin,
	"change-account": admin,
	"remove-account": admin,
	"set-password":   anyone, // one's own
	"list-tokens":    admin,
	"add-token":      admin,
	"remove-token":   admin,

	// The catalog, and the whole as a shop file.
	"read-catalog":    anyone,
	"change-catalog":  planner,
	"change-settings": planner | admin,
	"change-downtime": planner,
	"set-wrap-recipe": planner,
	"import":          admin,
	"export":          planner | admin,

	// Demand and stock.
	"list-dealers":   anyone,
	"read-dealer":    anyone,
	"put-dealer":     sales | planner,
	"remove-dealer":  sales | planner,
	"read-demand":    anyone,
	"change-orders":  sales | planner,
	"hold-lines":     sales | planner,
	"change-restock": sales | planner,
	"move-stock":     sales | planner,
	"ship":           sales | planner,

	// Plans, what they raise, the tick, and what the floor has of them.
	"read-plans":        anyone,
	"make-plan":         planner,
	"stop-run":          planner,
	"put-plan-in-force": planner,
	"read-notices":      anyone,
	"see-notice":        planner | sales | crib | station,
	"change-tick":       planner | admin,

	"read-floor": anyone,

	// The crib: mandrels and rolls. Stations take tools and material, and give
	// them back; what is wrong with either the crib decides.
	"list-mandrels":         anyone,
	"read-mandrel":          anyone,
	"read-mandrel-history":  anyone,
	"read-mandrel-failures": anyone,
	"add-mandrel":           planner | crib,
	"change-mandrel":        planner | crib,
	"issue-mandrels":        planner | crib | station,
	"return-mandrels":       planner | crib | station,
	"move-mandrels":         planner | crib,
	"pick-mandrels":         anyone,
	"read-mandrels-ahead":   anyone,
	"count-mandrels":        anyone,
	"list-mandrel-limits":   anyone,
	"set-mandrel-limit":     planner | crib,
	"list-rolls":            anyone,
	"read-roll":             anyone,
	"read-roll-history":     anyone,
	"add-roll":              planner | crib,
	"change-roll":           planner | crib,
	"take-out-roll":         planner | crib | station,
	"put-in-roll":           planner | crib | station,
	"draw-roll":             planner | crib | station,
	"hold-roll":             planner | crib | station,
	"clear-roll":            planner | crib,
	"discard-roll":          planner | crib,

	// Released work and reports of it.
	"release":        planner,
	"undo-release":   planner,
	"report-begun":   planner | station,
	"report-done":    planner | station,
	"report-in":      planner | station,
	"report-out":     planner | station,
	"correct-report": planner | station,
}

// whose names the roles that may carry out an operation.
func whose(operation string) string {
	var names []string
	for _, role := range AllRoles() {
		if table[operation].has(role) {
			names = append(names, string(role))
		}
	}
	return strings.Join(names, ", ")
}

// Known reports whether the table has a row for an operation.
func Known(operation string) bool {
	_, known := table[operation]
	return known
}

// ForEveryone reports whether an operation needs no account.
func ForEveryone(operation string) bool { return table[operation] == everyone }

// Operations returns the operations of the table, sorted.
func Operations() []string { return slices.Sorted(maps.Keys(table)) }
