package scheduler_test

import (
	"go/ast"
	"slices"
	"strings"
	"testing"
)

// keptOff are the packages of the standard library that the engine does
// without, with all under them: its answers depend on its arguments alone.
var keptOff = []string{
	"C", "crypto/rand", "io/ioutil", "log", "math/rand", "net", "os", "plugin", "runtime", "syscall", "unsafe",
}

// except are packages under those that it may use.
var except = []string{"math/rand/v2"}

// forbidden are names that the engine does without in packages that it may
// import.
var forbidden = map[string][]string{
	// What reads a clock, waits for one, or takes the machine's own zone.
	"time": {"After", "AfterFunc", "Local", "NewTicker", "NewTimer", "Now", "Since", "Sleep", "Tick", "Until"},
	// What writes to standard output or reads standard input.
	"fmt": {"Print", "Printf", "Println", "Scan", "Scanf", "Scanln"},
}

// allowed are the only names of a package that the engine may use: the rest of
// math/rand/v2 draws from a source that nobody has seeded.
var allowed = map[string][]string{
	"math/rand/v2": {"ChaCha8", "New", "NewChaCha8", "NewPCG", "NewZipf", "PCG", "Rand", "Source", "Zipf"},
}

// forTestsAlone are the packages that may: they have problems from outside for tests,
// and say how much these try.
var forTestsAlone = []string{"benchtest", "thorough"}

// The engine reads no clock, touches nothing but its arguments, says nothing,
// and draws random numbers only from a source that was seeded.
func TestPurity(t *testing.T) {
	for _, f := range goFiles(t) {
		if f.layer() == "scheduler" && !f.test() && !slices.Contains(forTestsAlone, f.enginePackage()) {
			for _, found := range f.impurities() {
				t.Errorf("%s uses %s", f.path, found)
			}
		}
	}
}

// Each rule finds what it is there to find, and nothing else.
func TestPurity_Found(t *testing.T) {
	tests := []struct{ code, want string }{
		{`import "time"; var _ = time.Now`, "time.Now"},
		{`import clock "time"; func f() { clock.Sleep(1) }`, "time.Sleep"},
		{`import "time"; type s struct{ Now int }; func f(time s) { _ = time.Now }`, ""},
		{`import "time"; var _ = time.UTC`, ""},
		{`import _ "time/tzdata"`, ""},
		{`import . "time"; var _ = Now`, "all names of time"},
		{`import "math/rand/v2"; var _ = rand.IntN(3)`, "math/rand/v2.IntN"},
		{`import "math/rand/v2"; var _ = rand.New(rand.NewPCG(1, 2)).IntN(3)`, ""},
		{`import _ "math/rand"`, "math/rand"},
		{`import _ "crypto/rand"`, "crypto/rand"},
		{`import _ "os"`, "os"},
		{`import _ "os/exec"`, "os/exec"},
		{`import _ "log/slog"`, "log/slog"},
		{`import _ "net/http"`, "net/http"},
		{`import "fmt"; func f() { fmt.Println() }`, "fmt.Println"},
		{`import "fmt"; var _ = fmt.Sprint(3)`, ""},
		{`func f() { println(3) }`, "println"},
	}
	for _, test := range tests {
		got := strings.Join(parseGo(t, "scheduler/a/a.go", "package a; "+test.code).impurities(), ", ")
		if got != test.want {
			t.Errorf("%s: found %q, want %q", test.code, got, test.want)
		}
	}
}

// impurities returns what a file uses that the engine does without.
func (f goFile) impurities() []string {
	var found []string
	names := map[string]string{} // what the file calls a package, and its path
	for _, spec := range f.file.Imports {
		path := pathOf(spec)
		if isOneOf(path, keptOff) && !isOneOf(path, except) {
			found = append(found, path)
		}
		switch name := nameOf(spec); {
		case name == "." && watched(path):
			found = append(found, "all names of "+path)
		default:
			names[name] = path
		}
	}
	ast.Inspect(f.file, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.SelectorExpr:
			if x, ok := n.X.(*ast.Ident); ok && x.Obj == nil && barred(names[x.Name], n.Sel.Name) {
				found = append(found, names[x.Name]+"."+n.Sel.Name)
			}
		case *ast.CallExpr:
			if x, ok := n.Fun.(*ast.Ident); ok && x.Obj == nil && (x.Name == "print" || x.Name == "println") {
				found = append(found, x.Name)
			}
		}
		return true
	})
	return found
}

func watched(path string) bool { return forbidden[path] != nil || allowed[path] != nil }

func barred(path, name string) bool {
	return slices.Contains(forbidden[path], name) || allowed[path] != nil && !slices.Contains(allowed[path], name)
}
