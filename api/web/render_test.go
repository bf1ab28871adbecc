package web_test

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"testing"

	"blankwright/api/web/webtest"
)

var write = flag.String("write", "", "write each page of the gallery into this folder")

// Every page renders, with plain names and with hostile ones.
func TestGallery(t *testing.T) {
	s, p := webtest.TernPoint(t)
	for name, page := range gallery(t, s, p) {
		var out bytes.Buffer
		if err := page.Render(&out); err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if *write != "" {
			if err := os.WriteFile(filepath.Join(*write, name+".html"), out.Bytes(), 0o600); err != nil {
				t.Fatal(err)
			}
		}
		t.Logf("%s: %d kB", name, out.Len()/1000)
	}
}
