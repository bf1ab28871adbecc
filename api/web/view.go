package web

import (
	"net/http"
	"net/url"
	"strings"

	"github.com/gin-gonic/gin"

	"blankwright/api/web/unit"
)

// A View is how one reader wants to see the pages. It lives in a cookie of his
// browser: it is no business of the books.
type View struct {
	Units unit.System
	Theme string // "", "light" or "dark"; "" follows the system
}

const (
	viewCookie = "view"
	viewAge    = 365 * 24 * 60 * 60 // seconds
)

// viewOf reads a request's view; what makes no sense is as if it were not there.
func viewOf(r *http.Request) View {
	var v View
	cookie, err := r.Cookie(viewCookie)
	if err != nil {
		return v
	}
	for word := range strings.SplitSeq(cookie.Value, ".") {
		switch word {
		case "inch":
			v.Units.Inch = true
		case "f":
			v.Units.Fahrenheit = true
		case "light", "dark":
			v.Theme = word
		}
	}
	return v
}

// words is the view as its cookie keeps it.
func (v View) words() string {
	words := []string{"v"}
	if v.Units.Inch {
		words = append(words, "inch")
	}
	if v.Units.Fahrenheit {
		words = append(words, "f")
	}
	if v.Theme != "" {
		words = append(words, v.Theme)
	}
	return strings.Join(words, ".")
}

// setView keeps a reader's choice and leads back to where he was.
func setView(c *gin.Context) {
	v := View{Units: unit.System{Inch: c.PostForm("lengths") == "inch", Fahrenheit: c.PostForm("degrees") == "f"}}
	if theme := c.PostForm("theme"); theme == "light" || theme == "dark" {
		v.Theme = theme
	}
	http.SetCookie(c.Writer, &http.Cookie{
		Name: viewCookie, Value: v.words(), Path: "/", MaxAge: viewAge, HttpOnly: true, SameSite: http.SameSiteLaxMode,
	})
	c.Redirect(http.StatusSeeOther, local(c.PostForm("back")))
}

// local returns an address of ours as it is, and the first page for any other.
func local(address string) string {
	u, err := url.Parse(address)
	if err != nil || u.IsAbs() || u.Host != "" || !strings.HasPrefix(u.Path, "/") ||
		strings.HasPrefix(u.Path, "//") || strings.ContainsAny(address, "\\\r\n") {
		return "/"
	}
	return address
}
