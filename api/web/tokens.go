package web

import (
	"context"
	"errors"
	"io"
	"net/http"
	"net/url"
	"strings"
	"time"

	"github.com/gin-gonic/gin"

	"blankwright/api/access"
	"blankwright/scheduler/strict"
	"blankwright/store"
)

// A TokensPage lists what lets programs in. A token that was just made stands on
// it once, and is told nowhere else.
type TokensPage struct {
	Frame
	Tokens []TokenRow
	Made   *MadeToken
}

// A TokenRow is one token without the token itself.
type TokenRow struct {
	store.Token
	Remove string // the address that ends it
	Ended  bool
}

// A MadeToken is a token that is told this once.
type MadeToken struct{ Name, Token string }

// Render writes the page.
func (p *TokensPage) Render(w io.Writer) error { return render(w, "tokens", p) }

// TokenBooks are what the tokens' pages ask of the books.
type TokenBooks interface {
	Tokens(ctx context.Context) ([]store.Token, error)
	AddToken(ctx context.Context, t store.Token) (*store.Token, error)
	RemoveToken(ctx context.Context, id string) error
}

func (p *pages) tokenRoutes() []route {
	return []route{
		get("/tokens", "list-tokens", func(c *gin.Context) { p.tokensPage(c, nil) }),
		get("/tokens/new", "add-token", func(c *gin.Context) { p.showForm(c, p.tokenForm(c)) }),
		post("/tokens/new", "add-token", p.addToken),
		post("/tokens/:id/remove", "remove-token", p.removeToken),
	}
}

func (p *pages) tokensPage(c *gin.Context, made *MadeToken) {
	list, err := p.Books.Tokens(c.Request.Context())
	if err != nil {
		p.fail(c, err)
		return
	}
	page := &TokensPage{Frame: p.frame(c, "Tokens", "/catalog"), Made: made}
	if made != nil {
		page.Path = "/tokens" // whoever comes back here is not shown it again
	}
	for _, t := range list {
		page.Tokens = append(page.Tokens, TokenRow{t, "/tokens/" + url.PathEscape(t.ID) + "/remove", !t.Ends.After(p.Now())})
	}
	p.show(c, http.StatusOK, "tokens", page)
}

// usualTokenDays is how long a token lasts whose end nobody changes.
const usualTokenDays = 90

// tokenForm is the form of a new token.
func (p *pages) tokenForm(c *gin.Context) *FormPage {
	page := &FormPage{
		Frame: p.frame(c, "Make a token", "/catalog"), Back: Option{"/tokens", "Tokens"}, Action: "/tokens/new", Button: "Make it",
		Note: "A program signs in with it instead of a name and a password. Give it the fewest roles that will do.",
	}
	ends := p.Now().In(page.zone()).AddDate(0, 0, usualTokenDays)
	page.Fields = append(page.Fields, Field{Name: "name", Label: "What it is for", Kind: "text", Required: true, Focus: true, Hint: "The trail of changes names it so."})
	page.Fields = append(page.Fields, roleFields(nil)...)
	page.Fields = append(page.Fields, Field{Name: "ends", Label: "Ends", Kind: "datetime-local", Required: true, Value: ends.Format(localForm), Hint: "No token is for ever."})
	return page
}

// addToken makes a token, and answers with the one page that tells it: a page
// that it led to could be opened again.
func (p *pages) addToken(c *gin.Context) {
	ctx, f := c.Request.Context(), p.frame(c, "", "")
	name := strings.TrimSpace(c.PostForm("name"))
	token, hash := access.NewToken()
	var added *store.Token
	ends, err := time.ParseInLocation(localForm, c.PostForm("ends"), f.zone())
	if err != nil {
		err = strict.Problems{{Path: "ends", Message: "is no local date and time, as 2026-11-28T07:00"}}
	} else {
		added, err = p.Books.AddToken(ctx, store.Token{Name: name, Roles: rolesIn(c), Ends: ends, Hash: hash})
	}
	if err != nil {
		p.refuseForm(c, atRoles(err), p.tokenForm(c))
		return
	}
	if added.Hash != hash { // the form was sent again
		done(c, "/tokens", "The token “"+name+"” was made when the form was sent first, and told then. Whoever did not copy it ends it, and makes another.")
		return
	}
	p.tokensPage(c, &MadeToken{Name: name, Token: token})
}

func (p *pages) removeToken(c *gin.Context) {
	if err := p.Books.RemoveToken(c.Request.Context(), c.Param("id")); err != nil {
		p.fail(c, err)
		return
	}
	done(c, "/tokens", "The token is ended. Nobody gets in with it any more.")
}

// roleFields are the boxes for roles, ticked for those that are had.
func roleFields(had []string) []Field {
	var out []Field
	for _, role := range access.AllRoles() {
		out = append(out, Field{Name: roleField(role), Label: string(role), Kind: "check", Value: tick(has(had, string(role)))})
	}
	return out
}

func roleField(role access.Role) string { return "role-" + string(role) }

// rolesIn are the roles that were ticked.
func rolesIn(c *gin.Context) []string {
	var roles []string
	for _, role := range access.AllRoles() {
		if c.PostForm(roleField(role)) != "" {
			roles = append(roles, string(role))
		}
	}
	return roles
}

// atRoles has what is wrong with roles as a whole stand at the first of their
// boxes.
func atRoles(err error) error {
	var problems strict.Problems
	if !errors.As(err, &problems) {
		return err
	}
	for i := range problems {
		if problems[i].Path == "roles" {
			problems[i].Path, problems[i].Message = roleField(access.AllRoles()[0]), "at least one role must be ticked"
		}
	}
	return problems
}
