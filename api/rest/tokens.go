package rest

import (
	"context"
	"net/http"
	"time"

	"blankwright/api/access"
	"blankwright/store"
)

// A TokenBody is a token as the interface tells it, without the token itself.
// It is exported for huma, which looks into no other embedded types.
type TokenBody struct {
	ID     string    `json:"id"`
	Name   string    `json:"name" doc:"What the token is for; the trail names it"`
	Roles  []string  `json:"roles"`
	Ends   time.Time `json:"ends"`
	MadeBy string    `json:"made_by"`
	MadeAt time.Time `json:"made_at"`
}

type tokensAnswer struct {
	Body struct {
		Items []TokenBody `json:"items"`
	}
}

type newTokenBody struct {
	TokenBody
	Token string `json:"token" doc:"Told this once; send it as Authorization: Bearer TOKEN"`
}

type newTokenAnswer struct{ Body newTokenBody }

type addTokenInput struct {
	Body struct {
		Name  string    `json:"name" minLength:"1" maxLength:"60" example:"price list"`
		Roles []string  `json:"roles" minItems:"1" enum:"planner,sales,crib,station,viewer,admin"`
		Ends  time.Time `json:"ends" doc:"When it ends; no token is for ever"`
	}
}

type tokenInput struct {
	ID string `path:"id" maxLength:"60"`
}

func tokens(r *routes) {
	add(r, operation{
		name: "list-tokens", method: "GET", path: "/tokens", tag: "access", does: "All tokens, by name",
	}, r.listTokens)
	add(r, operation{
		name: "add-token", method: "POST", path: "/tokens", tag: "access", status: http.StatusCreated,
		does: "Make a token for a program", more: "The answer holds the token; it is told this once, and only its hash is kept.",
	}, r.addToken)
	add(r, operation{
		name: "remove-token", method: "DELETE", path: "/tokens/{id}", tag: "access", does: "End a token now",
	}, func(ctx context.Context, in *tokenInput) (*nothing, error) {
		return &nothing{}, r.Books.RemoveToken(ctx, in.ID)
	})
}

func (r *routes) listTokens(ctx context.Context, _ *nothing) (*tokensAnswer, error) {
	list, err := r.Books.Tokens(ctx)
	answer := &tokensAnswer{}
	answer.Body.Items = make([]TokenBody, len(list))
	for i := range list {
		answer.Body.Items[i] = tokenOf(&list[i])
	}
	return answer, err
}

func (r *routes) addToken(ctx context.Context, in *addTokenInput) (*newTokenAnswer, error) {
	token, hash := access.NewToken()
	made, err := r.Books.AddToken(ctx, store.Token{Name: in.Body.Name, Roles: in.Body.Roles, Ends: in.Body.Ends, Hash: hash})
	if err != nil {
		return nil, err
	}
	return &newTokenAnswer{Body: newTokenBody{tokenOf(made), token}}, nil
}

func tokenOf(t *store.Token) TokenBody {
	return TokenBody{ID: t.ID, Name: t.Name, Roles: t.Roles, Ends: t.Ends, MadeBy: t.MadeBy, MadeAt: t.MadeAt}
}
