package scheduler_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// topFolder is the project's, from here.
const topFolder = ".."

// A goFile is one file of Go; path leads to it from the top folder, with
// slashes.
type goFile struct {
	path string
	file *ast.File
}

// goFiles parses every file of Go in the project, without those that go itself
// passes over.
func goFiles(t *testing.T) []goFile {
	t.Helper()
	project := os.DirFS(topFolder)
	var all []goFile
	err := fs.WalkDir(project, ".", func(name string, entry fs.DirEntry, err error) error {
		switch base := path.Base(name); {
		case err != nil:
			return err
		case entry.IsDir() && (base == "testdata" || len(base) > 1 && strings.ContainsRune("._", rune(base[0]))):
			return fs.SkipDir
		case path.Ext(base) != ".go":
			return nil
		}
		code, err := fs.ReadFile(project, name)
		if err == nil {
			all = append(all, parseGo(t, name, string(code)))
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	if len(all) == 0 {
		t.Fatal("there is no file of Go: the top folder is elsewhere")
	}
	return all
}

func parseGo(t *testing.T, path, code string) goFile {
	t.Helper()
	file, err := parser.ParseFile(token.NewFileSet(), path, code, 0)
	if err != nil {
		t.Fatal(err)
	}
	return goFile{path, file}
}

func (f goFile) test() bool { return strings.HasSuffix(f.path, "_test.go") }

// forTests reports whether no program can hold a file.
func (f goFile) forTests() bool {
	return f.test() || slices.Contains(forTests, path.Dir(f.path))
}

// layer is the folder at the top in which a file lies.
func (f goFile) layer() string {
	layer, _, _ := strings.Cut(f.path, "/")
	return layer
}

// enginePackage is the name of a file's package from scheduler on, "." for
// scheduler itself.
func (f goFile) enginePackage() string {
	return path.Dir(strings.TrimPrefix(f.path, "scheduler/"))
}

func (f goFile) imports() []string {
	var paths []string
	for _, spec := range f.file.Imports {
		paths = append(paths, pathOf(spec))
	}
	return paths
}

func pathOf(spec *ast.ImportSpec) string {
	imported, err := strconv.Unquote(spec.Path.Value)
	if err != nil {
		panic("the parser takes an import for good that cannot be unquoted: " + spec.Path.Value)
	}
	return imported
}

// nameOf is what a file calls a package of the standard library.
func nameOf(spec *ast.ImportSpec) string {
	if spec.Name != nil {
		return spec.Name.Name
	}
	name := path.Base(pathOf(spec))
	if name == "v2" {
		name = path.Base(path.Dir(pathOf(spec)))
	}
	return name
}
