package web_test

import (
	"bytes"
	"mime/multipart"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"testing"
	"time"

	"golang.org/x/net/html"

	"blankwright/api/access"
	"blankwright/api/apitest"
	"blankwright/store"
)

// A visitor goes through the pages as somebody without script does: he reads
// them, fills in forms and is led on.
type visitor struct {
	t       *testing.T
	house   *apitest.House
	client  *apitest.Client
	cookies []*http.Cookie
	header  http.Header // of the last answer
	status  int
	at      string // the address of the page
	page    *html.Node
	text    string
}

func visit(t *testing.T, h *apitest.House, roles ...access.Role) *visitor {
	t.Helper()
	return &visitor{t: t, house: h, client: h.As(roles...)}
}

// open goes to an address and on to where it leads.
func (v *visitor) open(address string) *visitor {
	v.t.Helper()
	return v.take(address, v.client.Do(http.MethodGet, "/."+address, nil))
}

// send posts values, as a form does.
func (v *visitor) send(action string, values url.Values) *visitor {
	v.t.Helper()
	form := v.client.With("Content-Type", "application/x-www-form-urlencoded")
	return v.take(action, form.Do(http.MethodPost, "/."+action, values.Encode()))
}

// importFile sends a file, as the form for one does.
func (v *visitor) importFile(name string, content []byte) *visitor {
	v.t.Helper()
	var body bytes.Buffer
	w := multipart.NewWriter(&body)
	part, err := w.CreateFormFile("file", name)
	if err != nil {
		v.t.Fatal(err)
	}
	_, _ = part.Write(content)
	_ = w.Close()
	return v.take("/import", v.client.With("Content-Type", w.FormDataContentType()).Do(http.MethodPost, "/./import", body.Bytes()))
}

// take reads an answer; one that leads on is followed.
func (v *visitor) take(address string, a *apitest.Answer) *visitor {
	v.t.Helper()
	v.header, v.status, v.at = a.Header, a.Status, address
	v.keep(a.Header)
	if a.Status == http.StatusSeeOther {
		return v.open(a.Header.Get("Location"))
	}
	if strings.HasPrefix(a.Header.Get("Content-Type"), "text/html") {
		var err error
		if v.page, err = html.Parse(bytes.NewReader(a.Text)); err != nil {
			v.t.Fatal(err)
		}
		v.text = look(v.t, a.Text)
	} else {
		v.page, v.text = nil, string(a.Text)
	}
	return v
}

// keep takes the cookies that came with an answer.
func (v *visitor) keep(header http.Header) {
	answer := http.Response{Header: header}
	for _, c := range answer.Cookies() {
		v.cookies = slices.DeleteFunc(v.cookies, func(have *http.Cookie) bool { return have.Name == c.Name })
		if c.MaxAge >= 0 {
			v.cookies = append(v.cookies, c)
		}
	}
	sent := make([]string, len(v.cookies))
	for i, c := range v.cookies {
		sent[i] = c.Name + "=" + c.Value
	}
	v.client = v.client.With("Cookie", strings.Join(sent, "; "))
}

// settle waits until no plan is being made any more, and looks again until the
// page knows it, too.
func (v *visitor) settle(still func() bool) *visitor {
	v.t.Helper()
	wake, stop := v.house.Books.Watch()
	defer stop()
	for running := true; running; {
		plans, err := v.house.Books.Plans(v.t.Context(), store.PlanFilter{State: store.PlanRunning})
		if err != nil {
			v.t.Fatal(err)
		}
		if running = len(plans) > 0; !running {
			break
		}
		select {
		case <-wake:
		case <-time.After(time.Minute):
			v.t.Fatal("the plan does not come")
		}
	}
	for still() { // the plan is there a moment before its run is over
		v.open(v.at)
	}
	return v.must(http.StatusOK)
}

// must ends the test unless the page came with a status.
func (v *visitor) must(status int) *visitor {
	v.t.Helper()
	if v.status != status {
		v.t.Fatalf("%s: status %d, want %d:\n%s", v.at, v.status, status, v.words())
	}
	return v
}

// says ends the test unless the page says all of the words.
func (v *visitor) says(words ...string) *visitor {
	v.t.Helper()
	text := v.words()
	for _, w := range words {
		if !strings.Contains(text, w) {
			v.t.Fatalf("%s does not say %q:\n%s", v.at, w, text)
		}
	}
	return v
}

// words is what there is to read in the page's middle.
func (v *visitor) words() string {
	if v.page == nil {
		return v.text
	}
	main := find(v.page, func(n *html.Node) bool { return n.Data == "main" })
	if main == nil {
		return v.text
	}
	return strings.Join(strings.Fields(textOf(main)), " ")
}

// submit fills in the first form to an action that has all the named fields,
// and sends it as a browser does: with what it holds already.
func (v *visitor) submit(action string, fill map[string]string) *visitor {
	v.t.Helper()
	form := find(v.page, func(n *html.Node) bool {
		return n.Data == "form" && attribute(n, "action") == action && has(n, fill)
	})
	if form == nil {
		v.t.Fatalf("%s has no form to %s with %v:\n%s", v.at, action, fill, v.words())
	}
	values := held(form)
	for name, value := range fill {
		values.Set(name, value)
	}
	if attribute(form, "method") != "post" {
		return v.open(action + "?" + values.Encode())
	}
	return v.send(action, values)
}

func has(form *html.Node, fill map[string]string) bool {
	for name := range fill {
		if find(form, func(n *html.Node) bool { return attribute(n, "name") == name }) == nil {
			return false
		}
	}
	return true
}

// held is what a form would send untouched.
func held(form *html.Node) url.Values {
	values := url.Values{}
	each(form, func(n *html.Node) {
		name := attribute(n, "name")
		switch {
		case name == "" || n.Data == "button":
		case n.Data == "select":
			values.Add(name, chosen(n))
		case n.Data == "textarea":
			values.Add(name, textOf(n))
		case attribute(n, "type") == "checkbox" || attribute(n, "type") == "radio":
			if marked(n, "checked") {
				values.Add(name, attribute(n, "value"))
			}
		default:
			values.Add(name, attribute(n, "value"))
		}
	})
	return values
}

func chosen(list *html.Node) string {
	first, picked := "", ""
	seen := false
	each(list, func(n *html.Node) {
		if n.Data != "option" {
			return
		}
		value := attribute(n, "value")
		if !hasAttribute(n, "value") {
			value = textOf(n)
		}
		if !seen {
			first, seen = value, true
		}
		if marked(n, "selected") {
			picked = value
		}
	})
	if picked != "" {
		return picked
	}
	return first
}

func marked(n *html.Node, key string) bool { return hasAttribute(n, key) }

func hasAttribute(n *html.Node, key string) bool {
	for _, a := range n.Attr {
		if a.Key == key {
			return true
		}
	}
	return false
}

// link returns the address of the first link whose text holds some words.
func (v *visitor) link(words string) string {
	v.t.Helper()
	n := find(v.page, func(n *html.Node) bool { return n.Data == "a" && strings.Contains(textOf(n), words) })
	if n == nil {
		v.t.Fatalf("%s has no link %q:\n%s", v.at, words, v.words())
	}
	return attribute(n, "href")
}

func find(n *html.Node, is func(*html.Node) bool) *html.Node {
	var found *html.Node
	each(n, func(n *html.Node) {
		if found == nil && n.Type == html.ElementNode && is(n) {
			found = n
		}
	})
	return found
}

func each(n *html.Node, do func(*html.Node)) {
	do(n)
	for child := n.FirstChild; child != nil; child = child.NextSibling {
		each(child, do)
	}
}

func textOf(n *html.Node) string {
	var out strings.Builder
	each(n, func(n *html.Node) {
		if n.Type == html.TextNode {
			out.WriteString(n.Data + " ")
		}
	})
	return strings.TrimSpace(out.String())
}

type node = html.Node
