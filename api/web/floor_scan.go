package web

import (
	"errors"
	"net/http"
	"net/url"
	"strconv"
	"strings"

	"github.com/gin-gonic/gin"

	"blankwright/scheduler/shop"
	"blankwright/store"
)

// scan leads to what a code stands for: a load, or one run of it. A station that
// scans is led to its own task of that, if one is left to do.
func (p *pages) scan(c *gin.Context) {
	load, section, err := p.coded(c)
	if err != nil {
		p.fail(c, err)
		return
	}
	f := p.frame(c, "", "")
	if t := taskAt(load.Tasks, section, c.Query("stage"), c.Query("position")); t != nil {
		var stage shop.Stage
		if err := stage.UnmarshalText([]byte(t.Stage)); err != nil {
			p.fail(c, err)
			return
		}
		c.Redirect(http.StatusSeeOther, queueAddress(stage, t.Position, shop.DateOf(t.From.In(f.zone())))+"&task="+strconv.FormatInt(t.ID, 10))
		return
	}
	address := "/floor/loads/" + url.PathEscape(load.Planned.ID)
	if section != "" {
		address += "?section=" + url.QueryEscape(section)
	}
	c.Redirect(http.StatusSeeOther, address)
}

// coded reads a code: a load's id, or that and a section.
func (p *pages) coded(c *gin.Context) (load store.FloorLoad, section string, err error) {
	code := strings.TrimSpace(c.Query("code"))
	load, err = p.Books.FloorLoad(c.Request.Context(), code)
	if errors.Is(err, store.ErrNotFound) {
		code, section, _ = strings.Cut(code, " ")
		load, err = p.Books.FloorLoad(c.Request.Context(), code)
	}
	return load, section, err
}

// taskAt is what is left of a load, or of one of its runs, at a stage: at this
// position, or else at another.
func taskAt(tasks []store.Task, section, stage, position string) (at *store.Task) {
	for i := range tasks {
		t := &tasks[i]
		if t.Stage != stage || t.State == store.TaskDone || section != "" && t.Section != section {
			continue
		}
		if here := strconv.Itoa(t.Position) == position; here || at == nil {
			if at = t; here {
				return at
			}
		}
	}
	return at
}
