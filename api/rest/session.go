package rest

import (
	"context"
	"net/http"

	"blankwright/api/access"
)

// A callerBody is who asks, as the interface tells it.
type callerBody struct {
	Name  string   `json:"name" doc:"The account's name, or the token's"`
	Roles []string `json:"roles" doc:"What the caller is for"`
}

type callerAnswer struct {
	SetCookie string `header:"Set-Cookie"`
	Body      callerBody
}

type signInInput struct {
	Session string `cookie:"session" doc:"The session that the browser had; it ends"`
	Body    struct {
		Name     string `json:"name" minLength:"1" maxLength:"60" example:"Maren"`
		Password string `json:"password" minLength:"1" maxLength:"200"`
	}
}

type signOutInput struct {
	Session string `cookie:"session" doc:"The session to end"`
}

type signOutAnswer struct {
	SetCookie string `header:"Set-Cookie"`
}

type firstInput struct {
	Body struct {
		Key      string `json:"key" minLength:"1" maxLength:"100" doc:"From the link that the server printed when it started"`
		Name     string `json:"name" minLength:"1" maxLength:"60"`
		Password string `json:"password" minLength:"12" maxLength:"200"`
	}
}

type passwordInput struct {
	Body struct {
		Old string `json:"old" minLength:"1" maxLength:"200"`
		New string `json:"new" minLength:"12" maxLength:"200"`
	}
}

func sessions(r *routes) {
	add(r, operation{
		name: "begin-session", method: "POST", path: "/session", tag: "access",
		does: "Sign in by name and password", more: "The answer sets the cookie that carries the session.",
	}, r.signIn)
	add(r, operation{
		name: "end-session", method: "DELETE", path: "/session", tag: "access", does: "Sign out",
	}, r.signOut)
	add(r, operation{
		name: "read-caller", method: "GET", path: "/session", tag: "access", does: "Who asks, and as what",
	}, func(ctx context.Context, _ *nothing) (*callerAnswer, error) {
		return &callerAnswer{Body: callerOf(access.From(ctx))}, nil
	})
	add(r, operation{
		name: "make-first", method: "POST", path: "/first-admin", tag: "access", status: http.StatusCreated,
		does: "Make the first account, by the link that the server printed", more: "Works once, while there is no account. The answer signs in.",
	}, r.makeFirst)
	add(r, operation{
		name: "set-password", method: "PUT", path: "/session/password", tag: "access",
		does: "Set a new password for the own account", more: "Every session of the account ends but this one, which is begun anew.",
	}, r.setPassword)
}

func (r *routes) signIn(ctx context.Context, in *signInInput) (*callerAnswer, error) {
	cookie, caller, err := r.Gate.SignIn(ctx, in.Body.Name, in.Body.Password, in.Session)
	return &callerAnswer{SetCookie: cookieText(cookie), Body: callerOf(caller)}, err
}

func (r *routes) signOut(ctx context.Context, in *signOutInput) (*signOutAnswer, error) {
	cookie, err := r.Gate.SignOut(ctx, in.Session)
	return &signOutAnswer{SetCookie: cookieText(cookie)}, err
}

func (r *routes) makeFirst(ctx context.Context, in *firstInput) (*callerAnswer, error) {
	if err := r.Gate.MakeFirst(ctx, in.Body.Key, in.Body.Name, in.Body.Password); err != nil {
		return nil, err
	}
	cookie, caller, err := r.Gate.SignIn(ctx, in.Body.Name, in.Body.Password, "")
	return &callerAnswer{SetCookie: cookieText(cookie), Body: callerOf(caller)}, err
}

func (r *routes) setPassword(ctx context.Context, in *passwordInput) (*callerAnswer, error) {
	cookie, err := r.Gate.SetPassword(ctx, in.Body.Old, in.Body.New)
	return &callerAnswer{SetCookie: cookieText(cookie), Body: callerOf(access.From(ctx))}, err
}

func cookieText(c *http.Cookie) string {
	if c == nil { // beside an error
		return ""
	}
	return c.String()
}

func callerOf(c access.Caller) callerBody {
	body := callerBody{Name: c.Name, Roles: []string{}}
	for _, role := range c.Roles {
		body.Roles = append(body.Roles, string(role))
	}
	return body
}
