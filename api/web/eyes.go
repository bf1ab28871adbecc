package web

import (
	"fmt"
	"io"
	"net/http"
	"net/url"
	"strconv"
	"strings"

	"github.com/gin-gonic/gin"

	"blankwright/api/runs"
	"blankwright/store"
)

// An EyesPage lists all that needs eyes, and what was seen of it.
type EyesPage struct {
	Frame
	Notices []store.Notice
	Older   string
	See     bool
}

// Render writes the page.
func (p *EyesPage) Render(w io.Writer) error { return render(w, "eyes", p) }

// A LatePage lists the lines of a plan that are late or not wholly planned.
type LatePage struct {
	Frame
	Plan  int64
	Late  []runs.LateLine
	All   int
	Older string
}

// Render writes the page.
func (p *LatePage) Render(w io.Writer) error { return render(w, "late", p) }

// A Sight is one notice as lists show it: its first sentence, the rest to be
// opened, and where that which it is about is seen.
type Sight struct {
	store.Notice
	First, Rest, Address string
}

// Sight makes a notice easy to take in: a late line is told with all that binds
// it, which is more than a glance takes.
func (f *Frame) Sight(n store.Notice) Sight {
	s := Sight{Notice: n, First: n.Text}
	if first, rest, more := strings.Cut(n.Text, ". "); more {
		s.First, s.Rest = first+".", rest
	}
	subject := url.PathEscape(n.Subject)
	switch n.Kind {
	case runs.NoticeLate, runs.NoticePromise:
		s.Address = "/orders?q=" + url.QueryEscape(n.Subject)
	case runs.NoticeMandrels:
		s.Address = "/crib/types/" + subject
	case runs.NoticeTool:
		s.Address = "/crib/mandrels/" + subject
	case runs.NoticeExpires:
		s.Address = "/crib/rolls/" + subject
	case runs.NoticeRunsOut:
		s.Address = "/catalog/prepreg/" + subject
	case runs.NoticeFailed:
		s.Address = "/plans"
	}
	return s
}

const eyesAtOnce = 100

func (p *pages) eyes(c *gin.Context) {
	after, _ := strconv.ParseInt(c.Query("after"), 10, 64)
	list, err := p.Books.Notices(c.Request.Context(), store.NoticeFilter{After: max(0, after), Limit: eyesAtOnce})
	if err != nil {
		p.fail(c, err)
		return
	}
	page := &EyesPage{Frame: p.frame(c, "What needs eyes", "/day"), Notices: list, See: may(c, "see-notice")}
	if len(list) == eyesAtOnce {
		page.Older = fmt.Sprintf("/eyes?after=%d", list[len(list)-1].ID)
	}
	p.show(c, http.StatusOK, "eyes", page)
}

func (p *pages) seen(c *gin.Context) {
	id, err := idIn(c.Param("id"))
	if err == nil {
		_, err = p.Books.SeeNotice(c.Request.Context(), id)
	}
	if err != nil {
		p.fail(c, err)
		return
	}
	done(c, "/eyes", "Marked as seen.")
}

// late lists the late lines of a plan, the costliest first.
func (p *pages) late(c *gin.Context) {
	id, err := idIn(c.Param("id"))
	if err != nil {
		p.fail(c, err)
		return
	}
	view, err := p.Runs.Views().Plan(c.Request.Context(), id)
	if err != nil {
		p.fail(c, err)
		return
	}
	from, _ := strconv.Atoi(c.Query("from"))
	all := view.Report.Late
	from = min(max(0, from), len(all))
	page := &LatePage{Frame: p.frame(c, fmt.Sprintf("Late by plan %d", id), "/day"), Plan: id, All: len(all), Late: all[from:min(len(all), from+eyesAtOnce)]}
	if from+eyesAtOnce < len(all) {
		page.Older = fmt.Sprintf("/plans/show/%d/late?from=%d", id, from+eyesAtOnce)
	}
	p.show(c, http.StatusOK, "late", page)
}
