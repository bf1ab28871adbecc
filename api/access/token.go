package access

import (
	"context"
	"crypto/rand"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"net/http"
	"strings"

	"blankwright/api/respond"
	"blankwright/store"
)

// tokenMark begins every token, so that one that leaked can be found.
const tokenMark = "bwt_"

// NewToken returns a new token and its hash. The token is shown once and kept
// nowhere; it is too long to be guessed, so a plain hash will do.
func NewToken() (token, hash string) {
	token = tokenMark + rand.Text() + rand.Text()
	return token, hashToken(token)
}

func hashToken(token string) string {
	sum := sha256.Sum256([]byte(token))
	return hex.EncodeToString(sum[:])
}

// byToken returns whose token an Authorization header carries.
func (g *Gate) byToken(ctx context.Context, header string) (Caller, error) {
	bad := respond.New(http.StatusUnauthorized, "the Authorization header must be Bearer and a token that is good")
	token, ok := strings.CutPrefix(header, "Bearer ")
	if !ok || !strings.HasPrefix(token, tokenMark) {
		return Caller{}, bad
	}
	t, err := g.books.TokenByHash(ctx, hashToken(token))
	switch {
	case errors.Is(err, store.ErrNotFound):
		return Caller{}, bad
	case err != nil:
		return Caller{}, err
	case !t.Ends.After(g.now()):
		return Caller{}, respond.New(http.StatusUnauthorized, "this token has ended")
	}
	return Caller{Name: "token " + t.Name, Roles: roles(t.Roles), Token: true}, nil
}
