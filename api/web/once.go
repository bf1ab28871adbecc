package web

import (
	"crypto/rand"
	"html/template"

	"github.com/gin-gonic/gin"

	"blankwright/store"
)

// onceField is the hidden field of a form that enters something: a key that is
// made whenever the form is shown. However often the form is then sent, by a
// second touch or a reload, the books do what it asks for once.
const onceField = "once"

// onceInput is that field with a new key, of letters and digits.
func onceInput() template.HTML {
	return template.HTML(`<input type="hidden" name="` + onceField + `" value="` + rand.Text() + `">`)
}

// once has the books know which form it was that was sent.
func once(c *gin.Context) {
	if c.ContentType() != "application/x-www-form-urlencoded" {
		return // a file is read by its own handler
	}
	if key := c.PostForm(onceField); key != "" {
		c.Request = c.Request.WithContext(store.WithKey(c.Request.Context(), key))
	}
}

// sentBefore is what somebody is told who changes a form that was taken, and
// sends it again.
const sentBefore = "This form was sent before with something else in it, and what it asked for then was done. Look what is there already; then, if this is to be done as well, send it once more."
