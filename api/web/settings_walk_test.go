package web_test

import (
	"net/http"
	"regexp"
	"testing"

	"blankwright/api/access"
)

// The tick's hour and what becomes of its plan are changed by who may, refused at
// their fields, and seen by all; the second of two editors is told.
func TestWalk_Tick(t *testing.T) {
	h, _ := yard(t)
	admin := visit(t, h, access.Admin).open("/").must(http.StatusOK)
	admin.open(admin.link("The daily tick")).must(http.StatusOK).says("runs next Fri 27 Nov 2026 15:00", "stays a proposal", "none has run yet")
	planner := visit(t, h, access.Planner).open("/plans")
	planner.open(planner.link("The daily tick")).must(http.StatusOK)
	admin.submit("/tick", map[string]string{"at": "24:00", "release_days": "31"}).must(http.StatusUnprocessableEntity).says("must be from 00:00 to 23:59", "must be from 0 to 30")
	admin.submit("/tick", map[string]string{"at": "noon", "release_days": "x"}).must(http.StatusUnprocessableEntity).says(`"noon" is no clock time`, `"x" is no whole number`)
	admin.submit("/tick", map[string]string{"at": "16:30", "release_days": "2"}).must(http.StatusOK).says("Saved", "runs next Thu 26 Nov 2026 16:30", "2 working days of it")
	planner.submit("/tick", map[string]string{"at": "12:00"}).must(http.StatusPreconditionFailed).says("Somebody has changed this")
	values := held(find(admin.page, func(n *node) bool { return attribute(n, "action") == "/tick" }))
	values.Del("on")
	admin.send("/tick", values).must(http.StatusOK).says("it is off")

	due := h.Clock.Now()
	if begun, err := h.Books.BeginTick(t.Context(), due); err != nil || !begun {
		t.Fatal(begun, err)
	}
	if err := h.Books.EndTick(t.Context(), due, 0, "the shop has no calendar"); err != nil {
		t.Fatal(err)
	}
	viewer := visit(t, h, access.Viewer).open("/tick").must(http.StatusOK).says("Thu 26 Nov 2026 15:00: failed", "the shop has no calendar")
	viewer.send("/tick", nil).must(http.StatusForbidden)
}

// A token is made with what it may do, told once, lets a program in, and is
// ended; what is wrong with one is said at its fields.
func TestWalk_Token(t *testing.T) {
	h, _ := yard(t)
	admin := visit(t, h, access.Admin).open("/catalog")
	admin.open(admin.link("Tokens")).must(http.StatusOK)
	admin.open(admin.link("Make a token")).must(http.StatusOK)
	admin.submit("/tokens/new", map[string]string{"name": "price <list>", "ends": "2026-11-01T00:00"}).must(http.StatusUnprocessableEntity)
	admin.says("may have letters", "at least one role must be ticked", "has passed")
	admin.submit("/tokens/new", map[string]string{"name": "price list", "ends": "soon"}).must(http.StatusUnprocessableEntity).says("is no local date and time")
	values := held(find(admin.page, func(n *node) bool { return attribute(n, "action") == "/tokens/new" }))
	values.Set("name", "price list")
	values.Set("ends", "2027-01-01T00:00")
	values.Set("role-viewer", "true")
	admin.send("/tokens/new", values).must(http.StatusOK).says("It is told this once")
	token := regexp.MustCompile(`bwt_\w+`).FindString(admin.words())
	program := visit(t, h)
	program.client = program.client.With("Authorization", "Bearer "+token)
	program.open("/orders").must(http.StatusOK)
	program.open("/tokens").must(http.StatusForbidden)
	if admin.open("/tokens").says("price list", "Fri 1 Jan 2027 00:00"); regexp.MustCompile("bwt_").MatchString(admin.text) {
		t.Error("the token is told a second time")
	}
	values.Set("once", "a new form")
	admin.send("/tokens/new", values).must(http.StatusConflict).says("there is a token")
	remove := find(admin.open("/tokens").page, func(n *node) bool {
		return n.Data == "form" && regexp.MustCompile("^/tokens/.+/remove$").MatchString(attribute(n, "action")) && regexp.MustCompile("price list").MatchString(textOf(n))
	})
	admin.submit(attribute(remove, "action"), nil).must(http.StatusOK).says("The token is ended")
	program.open("/orders").must(http.StatusUnauthorized)
	visit(t, h, access.Planner).open("/tokens").must(http.StatusForbidden)
}
