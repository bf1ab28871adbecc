package web

import (
	"context"
	"net/http"
	"net/url"
	"strings"

	"github.com/gin-gonic/gin"

	"blankwright/store"
)

// AccountBooks are what the accounts' pages ask of the books.
type AccountBooks interface {
	Accounts(ctx context.Context) ([]store.Account, error)
	Account(ctx context.Context, name string) (*store.Account, error)
	AddAccount(ctx context.Context, a store.Account) (*store.Account, error)
	ChangeAccount(ctx context.Context, name string, rev int64, change store.AccountChange) (*store.Account, error)
}

func (p *pages) accountRoutes() []route {
	return []route{
		get("/accounts", "list-accounts", p.accounts),
		get("/accounts/:name", "read-account", p.account),
		post("/accounts/:name", "change-account", p.putAccount),
	}
}

func (p *pages) accounts(c *gin.Context) {
	list, err := p.Books.Accounts(c.Request.Context())
	if err != nil {
		p.fail(c, err)
		return
	}
	page := &ListPage{Frame: p.frame(c, "Accounts", "/catalog"), Head: []string{"name", "roles", "state"}, Add: "/accounts/" + newThing, Empty: "Nobody has an account."}
	for _, a := range list {
		state := "may sign in"
		if a.Disabled {
			state = "may not sign in"
		}
		page.Rows = append(page.Rows, ListRow{"/accounts/" + url.PathEscape(a.Name), []string{a.Name, strings.Join(a.Roles, ", "), state}})
	}
	p.show(c, http.StatusOK, "list", page)
}

// accountForm is the form of an account, or of a new one.
func (p *pages) accountForm(c *gin.Context, a *store.Account) *FormPage {
	name := c.Param("name")
	page := &FormPage{
		Frame: p.frame(c, "Account "+name, "/catalog"), Back: Option{"/accounts", "Accounts"}, Action: "/accounts/" + url.PathEscape(name), Button: "Save", Rev: a.Rev,
		Note: "Admins keep accounts and settings; every other role works its own pages. Whoever has an account may look at all of them.",
	}
	password := Field{Name: "password", Label: "A new password", Kind: "password", Hint: "Empty leaves it. At least 12 characters; the account's sessions end."}
	if name == newThing {
		page.Title = "A new account"
		page.Fields = []Field{{Name: "name", Label: "Name", Kind: "text", Required: true, Focus: true}}
		password.Label, password.Hint, password.Required = "Password", "At least 12 characters; they can change it.", true
	}
	page.Fields = append(append(page.Fields, roleFields(a.Roles)...), password)
	if name != newThing {
		page.Fields = append(page.Fields, Field{Name: "disabled", Label: "May not sign in", Kind: "check", Value: tick(a.Disabled)})
	}
	return page
}

func has(list []string, one string) bool {
	for _, each := range list {
		if each == one {
			return true
		}
	}
	return false
}

func (p *pages) account(c *gin.Context) {
	a := &store.Account{}
	if c.Param("name") != newThing {
		var err error
		if a, err = p.Books.Account(c.Request.Context(), c.Param("name")); err != nil {
			p.fail(c, err)
			return
		}
	}
	p.showForm(c, p.accountForm(c, a))
}

func (p *pages) putAccount(c *gin.Context) {
	name := c.Param("name")
	roles := rolesIn(c)
	var err error
	if name == newThing {
		name = strings.TrimSpace(c.PostForm("name"))
		err = p.addAccount(c, name, roles)
	} else {
		err = p.changeAccount(c, name, roles)
	}
	if err != nil {
		p.refuseForm(c, atRoles(err), p.accountForm(c, &store.Account{Rev: max(0, revOf(c))}))
		return
	}
	done(c, "/accounts", name+" is saved.")
}

func (p *pages) addAccount(c *gin.Context, name string, roles []string) error {
	ctx := c.Request.Context()
	hash, err := p.Gate.Hash(ctx, "password", name, c.PostForm("password"))
	if err != nil {
		return err
	}
	_, err = p.Books.AddAccount(ctx, store.Account{Name: name, Roles: roles, Hash: hash})
	return err
}

func (p *pages) changeAccount(c *gin.Context, name string, roles []string) error {
	ctx := c.Request.Context()
	disabled := c.PostForm("disabled") != ""
	change := store.AccountChange{Roles: &roles, Disabled: &disabled}
	if text := c.PostForm("password"); text != "" {
		hash, err := p.Gate.Hash(ctx, "password", name, text)
		if err != nil {
			return err
		}
		change.Hash = &hash
	}
	_, err := p.Books.ChangeAccount(ctx, name, revOf(c), change)
	return err
}
