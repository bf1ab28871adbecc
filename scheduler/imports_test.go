package scheduler_test

import (
	"path"
	"slices"
	"strings"
	"testing"
)

// mayImport says which packages of the engine each of them may import, all
// named from scheduler. DEVELOPERS.md draws it as a map.
var mayImport = map[string]string{
	"strict":      "",
	"shop":        "strict",
	"plan":        "shop strict",
	"cure":        "shop",
	"rack":        "",
	"instance":    "cure rack shop",
	"line":        "instance rack shop",
	"cost":        "instance line shop",
	"answer":      "check cost instance line plan rack shop", // check under slowcheck only
	"ovens":       "alone cost instance line rack shop",
	"construct":   "answer instance line ovens rack shop",
	"relax":       "shop",
	"search/move": "answer construct instance line rack",
	"tidy":        "answer line rack",
	"search":      "answer instance search/move shop tidy",
	"alone":       "instance rack shop",
	"price":       "alone instance rack shop",
	"bound":       "alone instance price rack shop",
	"binding":     "alone answer cost instance line rack shop",
	"explain":     "answer binding instance line plan relax search shop",
	"check":       "plan shop",
	"fit":         "cure rack shop",
	"sheet":       "plan shop",
	"carry":       "shop",
	"shoptest":    "plan shop",
	"benchtest":   "plan shop shoptest",
	"reference":   "",
	"thorough":    "",
	".":           "answer binding bound construct explain instance ovens plan search shop",
}

// forTests are the packages that only tests, and each other, may import.
var forTests = []string{"scheduler/shoptest", "scheduler/benchtest", "scheduler/thorough", "store/storetest", "api/apitest"}

// testLibraries are the modules that only tests may import; the engine's tests
// import no others.
var testLibraries = []string{
	"github.com/crillab/gophersat", "github.com/google/go-cmp", "pgregory.net/rapid", "github.com/getkin/kin-openapi",
}

// homes says of some modules in which layer alone they may be imported.
var homes = map[string]string{
	"gorm.io": "store", "modernc.org": "store", "github.com/pressly/goose": "store", "github.com/gin-gonic/gin": "api",
	"github.com/robfig/cron":        "api",
	"github.com/danielgtaylor/huma": "api", "github.com/alexedwards/scs": "api", "github.com/prometheus": "api",
	"github.com/getkin/kin-openapi": "api",
}

// layers says what each layer above the engine may import of the project.
var layers = map[string]string{
	"cmd":   "cmd api store scheduler",
	"api":   "api store scheduler",
	"store": "store scheduler/shop scheduler/plan scheduler/strict scheduler/carry",
}

// narrow says of packages above the engine that are as pure as it what of the
// project they may import; beside that, they import the standard library only.
var narrow = map[string]string{"store/crib": "scheduler/shop scheduler/strict"}

// Every import keeps to the layers and, in the engine, to its map.
func TestImports(t *testing.T) {
	for _, f := range goFiles(t) {
		for _, imported := range f.imports() {
			if why := f.refuses(imported); why != "" {
				t.Errorf("%s imports %s, but %s", f.path, imported, why)
			}
		}
	}
}

// Every package of the engine has a row in the map.
func TestImports_MapIsWhole(t *testing.T) {
	for _, f := range goFiles(t) {
		if _, ok := mayImport[f.enginePackage()]; f.layer() == "scheduler" && !ok {
			t.Errorf("%s: its package has no row in mayImport", f.path)
		}
	}
}

// The rules refuse what they are there to refuse, and nothing else.
func TestImports_Refused(t *testing.T) {
	tests := []struct{ path, imported, want string }{
		{"scheduler/shop/a.go", "blankwright/scheduler/strict", ""},
		{"scheduler/shop/a.go", "blankwright/scheduler/plan", "shop may import strict"},
		{"scheduler/strict/a.go", "blankwright/scheduler/shop", "strict may import nothing"},
		{"scheduler/search/move/a.go", "blankwright/scheduler/search", "search/move may import answer"},
		{"scheduler/check/a.go", "blankwright/scheduler/line", "check may import plan shop"},
		{"scheduler/check/a_test.go", "blankwright/scheduler/line", ""},
		{"scheduler/check/a.go", "blankwright/scheduler/shoptest", "only tests"},
		{"scheduler/benchtest/a.go", "blankwright/scheduler/shoptest", ""},
		{"scheduler/benchtest/a.go", "blankwright/scheduler/line", "benchtest may import plan shop shoptest"},
		{"scheduler/plan.go", "blankwright/scheduler/search", ""},
		{"scheduler/plan.go", "blankwright/scheduler/search/move", "its root may import"},
		{"scheduler/a_test.go", "blankwright/store", "no other layer"},
		{"scheduler/rack/a.go", "slices", ""},
		{"scheduler/rack/a.go", "pgregory.net/rapid", "only tests"},
		{"scheduler/rack/a.go", "golang.org/x/time/rate", "the standard library only"},
		{"scheduler/rack/a_test.go", "pgregory.net/rapid", ""},
		{"scheduler/rack/a_test.go", "github.com/google/go-cmp/cmp", ""},
		{"scheduler/rack/a_test.go", "golang.org/x/time/rate", "its tests"},
		{"cmd/blankwright/a.go", "blankwright/api", ""},
		{"cmd/blankwright/a.go", "blankwright/scheduler/search", ""},
		{"cmd/blankwright/a.go", "blankwright/scheduler/shoptest", "only tests"},
		{"cmd/blankwright/a.go", "gorm.io/gorm", "only store"},
		{"cmd/blankwright/a.go", "github.com/google/go-cmp/cmp", "only tests"},
		{"api/a.go", "github.com/gin-gonic/gin", ""},
		{"api/a.go", "blankwright/store", ""},
		{"api/a.go", "blankwright/api/apitest", "only tests"},
		{"api/rest/a_test.go", "blankwright/api/apitest", ""},
		{"api/apitest/a.go", "blankwright/store/storetest", ""},
		{"api/apitest/a.go", "github.com/getkin/kin-openapi/openapi3", ""},
		{"api/rest/a.go", "github.com/getkin/kin-openapi/openapi3", "only tests"},
		{"store/a_test.go", "github.com/getkin/kin-openapi/openapi3", "only api"},
		{"store/a.go", "github.com/danielgtaylor/huma/v2", "only api"},
		{"api/a.go", "blankwright/cmd/blankwright", "api may import api store scheduler"},
		{"api/a.go", "blankwright/store/storetest", "only tests"},
		{"api/a_test.go", "blankwright/store/storetest", ""},
		{"store/a.go", "gorm.io/gorm/clause", ""},
		{"store/a.go", "blankwright/store/storetest", "only tests"},
		{"store/storetest/a.go", "blankwright/scheduler/shoptest", ""},
		{"store/storetest/a.go", "blankwright/scheduler/line", "store may import store scheduler/shop"},
		{"scheduler/shoptest/a.go", "blankwright/store/storetest", "no other layer"},
		{"store/a.go", "github.com/gin-gonic/gin", "only api"},
		{"store/a.go", "blankwright/scheduler/plan", ""},
		{"store/a.go", "blankwright/scheduler/line", "store may import store scheduler/shop"},
		{"store/a_test.go", "blankwright/scheduler/shoptest", ""},
		{"store/a_test.go", "blankwright/scheduler/check", ""},
		{"store/crib/a.go", "blankwright/scheduler/strict", ""},
		{"store/crib/a.go", "blankwright/store", "store/crib may import scheduler/shop"},
		{"store/crib/a.go", "gorm.io/gorm", "the standard library only"},
		{"store/crib/a_test.go", "github.com/google/go-cmp/cmp", ""},
		{"testdata/a.go", "blankwright/scheduler/shop", "testdata may import nothing"},
	}
	for _, test := range tests {
		got := goFile{path: test.path}.refuses(test.imported)
		if (got == "") != (test.want == "") || !strings.Contains(got, test.want) {
			t.Errorf("%s imports %s: got %q, want %q", test.path, test.imported, got, test.want)
		}
	}
}

// refuses says why a file may not import a package, or "" where it may.
func (f goFile) refuses(imported string) string {
	if own, ok := strings.CutPrefix(imported, "blankwright/"); ok {
		return f.refusesOwn(own)
	}
	if first, _, _ := strings.Cut(imported, "/"); !strings.Contains(first, ".") {
		return "" // the standard library; what of it the engine keeps off stands in purity_test.go
	}
	return f.refusesForeign(imported)
}

// refusesOwn judges an import from this project.
func (f goFile) refusesOwn(own string) string {
	switch {
	case slices.Contains(forTests, own) && f.test():
		return ""
	case slices.Contains(forTests, own) && !f.forTests():
		return "only tests may"
	case slices.Contains(forTests, own) && f.layer() != "scheduler":
		return ""
	case f.narrow() && !f.test():
		if isOneOf(own, strings.Fields(narrow[path.Dir(f.path)])) {
			return ""
		}
		return path.Dir(f.path) + " may import " + narrow[path.Dir(f.path)]
	case f.layer() == "store" && f.test() && isIn(own, "scheduler"):
		return "" // plans for books, and their judge
	case f.layer() != "scheduler":
		if isOneOf(own, strings.Fields(layers[f.layer()])) {
			return ""
		}
		return f.layer() + " may import " + orNothing(layers[f.layer()])
	case !isIn(own, "scheduler"):
		return "the engine imports no other layer"
	case f.test() || slices.Contains(strings.Fields(mayImport[f.enginePackage()]), strings.TrimPrefix(own, "scheduler/")):
		return ""
	}
	name := f.enginePackage()
	if name == "." {
		name = "its root"
	}
	return "in the engine " + name + " may import " + orNothing(mayImport[f.enginePackage()])
}

// refusesForeign judges an import from another module.
func (f goFile) refusesForeign(imported string) string {
	for module, home := range homes {
		if isIn(imported, module) && f.layer() != home {
			return "only " + home + " may"
		}
	}
	switch library := isOneOf(imported, testLibraries); {
	case library && !f.test() && !f.forTests():
		return "only tests may"
	case f.narrow() && !f.test():
		return path.Dir(f.path) + " imports the standard library only"
	case f.layer() != "scheduler" || library:
		return ""
	case f.test():
		return "the engine and its tests import the standard library and " + strings.Join(testLibraries, " and ")
	}
	return "the engine imports the standard library only"
}

// narrow reports whether a file's package is one that is as pure as the engine.
func (f goFile) narrow() bool { return narrow[path.Dir(f.path)] != "" }

// isIn reports whether a path is another one or lies under it.
func isIn(name, folder string) bool { return name == folder || strings.HasPrefix(name, folder+"/") }

func isOneOf(name string, folders []string) bool {
	return slices.ContainsFunc(folders, func(folder string) bool { return isIn(name, folder) })
}

func orNothing(list string) string {
	if list == "" {
		return "nothing"
	}
	return list
}
