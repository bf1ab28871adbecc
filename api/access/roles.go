// Package access knows who asks and what they may do: accounts with their
// passwords, sessions for browsers, tokens for programs, the one table of what
// each role may do, and the lock against guessing.
//
// It knows no resource and draws no page. The packages of api import it; it
// imports api/respond and store.
package access

import (
	"slices"
)

// A Role is what an account or a token is for; one may have several.
type Role string

// The roles. Admin keeps accounts, tokens and the shop's settings; it does not
// include the others, but for looking.
const (
	Planner Role = "planner"
	Sales   Role = "sales"
	Crib    Role = "crib"
	Station Role = "station"
	Viewer  Role = "viewer"
	Admin   Role = "admin"
)

// AllRoles returns every role, in the order in which they are shown.
func AllRoles() []Role { return []Role{Planner, Sales, Crib, Station, Viewer, Admin} }

// IsRole reports whether a text names a role.
func IsRole(text string) bool { return slices.Contains(AllRoles(), Role(text)) }

// A Caller is who asks. One without a name is nobody: not signed in.
type Caller struct {
	Name  string
	Roles []Role
	Token bool // a program, by its token
}

// Nobody reports whether the caller is not signed in.
func (c Caller) Nobody() bool { return c.Name == "" }

// May reports whether the table lets the caller carry out an operation.
func (c Caller) May(operation string) bool {
	allowed, known := table[operation]
	return known && (allowed == everyone || slices.ContainsFunc(c.Roles, allowed.has))
}
