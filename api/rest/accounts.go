package rest

import (
	"context"
	"net/http"
	"time"

	"blankwright/store"
)

// An accountBody is an account as the interface tells it; its password is
// never told.
type accountBody struct {
	Name       string    `json:"name"`
	Roles      []string  `json:"roles"`
	Disabled   bool      `json:"disabled" doc:"May not sign in"`
	PasswordAt time.Time `json:"password_at" doc:"When the password was set"`
	MadeAt     time.Time `json:"made_at"`
	Rev        int64     `json:"rev"`
}

type accountAnswer struct {
	ETag string `header:"ETag"`
	Body accountBody
}

type accountsAnswer struct {
	Body struct {
		Items []accountBody `json:"items"`
	}
}

type accountInput struct {
	Name string `path:"name" maxLength:"60" doc:"The account's name"`
}

type addAccountInput struct {
	Body struct {
		Name     string   `json:"name" minLength:"1" maxLength:"60" doc:"Letters of any script, digits, spaces and . _ - ' @"`
		Roles    []string `json:"roles" minItems:"1" enum:"planner,sales,crib,station,viewer,admin"`
		Password string   `json:"password" minLength:"12" maxLength:"200"`
	}
}

type changeAccountInput struct {
	Name string `path:"name" maxLength:"60" doc:"The account's name"`
	Match
	Body struct {
		Roles    *[]string `json:"roles,omitempty" minItems:"1" enum:"planner,sales,crib,station,viewer,admin"`
		Disabled *bool     `json:"disabled,omitempty"`
		Password *string   `json:"password,omitempty" minLength:"12" maxLength:"200" doc:"A new password; the account's sessions end"`
	}
}

type removeAccountInput struct {
	Name string `path:"name" maxLength:"60" doc:"The account's name"`
	Match
}

func accounts(r *routes) {
	add(r, operation{
		name: "list-accounts", method: "GET", path: "/accounts", tag: "access", does: "All accounts, by name",
	}, r.listAccounts)
	add(r, operation{
		name: "read-account", method: "GET", path: "/accounts/{name}", tag: "access", does: "One account",
	}, r.readAccount)
	add(r, operation{
		name: "add-account", method: "POST", path: "/accounts", tag: "access", does: "Add an account", status: http.StatusCreated,
	}, r.addAccount)
	add(r, operation{
		name: "change-account", method: "PATCH", path: "/accounts/{name}", tag: "access",
		does: "Change an account's roles or password, or whether it may sign in", more: "What is not named stays as it is.",
	}, r.changeAccount)
	add(r, operation{
		name: "remove-account", method: "DELETE", path: "/accounts/{name}", tag: "access",
		does: "Remove an account", more: "What it did stays on the trail.",
	}, r.removeAccount)
}

func (r *routes) listAccounts(ctx context.Context, _ *nothing) (*accountsAnswer, error) {
	list, err := r.Books.Accounts(ctx)
	answer := &accountsAnswer{}
	answer.Body.Items = make([]accountBody, len(list))
	for i := range list {
		answer.Body.Items[i] = accountOf(&list[i])
	}
	return answer, err
}

func (r *routes) readAccount(ctx context.Context, in *accountInput) (*accountAnswer, error) {
	return answerAccount(r.Books.Account(ctx, in.Name))
}

func (r *routes) addAccount(ctx context.Context, in *addAccountInput) (*accountAnswer, error) {
	hash, err := r.Gate.Hash(ctx, "password", in.Body.Name, in.Body.Password)
	if err != nil {
		return nil, err
	}
	return answerAccount(r.Books.AddAccount(ctx, store.Account{Name: in.Body.Name, Roles: in.Body.Roles, Hash: hash}))
}

func (r *routes) changeAccount(ctx context.Context, in *changeAccountInput) (*accountAnswer, error) {
	rev, err := in.rev()
	if err != nil {
		return nil, err
	}
	change := store.AccountChange{Roles: in.Body.Roles, Disabled: in.Body.Disabled}
	if in.Body.Password != nil {
		hash, err := r.Gate.Hash(ctx, "password", in.Name, *in.Body.Password)
		if err != nil {
			return nil, err
		}
		change.Hash = &hash
	}
	return answerAccount(r.Books.ChangeAccount(ctx, in.Name, rev, change))
}

func (r *routes) removeAccount(ctx context.Context, in *removeAccountInput) (*nothing, error) {
	rev, err := in.rev()
	if err != nil {
		return nil, err
	}
	return &nothing{}, r.Books.RemoveAccount(ctx, in.Name, rev)
}

func answerAccount(a *store.Account, err error) (*accountAnswer, error) {
	if err != nil {
		return nil, err
	}
	return &accountAnswer{ETag: etag(a.Rev), Body: accountOf(a)}, nil
}

func accountOf(a *store.Account) accountBody {
	return accountBody{
		Name: a.Name, Roles: a.Roles, Disabled: a.Disabled, PasswordAt: a.PasswordAt, MadeAt: a.MadeAt, Rev: a.Rev,
	}
}
