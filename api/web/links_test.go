package web_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"

	"blankwright/api/access"
)

// No link of a page leads whom it is shown to where he may not go, or nowhere.
func TestWalk_Links(t *testing.T) {
	h, _ := yard(t)
	planner := visit(t, h, access.Planner).open("/").plan()
	planner.open("/day").submit("/plans/1/release", map[string]string{"until": "2026-11-28T00:00"}).must(http.StatusOK)
	for _, role := range []access.Role{access.Planner, access.Sales, access.Crib, access.Station, access.Viewer, access.Admin} {
		seen := map[string]bool{}
		for todo := []string{"/"}; len(todo) > 0; todo = todo[1:] {
			from := todo[0]
			v := visit(t, h, role).open(from)
			if v.status != http.StatusOK {
				t.Errorf("%s: %s answers %d", role, from, v.status)
				continue
			}
			if v.page == nil {
				continue
			}
			for _, to := range v.links() {
				if kind := kindOfAddress(to); !seen[kind] {
					seen[kind] = true
					todo = append(todo, to)
				}
			}
		}
		if len(seen) < 50 {
			t.Errorf("%s: only %d kinds of pages were found", role, len(seen))
		}
	}
}

// Who may issue and return but not hold or scrap is offered no more than that.
func TestWalk_Moves(t *testing.T) {
	h, s := yard(t)
	for _, address := range []string{"/crib", "/crib/mandrels/" + url.PathEscape(s.Mandrels[0].ID)} {
		keeper := visit(t, h, access.Crib).open(address).must(http.StatusOK)
		bench := visit(t, h, access.Station).open(address).must(http.StatusOK)
		for _, offered := range []string{"scrap", "quarantine"} {
			option := func(n *node) bool { return n.Data == "option" && attribute(n, "value") == offered }
			if find(bench.page, option) != nil {
				t.Errorf("%s: a station is offered %s", address, offered)
			}
			if find(keeper.page, option) == nil && address == "/crib" {
				t.Errorf("%s: the crib is not offered %s", address, offered)
			}
		}
	}
	viewer := visit(t, h, access.Viewer).open("/crib/mandrels/" + url.PathEscape(s.Mandrels[0].ID)).must(http.StatusOK)
	if find(viewer.page, func(n *node) bool { return n.Data == "select" && attribute(n, "name") == "move" }) != nil {
		t.Error("who only looks is offered to move a mandrel")
	}
}

// links are where the page leads within the program.
func (v *visitor) links() (out []string) {
	find(v.page, func(n *node) bool {
		if to := attribute(n, "href"); n.Data == "a" && strings.HasPrefix(to, "/") && !strings.HasPrefix(to, "/api/") {
			out = append(out, to)
		}
		return false
	})
	return out
}

// kindOfAddress is what addresses of one kind of page have in common: their words,
// without ids and dates.
func kindOfAddress(address string) string {
	u, err := url.Parse(address)
	if err != nil {
		return address
	}
	parts := strings.Split(u.EscapedPath(), "/")
	for i, part := range parts {
		if i > 2 || strings.ContainsAny(part, "0123456789%") {
			parts[i] = "*"
		}
	}
	keys := ""
	for key := range u.Query() {
		keys += key
	}
	return strings.Join(parts, "/") + "?" + keys
}
