package access

import (
	"context"
	"fmt"
	"log/slog"
	"net"
	"net/http"
	"strings"
	"time"

	"github.com/alexedwards/scs/v2"
	"github.com/gin-gonic/gin"

	"blankwright/api/respond"
	"blankwright/store"
)

// Keeper is what access asks of the books.
type Keeper interface {
	Account(ctx context.Context, name string) (*store.Account, error)
	Accounts(ctx context.Context) ([]store.Account, error)
	AddFirstAccount(ctx context.Context, a store.Account) (*store.Account, error)
	ChangeAccount(ctx context.Context, name string, rev int64, c store.AccountChange) (*store.Account, error)
	TokenByHash(ctx context.Context, hash string) (*store.Token, error)
	FindSession(ctx context.Context, token string) (data []byte, found bool, err error)
	KeepSession(ctx context.Context, token string, data []byte, expires time.Time) error
	DropSession(ctx context.Context, token string) error
}

// Options say how a gate works.
type Options struct {
	Now func() time.Time
	Log *slog.Logger
	// Open makes everybody the admin "demo".
	Open bool
}

// A Gate knows callers and lets them in, or not. Make it with New.
type Gate struct {
	books    Keeper
	now      func() time.Time
	log      *slog.Logger
	open     bool
	hasher   *hasher
	lockout  *lockout
	sessions *scs.SessionManager
	first    firstKey
	routes   []Route
}

// New makes a gate over the books' accounts, sessions and tokens.
func New(books Keeper, o Options) *Gate {
	return &Gate{
		books: books, now: o.Now, log: o.Log, open: o.Open,
		hasher: newHasher(hashing), lockout: newLockout(o.Now), sessions: newSessions(books),
	}
}

// openCaller is who asks of an open server.
var openCaller = Caller{Name: "demo", Roles: AllRoles()}

// Identify finds out who asks and keeps it in the request's context, for the
// books' trail as well. A token that is not good is refused; a session that is
// not good any more is nobody's.
func (g *Gate) Identify(c *gin.Context) {
	caller, err := g.identify(c.Request)
	if err != nil {
		p := respond.Of(c.Request.Context(), g.log, err)
		Deny(c.Writer, p)
		c.Abort()
		return
	}
	ctx := WithCaller(c.Request.Context(), caller)
	ctx = withAddress(ctx, c)
	if !caller.Nobody() {
		ctx = store.WithActor(ctx, caller.Name)
	}
	c.Request = c.Request.WithContext(store.WithRequest(ctx, respond.Request(ctx)))
	c.Next()
}

func (g *Gate) identify(r *http.Request) (Caller, error) {
	if g.open {
		return openCaller, ownName(r.Host)
	}
	if header := r.Header.Get("Authorization"); header != "" {
		return g.byToken(r.Context(), header)
	}
	return g.bySession(r)
}

// ownName refuses a request to an open server that names another host than
// this machine: a page from elsewhere whose name was made to lead here would
// be let in like everybody.
func ownName(host string) error {
	name, _, err := net.SplitHostPort(host)
	if err != nil {
		name = host
	}
	ip := net.ParseIP(strings.Trim(name, "[]"))
	if name == "localhost" || (ip != nil && ip.IsLoopback()) {
		return nil
	}
	return respond.New(http.StatusMisdirectedRequest, "this demonstration answers to the names of its own machine only, as 127.0.0.1")
}

// Refuse says why the caller may not carry out an operation; nil says that he
// may.
func (g *Gate) Refuse(ctx context.Context, operation string) *respond.Problem {
	caller := From(ctx)
	if caller.May(operation) {
		return nil
	}
	p := respond.New(http.StatusForbidden, fmt.Sprintf("your roles don't allow this: %s is for %s", operation, whose(operation)))
	if caller.Nobody() {
		p = respond.New(http.StatusUnauthorized, "sign in, or send a token")
	}
	p.Request = respond.Request(ctx)
	return p
}

// tooMany is the answer to who has guessed too often.
func tooMany(wait time.Duration) error {
	p := respond.New(http.StatusTooManyRequests, "")
	p.Wait = wait
	p.Detail = fmt.Sprintf("too many wrong guesses: try again in %d s", p.Seconds())
	return p
}
