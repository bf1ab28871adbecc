package web_test

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"blankwright/api/web/webtest"
)

var write = flag.String("write", "", "write each page of the gallery into this folder")

// Every page renders, with plain names and with hostile ones: what is typed
// into the books stays text, ids are there once, inputs have labels, and nothing
// is inline that the content policy refuses.
func TestGallery(t *testing.T) {
	s, p := webtest.TernPoint(t)
	hostile, hostilePlan := webtest.Hostile(t)
	poisoned := gallery(t, hostile, hostilePlan)
	for name, page := range gallery(t, s, p) {
		t.Run(name, func(t *testing.T) {
			look(t, rendered(t, name, page))
			text := look(t, rendered(t, "", poisoned[name]))
			if !strings.Contains(text, webtest.Poison) {
				t.Error("a hostile name is not shown as it is")
			}
		})
	}
}

func rendered(t *testing.T, name string, page renderer) []byte {
	t.Helper()
	var out bytes.Buffer
	if err := page.Render(&out); err != nil {
		t.Fatal(err)
	}
	if *write != "" && name != "" {
		if err := os.WriteFile(filepath.Join(*write, name+".html"), out.Bytes(), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	return out.Bytes()
}

// look reads a page as a browser does, complains of what must not be there,
// and returns all its text.
func look(t *testing.T, page []byte) string {
	t.Helper()
	root, err := html.Parse(bytes.NewReader(page))
	if err != nil {
		t.Fatal(err)
	}
	c := critic{t: t, ids: map[string]bool{}, labels: map[string]bool{}}
	c.visit(root, c.read)
	c.visit(root, c.judge)
	return c.text.String()
}

// A critic goes through a page.
type critic struct {
	t           *testing.T
	ids, labels map[string]bool
	text        strings.Builder
}

func (c *critic) visit(n *html.Node, each func(*html.Node)) {
	each(n)
	for child := n.FirstChild; child != nil; child = child.NextSibling {
		c.visit(child, each)
	}
}

// read notes ids and what labels are for.
func (c *critic) read(n *html.Node) {
	if n.Type == html.TextNode {
		c.text.WriteString(n.Data)
	}
	if n.Type != html.ElementNode {
		return
	}
	for _, a := range n.Attr {
		c.text.WriteString("\n" + a.Val + "\n")
	}
	if id := attribute(n, "id"); id != "" {
		if c.ids[id] {
			c.t.Errorf("id %q is there twice", id)
		}
		c.ids[id] = true
	}
	if n.Data == "label" {
		c.labels[attribute(n, "for")] = true
	}
}

// judge complains of what must not be.
func (c *critic) judge(n *html.Node) {
	if n.Type != html.ElementNode {
		return
	}
	for _, a := range n.Attr {
		if a.Key == "style" || strings.HasPrefix(a.Key, "on") {
			c.t.Errorf("<%s> has an attribute %s", n.Data, a.Key)
		}
		if to := strings.ToLower(a.Val); (a.Key == "href" || a.Key == "action") && strings.Contains(to, "%3c/") {
			c.t.Errorf("<%s> leads astray where a name has a slash: %s", n.Data, a.Val)
		}
		if id, within := referred(a); within && !c.ids[id] {
			c.t.Errorf("<%s> takes %q from the page, which is not there", n.Data, a.Val)
		}
		if (a.Key == "aria-labelledby" || a.Key == "aria-describedby") && a.Val != "" {
			for id := range strings.FieldsSeq(a.Val) {
				if !c.ids[id] {
					c.t.Errorf("<%s> refers to id %q, which is not there", n.Data, id)
				}
			}
		}
	}
	switch n.Data {
	case "style":
		c.t.Error("there is an inline style")
	case "script":
		if src := attribute(n, "src"); !strings.HasPrefix(src, "/assets/") {
			c.t.Errorf("there is a script that is not ours: %q", src)
		}
	case "input", "select", "textarea":
		c.judgeInput(n)
	case "svg":
		if attribute(n, "role") != "img" && attribute(n, "aria-hidden") != "true" {
			c.t.Error("a picture is neither an image nor an ornament")
		}
	case "form":
		if !strings.HasPrefix(attribute(n, "action"), "/") {
			c.t.Errorf("a form goes to %q", attribute(n, "action"))
		}
	}
}

// referred returns the id of the same page that a link, a use or a fill refers to.
func referred(a html.Attribute) (id string, within bool) {
	switch a.Key {
	case "href":
		return strings.CutPrefix(a.Val, "#")
	case "fill":
		return strings.CutPrefix(strings.TrimSuffix(a.Val, ")"), "url(#")
	}
	return "", false
}

func (c *critic) judgeInput(n *html.Node) {
	kind := attribute(n, "type")
	if kind == "hidden" || attribute(n, "aria-label") != "" || inLabel(n) || c.labels[attribute(n, "id")] && attribute(n, "id") != "" {
		return
	}
	c.t.Errorf("<%s name=%q> has no label", n.Data, attribute(n, "name"))
}

func inLabel(n *html.Node) bool {
	for p := n.Parent; p != nil; p = p.Parent {
		if p.Data == "label" {
			return true
		}
	}
	return false
}

func attribute(n *html.Node, key string) string {
	for _, a := range n.Attr {
		if a.Key == key {
			return a.Val
		}
	}
	return ""
}
