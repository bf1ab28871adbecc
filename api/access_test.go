package api_test

import (
	"net/http"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"blankwright/api"
	"blankwright/api/access"
	"blankwright/api/apitest"
)

const password = "a long enough password"

// first makes the first admin by the key, and returns a client in his session.
func first(t *testing.T, h *apitest.House) *apitest.Client {
	t.Helper()
	answer := h.As().Do("POST", "/first-admin", map[string]string{
		"key": h.Server.Gate().FirstKey(), "name": "Maren", "password": password,
	}).Must(http.StatusCreated)
	return h.As().With("Cookie", cookie(t, answer))
}

// cookie returns the session that an answer sets.
func cookie(t *testing.T, a *apitest.Answer) string {
	t.Helper()
	text, _, _ := strings.Cut(a.Header.Get("Set-Cookie"), ";")
	if !strings.HasPrefix(text, "session=") {
		t.Fatalf("the answer sets no session: %v", a.Header)
	}
	return text
}

func signIn(h *apitest.House, name, password string) *apitest.Answer {
	return h.As().Do("POST", "/session", map[string]string{"name": name, "password": password})
}

// The first admin is made by the printed key, once, and is signed in.
func TestFirstAdmin(t *testing.T) {
	h := apitest.Open(t)
	key := h.Server.Gate().FirstKey()
	body := func(key string) map[string]string {
		return map[string]string{"key": key, "name": "Maren", "password": password}
	}
	h.As().Do("POST", "/first-admin", body("wrong")).Must(http.StatusForbidden)
	answer := h.As().Do("POST", "/first-admin", body(key)).Must(http.StatusCreated)
	var caller struct {
		Name  string
		Roles []string
	}
	h.As().With("Cookie", cookie(t, answer)).Get("/session").Must(http.StatusOK).Into(&caller)
	if caller.Name != "Maren" || !slices.Contains(caller.Roles, "admin") {
		t.Errorf("signed in as %+v, want the admin Maren", caller)
	}
	h.As().Do("POST", "/first-admin", body(key)).Must(http.StatusForbidden)
	again := h.Server.Gate().FirstKey() // as another start of the server would print
	h.As().Do("POST", "/first-admin", body(again)).Must(http.StatusConflict)
}

// A session's cookie is kept from scripts and from other sites, and needs TLS
// where the browser came by TLS.
func TestSession_Cookie(t *testing.T) {
	h := apitest.Open(t, func(c *api.Config) { c.Proxies = []string{"192.0.2.1"} })
	first(t, h)
	plain := signIn(h, "maren", password).Must(http.StatusOK).Header.Get("Set-Cookie")
	for _, want := range []string{"HttpOnly", "SameSite=Lax", "Path=/", "Expires="} {
		if !strings.Contains(plain, want) {
			t.Errorf("the cookie %q lacks %s", plain, want)
		}
	}
	if strings.Contains(plain, "Secure") {
		t.Errorf("the cookie %q needs TLS, which there is not", plain)
	}
	behind := h.As().With("X-Forwarded-For", "198.51.100.7").With("X-Forwarded-Proto", "https")
	secure := behind.Do("POST", "/session", map[string]string{"name": "Maren", "password": password}).Header.Get("Set-Cookie")
	if !strings.Contains(secure, "Secure") {
		t.Errorf("the cookie %q does not need TLS", secure)
	}
}

// A session ends by signing out, by time, and when its account gets another
// password, is disabled or removed.
func TestSession_Ends(t *testing.T) {
	tests := []struct {
		name string
		end  func(h *apitest.House, admin, c *apitest.Client)
	}{
		{"signed out", func(_ *apitest.House, _, c *apitest.Client) {
			c.Do("DELETE", "/session", nil).Must(http.StatusNoContent)
		}},
		{"time", func(h *apitest.House, _, _ *apitest.Client) { h.Clock.Advance(15 * time.Hour) }},
		{"password", func(h *apitest.House, admin, _ *apitest.Client) {
			h.Clock.Advance(time.Second)
			admin.With("If-Match", `"1"`).Do("PATCH", "/accounts/Ida", map[string]string{"password": "another long password"}).Must(http.StatusOK)
		}},
		{"disabled", func(_ *apitest.House, admin, _ *apitest.Client) {
			admin.With("If-Match", `"1"`).Do("PATCH", "/accounts/Ida", map[string]bool{"disabled": true}).Must(http.StatusOK)
		}},
		{"removed", func(_ *apitest.House, admin, _ *apitest.Client) {
			admin.With("If-Match", `"1"`).Do("DELETE", "/accounts/Ida", nil).Must(http.StatusNoContent)
		}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			h := apitest.Open(t)
			first(t, h)
			admin := h.As(access.Admin)
			admin.Do("POST", "/accounts", map[string]any{"name": "Ida", "roles": []string{"sales"}, "password": password}).Must(http.StatusCreated)
			c := h.As().With("Cookie", cookie(t, signIn(h, "Ida", password)))
			c.Get("/session").Must(http.StatusOK)
			test.end(h, admin, c)
			c.Get("/session").Must(http.StatusUnauthorized)
		})
	}
}

// Signing in gives a new session, and the browser's old one ends.
func TestSession_Renewed(t *testing.T) {
	h := apitest.Open(t)
	old := first(t, h)
	answer := old.Do("POST", "/session", map[string]string{"name": "Maren", "password": password}).Must(http.StatusOK)
	old.Get("/session").Must(http.StatusUnauthorized)
	h.As().With("Cookie", cookie(t, answer)).Get("/session").Must(http.StatusOK)
}

// Whoever guesses is locked out for a while, and so is who then has the right
// password; a name that no account has is treated the same.
func TestSession_LockOut(t *testing.T) {
	h := apitest.Open(t)
	first(t, h)
	for _, name := range []string{"Maren", "nobody"} {
		for range 5 {
			if p := signIn(h, name, "wrong").Must(http.StatusUnauthorized).Problem(); p.Detail != "no account has this name and password" {
				t.Errorf("the answer tells too much: %q", p.Detail)
			}
		}
		if wait := signIn(h, name, password).Must(http.StatusTooManyRequests).Header.Get("Retry-After"); wait != "30" {
			t.Errorf("Retry-After %q", wait)
		}
		h.Clock.Advance(time.Hour + time.Minute)
	}
	signIn(h, "Maren", password).Must(http.StatusOK)
}

// One's own password takes the old one, and ends all other sessions.
func TestPassword_Own(t *testing.T) {
	h := apitest.Open(t)
	other := first(t, h)
	c := h.As().With("Cookie", cookie(t, signIn(h, "Maren", password)))
	h.Clock.Advance(time.Second)
	const next = "quite another password"
	got := c.Do("PUT", "/session/password", map[string]string{"old": "wrong", "new": next}).Must(http.StatusUnprocessableEntity).Locations()
	if diff := cmp.Diff([]string{"body.old"}, got); diff != "" {
		t.Error(diff)
	}
	c.Do("PUT", "/session/password", map[string]string{"old": password, "new": "maren"}).Must(http.StatusUnprocessableEntity)
	answer := c.Do("PUT", "/session/password", map[string]string{"old": password, "new": next}).Must(http.StatusOK)
	other.Get("/session").Must(http.StatusUnauthorized)
	h.As().With("Cookie", cookie(t, answer)).Get("/session").Must(http.StatusOK)
	signIn(h, "Maren", password).Must(http.StatusUnauthorized)
	signIn(h, "Maren", next).Must(http.StatusOK)
	h.Admin().Do("PUT", "/session/password", map[string]string{"old": password, "new": next}).Must(http.StatusForbidden)
}

// Accounts are added, read, changed and removed; a stale change is refused and
// the last admin stays.
func TestAccounts(t *testing.T) {
	h := apitest.Open(t)
	first(t, h)
	admin := h.As(access.Admin)
	add := map[string]any{"name": "Ída Ó", "roles": []string{"sales", "crib"}, "password": password}
	etag := admin.Do("POST", "/accounts", add).Must(http.StatusCreated).Header.Get("ETag")
	admin.Do("POST", "/accounts", add).Must(http.StatusConflict)

	at := "/accounts/%C3%ADda%20%C3%B3" // in any case
	admin.Do("PATCH", at, map[string]any{"roles": []string{"viewer"}}).Must(http.StatusPreconditionRequired)
	admin.With("If-Match", "3").Do("PATCH", at, map[string]any{}).Must(http.StatusBadRequest)
	changed := admin.With("If-Match", etag).Do("PATCH", at, map[string]any{"roles": []string{"viewer"}}).Must(http.StatusOK)
	admin.With("If-Match", etag).Do("PATCH", at, map[string]any{"roles": []string{"sales"}}).Must(http.StatusPreconditionFailed)
	var account struct {
		Name  string
		Roles []string
		Rev   int
	}
	admin.Get(at).Must(http.StatusOK).Into(&account)
	if account.Name != "Ída Ó" || !slices.Equal(account.Roles, []string{"viewer"}) || account.Rev != 2 {
		t.Errorf("read %+v", account)
	}
	admin.With("If-Match", changed.Header.Get("ETag")).Do("DELETE", at, nil).Must(http.StatusNoContent)
	admin.Get(at).Must(http.StatusNotFound)

	admin.With("If-Match", "*").Do("PATCH", "/accounts/Maren", map[string]any{"roles": []string{"sales"}}).Must(http.StatusConflict)
	admin.With("If-Match", "*").Do("PATCH", "/accounts/Maren", map[string]any{"disabled": true}).Must(http.StatusConflict)
	admin.With("If-Match", "*").Do("DELETE", "/accounts/Maren", nil).Must(http.StatusConflict)
}

// A token lets a program in until it ends; it is shown once and kept nowhere.
func TestTokens(t *testing.T) {
	h := apitest.Open(t)
	admin := h.As(access.Admin)
	var made struct{ ID, Token string }
	admin.Do("POST", "/tokens", map[string]any{
		"name": "price list", "roles": []string{"admin"}, "ends": h.Clock.Now().Add(time.Hour),
	}).Must(http.StatusCreated).Into(&made)
	list := string(admin.Get("/tokens").Must(http.StatusOK).Text)
	if strings.Contains(list, made.Token) || !strings.Contains(list, "price list") {
		t.Errorf("the list is %s", list)
	}
	c := h.As().With("Authorization", "Bearer "+made.Token)
	c.Get("/tokens").Must(http.StatusOK)
	h.Clock.Advance(time.Hour)
	c.Get("/tokens").Must(http.StatusUnauthorized)
	admin.Do("DELETE", "/tokens/"+made.ID, nil).Must(http.StatusNoContent)
	admin.Do("DELETE", "/tokens/"+made.ID, nil).Must(http.StatusNotFound)
	for _, header := range []string{"Bearer bwt_forged", "Bearer ", "Basic bWFyZW46eA==", "nonsense"} {
		if got := h.As().With("Authorization", header).Get("/session").Must(http.StatusUnauthorized).Header.Get("WWW-Authenticate"); got == "" {
			t.Errorf("%q: nothing says how to be known", header)
		}
	}
}

// Everything that is wrong with an account or a token is named at once.
func TestAccess_BadInput(t *testing.T) {
	h := apitest.Open(t)
	first(t, h)
	past := h.Clock.Now().Add(-time.Hour)
	tests := []struct {
		name, path string
		body       any
		want       []string
	}{
		{"account without anything", "/accounts", map[string]any{}, []string{"body.name", "body.password", "body.roles"}},
		{"account of wrong types", "/accounts", map[string]any{"name": 1, "roles": "sales", "password": true}, []string{"body.name", "body.password", "body.roles"}},
		{"account with an unknown role", "/accounts", map[string]any{"name": "a", "roles": []string{"king"}, "password": password}, []string{"body.roles[0]"}},
		{"account with a short password", "/accounts", map[string]any{"name": "a", "roles": []string{"sales"}, "password": "short"}, []string{"body.password"}},
		{"account named by markup", "/accounts", map[string]any{"name": "<b>", "roles": []string{"sales"}, "password": password}, []string{"body.name"}},
		{"account with an unknown field", "/accounts", map[string]any{"name": "a", "roles": []string{"sales"}, "password": password, "hash": "x"}, []string{"body.hash"}},
		{"token that has ended", "/tokens", map[string]any{"name": " a", "roles": []string{"sales"}, "ends": past}, []string{"body.ends", "body.name"}},
		{"token that ends on no date", "/tokens", map[string]any{"name": "a", "roles": []string{"sales"}, "ends": "soon"}, []string{"body.ends"}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			got := h.As(access.Admin).Do("POST", test.path, test.body).Must(http.StatusUnprocessableEntity).Locations()
			slices.Sort(got)
			if diff := cmp.Diff(test.want, got); diff != "" {
				t.Error(diff)
			}
		})
	}
}

// Nothing that the server tells or keeps on its trail holds a password, a
// hash or a token.
func TestAccess_TellsNoSecret(t *testing.T) {
	h := apitest.Open(t)
	first(t, h)
	h.Admin().Get("/tokens").Must(http.StatusOK)
	entries, err := h.Books.Events(t.Context(), 0, 0)
	if err != nil || len(entries) < 2 {
		t.Fatalf("%d entries, error %v", len(entries), err)
	}
	told := h.Log.String() + string(h.As(access.Admin).Get("/accounts").Text)
	for _, e := range entries {
		told += string(e.From) + string(e.To)
	}
	for _, secret := range []string{password, "argon2id", "hash", "bwt_"} {
		if strings.Contains(told, secret) {
			t.Errorf("%q is told somewhere", secret)
		}
	}
}

// An open server takes everybody for its admin, by a name of its own machine.
func TestOpen(t *testing.T) {
	h := apitest.Open(t, func(c *api.Config) { c.Open = true })
	var caller struct{ Name string }
	h.As().Get("/session").Must(http.StatusOK).Into(&caller)
	if caller.Name != "demo" {
		t.Errorf("the caller is %q", caller.Name)
	}
	h.As().Get("/accounts").Must(http.StatusOK)
	for host, want := range map[string]int{
		"localhost:8080": http.StatusOK, "[::1]:8080": http.StatusOK, "127.0.0.1": http.StatusOK, "[::1]": http.StatusOK,
		"rebound.example:8080": http.StatusMisdirectedRequest, "192.0.2.1": http.StatusMisdirectedRequest,
	} {
		if got := h.As().Loose().With("Host", host).Get("/accounts").Status; got != want {
			t.Errorf("as %s: status %d, want %d", host, got, want)
		}
	}
}
