package access

import (
	"context"
	"net/http"

	"blankwright/api/respond"
	"blankwright/store"
)

// SetPassword gives the caller's own account a new password. It wants the old
// one, so that a browser left open is not enough, and returns the cookie of a
// new session: all older ones are void.
func (g *Gate) SetPassword(ctx context.Context, old, next string) (*http.Cookie, error) {
	caller := From(ctx)
	if caller.Token || g.open {
		return nil, respond.New(http.StatusForbidden, "only a person with an account has a password")
	}
	byName := "name " + caller.Name
	if wait := g.lockout.wait(byName); wait > 0 {
		return nil, tooMany(wait)
	}
	account, err := g.books.Account(ctx, caller.Name)
	if err != nil {
		return nil, err
	}
	ok, err := g.hasher.matches(ctx, old, account.Hash)
	if err != nil {
		return nil, err
	}
	if !ok {
		g.lockout.wrong(byName)
		return nil, respond.New(http.StatusUnprocessableEntity, "1 problem",
			respond.Field{Location: "body.old", Message: "is not the account's password"})
	}
	hash, err := g.Hash(ctx, "new", caller.Name, next)
	if err != nil {
		return nil, err
	}
	if _, err := g.books.ChangeAccount(ctx, caller.Name, account.Rev, store.AccountChange{Hash: &hash}); err != nil {
		return nil, err
	}
	return g.begin(ctx, caller.Name, "")
}
