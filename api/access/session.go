package access

import (
	"context"
	"errors"
	"net/http"
	"time"

	"github.com/alexedwards/scs/v2"

	"blankwright/api/respond"
	"blankwright/store"
)

// cookieName is that of the session's cookie.
const cookieName = "session"

// sessionTime is how long a session lasts: a shift and its overtime.
const sessionTime = 14 * time.Hour

// What a session holds.
const (
	sessionName  = "name"  // the account's
	sessionBegun = "begun" // unix milliseconds; a later password voids it
)

func newSessions(books Keeper) *scs.SessionManager {
	m := scs.New()
	m.Store = sessionStore{books}
	m.HashTokenInStore = true
	return m
}

// bySession returns whose session a request's cookie names: nobody's, where
// there is none or the account has changed its password or is no more.
func (g *Gate) bySession(r *http.Request) (Caller, error) {
	cookie, err := r.Cookie(cookieName)
	if err != nil {
		return Caller{}, nil
	}
	ctx, err := g.sessions.Load(r.Context(), cookie.Value)
	if err != nil {
		return Caller{}, err
	}
	name := g.sessions.GetString(ctx, sessionName)
	if name == "" {
		return Caller{}, nil
	}
	account, err := g.books.Account(ctx, name)
	switch {
	case errors.Is(err, store.ErrNotFound):
		return Caller{}, nil
	case err != nil:
		return Caller{}, err
	case account.Disabled || g.sessions.GetInt64(ctx, sessionBegun) < account.PasswordAt.UnixMilli():
		return Caller{}, nil
	}
	return Caller{Name: account.Name, Roles: roles(account.Roles)}, nil
}

// SignIn begins a session for an account by its password, and returns the
// cookie that carries it. previous is the token of the session that the
// browser had, or "": it ends.
func (g *Gate) SignIn(ctx context.Context, name, password, previous string) (*http.Cookie, Caller, error) {
	byName, byAddress := "name "+name, "address "+addressOf(ctx).ip
	if wait := g.lockout.wait(byName, byAddress); wait > 0 {
		return nil, Caller{}, tooMany(wait)
	}
	account, err := g.books.Account(ctx, name)
	if err != nil && !errors.Is(err, store.ErrNotFound) {
		return nil, Caller{}, err
	}
	hash := ""
	if account != nil && !account.Disabled {
		hash = account.Hash
	}
	ok, err := g.hasher.matches(ctx, password, hash)
	if err != nil {
		return nil, Caller{}, err
	}
	if !ok {
		g.lockout.wrong(byName, byAddress)
		return nil, Caller{}, respond.New(http.StatusUnauthorized, "no account has this name and password")
	}
	g.lockout.right(byName)
	cookie, err := g.begin(ctx, account.Name, previous)
	return cookie, Caller{Name: account.Name, Roles: roles(account.Roles)}, err
}

// begin makes a session under a new token, so that none that was planted in
// the browser before is good after.
func (g *Gate) begin(ctx context.Context, name, previous string) (*http.Cookie, error) {
	ctx, err := g.sessions.Load(ctx, previous)
	if err != nil {
		return nil, err
	}
	if err := g.sessions.RenewToken(ctx); err != nil {
		return nil, err
	}
	g.sessions.Put(ctx, sessionName, name)
	g.sessions.Put(ctx, sessionBegun, g.now().UnixMilli())
	g.sessions.SetDeadline(ctx, g.now().Add(sessionTime)) // scs would ask the system's clock
	token, expires, err := g.sessions.Commit(ctx)
	if err != nil {
		return nil, err
	}
	return addressOf(ctx).cookie(&http.Cookie{
		Name: cookieName, Value: token, Path: "/", Expires: expires, HttpOnly: true, SameSite: http.SameSiteLaxMode,
	}), nil
}

// SignOut ends the session of a token, and returns the cookie that makes the
// browser forget it.
func (g *Gate) SignOut(ctx context.Context, token string) (*http.Cookie, error) {
	loaded, err := g.sessions.Load(ctx, token)
	if err != nil {
		return nil, err
	}
	if err := g.sessions.Destroy(loaded); err != nil {
		return nil, err
	}
	return addressOf(ctx).cookie(&http.Cookie{
		Name: cookieName, Path: "/", MaxAge: -1, HttpOnly: true, SameSite: http.SameSiteLaxMode,
	}), nil
}

// A sessionStore keeps sessions in the books, by the interface that scs has.
type sessionStore struct{ books Keeper }

// FindCtx returns a session's data.
func (s sessionStore) FindCtx(ctx context.Context, token string) ([]byte, bool, error) {
	return s.books.FindSession(ctx, token)
}

// CommitCtx keeps a session.
func (s sessionStore) CommitCtx(ctx context.Context, token string, data []byte, expires time.Time) error {
	return s.books.KeepSession(ctx, token, data, expires)
}

// DeleteCtx ends a session.
func (s sessionStore) DeleteCtx(ctx context.Context, token string) error {
	return s.books.DropSession(ctx, token)
}

// Find is FindCtx without a context: scs asks for it, and never calls it.
func (s sessionStore) Find(token string) ([]byte, bool, error) {
	return s.FindCtx(context.Background(), token)
}

// Commit is CommitCtx without a context.
func (s sessionStore) Commit(token string, data []byte, expires time.Time) error {
	return s.CommitCtx(context.Background(), token, data, expires)
}

// Delete is DeleteCtx without a context.
func (s sessionStore) Delete(token string) error { return s.DeleteCtx(context.Background(), token) }

func roles(names []string) []Role {
	list := make([]Role, len(names))
	for i, name := range names {
		list[i] = Role(name)
	}
	return list
}
