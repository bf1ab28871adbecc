package access

import (
	"context"
	"crypto/rand"
	"crypto/subtle"
	"net/http"
	"sync"

	"blankwright/api/respond"
	"blankwright/scheduler/strict"
	"blankwright/store"
)

// A firstKey lets one person in, once, to make the first account.
type firstKey struct {
	mu  sync.Mutex
	key string
}

// HasAccounts reports whether there is any account.
func (g *Gate) HasAccounts(ctx context.Context) (bool, error) {
	accounts, err := g.books.Accounts(ctx)
	return len(accounts) > 0, err
}

// FirstKey makes the key by which the first admin is made; an earlier one is
// void. Whoever starts the server gets it, and nobody else.
func (g *Gate) FirstKey() string {
	g.first.mu.Lock()
	defer g.first.mu.Unlock()
	g.first.key = rand.Text()
	return g.first.key
}

// MakeFirst makes the first account, an admin of every role, for who has the
// key. The key is void afterwards.
func (g *Gate) MakeFirst(ctx context.Context, key, name, password string) error {
	g.first.mu.Lock()
	defer g.first.mu.Unlock()
	byAddress := "address " + addressOf(ctx).ip
	if wait := g.lockout.wait(byAddress); wait > 0 {
		return tooMany(wait)
	}
	if g.first.key == "" || subtle.ConstantTimeCompare([]byte(key), []byte(g.first.key)) != 1 {
		g.lockout.wrong(byAddress)
		return respond.New(http.StatusForbidden, "this link is not good, or has been used; start the server anew for another")
	}
	hash, err := g.Hash(ctx, "password", name, password)
	if err != nil {
		return err
	}
	all := AllRoles()
	names := make([]string, len(all))
	for i, r := range all {
		names[i] = string(r)
	}
	if _, err := g.books.AddFirstAccount(store.WithActor(ctx, name), store.Account{Name: name, Roles: names, Hash: hash}); err != nil {
		return err
	}
	g.first.key = ""
	return nil
}

// Hash returns the hash of an account's new password, or the problem with it,
// which is told of the field that it came in.
func (g *Gate) Hash(ctx context.Context, field, name, password string) (string, error) {
	if wrong := passwordProblem(password, name); wrong != "" {
		return "", strict.Problems{{Path: field, Message: wrong}}
	}
	return g.hasher.hash(ctx, password)
}
