// Package apitest serves books to tests, as the server does, and holds every
// request and answer that passes against the OpenAPI document.
//
// Only tests import it.
package apitest

import (
	"context"
	"log/slog"
	"net/http"
	"strings"
	"testing"

	"blankwright/api"
	"blankwright/api/access"
	"blankwright/store"
	"blankwright/store/storetest"
)

// A House is books and a server over them, for one test.
type House struct {
	Books  *store.Books
	Clock  *storetest.Clock
	Server *api.Server
	Log    *Log

	t        testing.TB
	document *document
	tokens   map[string]string // by roles
}

// Open makes empty books in a folder of their own and serves them. change may
// alter the configuration.
func Open(t testing.TB, change ...func(*api.Config)) *House {
	t.Helper()
	h := &House{t: t, tokens: map[string]string{}, Log: &Log{}}
	h.Books, h.Clock = storetest.Open(t)
	c := api.Config{Books: h.Books, Now: h.Clock.Now, Log: slog.New(slog.NewJSONHandler(h.Log, nil))}
	c.Planning.Effort = usualEffort
	for _, change := range change {
		change(&c)
	}
	var err error
	if h.Server, err = api.New(c); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := h.Server.EndWork(context.Background()); err != nil {
			t.Error(err)
		}
	})
	h.document = readDocument(t, h.Server)
	return h
}

// usualEffort is how long plans are looked for in tests.
const usualEffort = 50

// As returns a client that has a token of some roles; of none, it is nobody.
func (h *House) As(roles ...access.Role) *Client {
	h.t.Helper()
	c := &Client{house: h, Header: http.Header{}}
	if len(roles) > 0 {
		c.Header.Set("Authorization", "Bearer "+h.token(roles))
	}
	return c
}

// Admin returns a client that may do what any role may.
func (h *House) Admin() *Client {
	h.t.Helper()
	return h.As(access.AllRoles()...)
}

func (h *House) token(roles []access.Role) string {
	h.t.Helper()
	names := make([]string, len(roles))
	for i, r := range roles {
		names[i] = string(r)
	}
	name := strings.Join(names, " ")
	if len(roles) == len(access.AllRoles()) {
		name = "all roles"
	}
	if h.tokens[name] == "" {
		token, hash := access.NewToken()
		_, err := h.Books.AddToken(context.Background(), store.Token{
			Name: name, Roles: names, Hash: hash, Ends: h.Clock.Now().AddDate(1, 0, 0),
		})
		if err != nil {
			h.t.Fatal(err)
		}
		h.tokens[name] = token
	}
	return h.tokens[name]
}
