package web

import (
	"io"
	"net/http"

	"github.com/gin-gonic/gin"

	"blankwright/scheduler/strict"
)

// A SignPage asks who somebody is: to sign in, to make the first account, or
// for a new password.
type SignPage struct {
	Frame
	Action, Button string
	Back           string
	Key            string // of the first account's link
	Note           string
	Fields         []Field
}

// Render writes the page.
func (p *SignPage) Render(w io.Writer) error { return render(w, "sign", p) }

func (p *pages) signRoutes() []route {
	return []route{
		get("/sign-in", "open-pages", func(c *gin.Context) { p.signInPage(c, http.StatusOK, "", local(c.Query("back"))) }),
		post("/sign-in", "begin-session", p.signIn),
		post("/sign-out", "end-session", p.signOut),
		get("/first", "make-first", func(c *gin.Context) { p.firstPage(c, http.StatusOK, filled{}, "") }),
		post("/first", "make-first", p.makeFirst),
		get("/password", "set-password", func(c *gin.Context) { p.passwordPage(c, http.StatusOK, filled{}, "") }),
		post("/password", "set-password", p.setPassword),
	}
}

// signInPage asks for name and password; whole is why they were not taken.
func (p *pages) signInPage(c *gin.Context, status int, whole, back string) {
	page := &SignPage{Frame: p.frame(c, "Sign in", ""), Action: "/sign-in", Button: "Sign in", Back: local(back), Fields: []Field{
		{Name: "name", Label: "Name", Kind: "text", Value: c.PostForm("name"), Required: true, Focus: true},
		{Name: "password", Label: "Password", Kind: "password", Required: true},
	}}
	page.Wrong = whole
	if status == http.StatusUnauthorized {
		c.Header("WWW-Authenticate", `Bearer realm="blankwright"`)
	}
	p.show(c, status, "sign", page)
}

func (p *pages) signIn(c *gin.Context) {
	ctx := c.Request.Context()
	err := needed(c, "name", "password")
	var cookie *http.Cookie
	if err == nil {
		cookie, _, err = p.Gate.SignIn(ctx, c.PostForm("name"), c.PostForm("password"), sessionOf(c))
	}
	if err != nil {
		var f filled
		whole, status, ours := f.refused(ctx, p.Log, err, nil)
		if ours != nil {
			p.fail(c, ours)
			return
		}
		p.signInPage(c, status, whole, c.PostForm("back"))
		return
	}
	http.SetCookie(c.Writer, cookie)
	c.Redirect(http.StatusSeeOther, local(c.PostForm("back")))
}

func (p *pages) signOut(c *gin.Context) {
	cookie, err := p.Gate.SignOut(c.Request.Context(), sessionOf(c))
	if err != nil {
		p.fail(c, err)
		return
	}
	http.SetCookie(c.Writer, cookie)
	c.Redirect(http.StatusSeeOther, "/sign-in")
}

// sessionOf is the session's token that the browser has, or nothing.
func sessionOf(c *gin.Context) string {
	token, err := c.Cookie("session")
	if err != nil {
		return ""
	}
	return token
}

// firstPage makes the first account, for who has the link.
func (p *pages) firstPage(c *gin.Context, status int, f filled, whole string) {
	fields := []Field{
		{Name: "name", Label: "Your name", Kind: "text", Required: true, Focus: true},
		{Name: "password", Label: "Password", Kind: "password", Required: true, Hint: "At least 12 characters."},
	}
	key := c.Query("key")
	if sent := c.PostForm("key"); sent != "" {
		key = sent
	}
	page := &SignPage{
		Frame: p.frame(c, "The first account", ""), Action: "/first", Button: "Make it and sign in", Key: key, Fields: f.fill(fields),
		Note: "Nobody has an account yet. Whoever makes the first one may do everything, and makes the others.",
	}
	page.Wrong = whole
	p.show(c, status, "sign", page)
}

func (p *pages) makeFirst(c *gin.Context) {
	ctx := c.Request.Context()
	name, password := c.PostForm("name"), c.PostForm("password")
	err := needed(c, "key", "name", "password")
	if err == nil {
		err = p.Gate.MakeFirst(ctx, c.PostForm("key"), name, password)
	}
	if err != nil {
		p.refuseSign(c, err, p.firstPage)
		return
	}
	cookie, _, err := p.Gate.SignIn(ctx, name, password, "")
	if err != nil {
		p.fail(c, err)
		return
	}
	http.SetCookie(c.Writer, cookie)
	c.Redirect(http.StatusSeeOther, "/")
}

// refuseSign shows a form again with what was wrong with it.
func (p *pages) refuseSign(c *gin.Context, err error, page func(*gin.Context, int, filled, string)) {
	f := filled{values: c.Request.PostForm}
	fields := []Field{{Name: "name"}, {Name: "password"}, {Name: "old"}, {Name: "new"}}
	whole, status, ours := f.refused(c.Request.Context(), p.Log, err, fields)
	if ours != nil {
		p.fail(c, ours)
		return
	}
	f.values.Del("password")
	f.values.Del("old")
	f.values.Del("new")
	page(c, status, f, whole)
}

// passwordPage changes the own password.
func (p *pages) passwordPage(c *gin.Context, status int, f filled, whole string) {
	fields := []Field{
		{Name: "old", Label: "The password that you have", Kind: "password", Required: true, Focus: true},
		{Name: "new", Label: "The new one", Kind: "password", Required: true, Hint: "At least 12 characters. Your other sessions end."},
	}
	page := &SignPage{Frame: p.frame(c, "Change your password", ""), Action: "/password", Button: "Change it", Fields: f.fill(fields)}
	page.Wrong = whole
	p.show(c, status, "sign", page)
}

func (p *pages) setPassword(c *gin.Context) {
	ctx := c.Request.Context()
	if err := needed(c, "old", "new"); err != nil {
		p.refuseSign(c, err, p.passwordPage)
		return
	}
	cookie, err := p.Gate.SetPassword(ctx, c.PostForm("old"), c.PostForm("new"))
	if err != nil {
		p.refuseSign(c, err, p.passwordPage)
		return
	}
	http.SetCookie(c.Writer, cookie)
	done(c, "/", "Your password is changed.")
}

// needed says which fields of a form were left empty.
func needed(c *gin.Context, names ...string) error {
	var problems strict.Problems
	for _, name := range names {
		if c.PostForm(name) == "" {
			problems = append(problems, strict.Problem{Path: name, Message: "is missing"})
		}
	}
	return orNil(problems)
}
