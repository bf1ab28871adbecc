package scheduler_test

import (
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// atTop is all that the top folder holds beside dot files, those of it that
// are there.
var atTop = []string{
	"DEVELOPERS.md", "README.md", "api", "cmd", "go.mod", "go.sum", "scheduler", "store", "testdata",
}

// The top folder holds nothing but what belongs there and what git is told to
// pass over.
func TestLayout_Top(t *testing.T) {
	entries, err := os.ReadDir(topFolder)
	if err != nil {
		t.Fatal(err)
	}
	leftovers := ignored(t)
	for _, entry := range entries {
		name := entry.Name()
		if name[0] != '.' && !slices.Contains(atTop, name) && !matches(name, leftovers) {
			t.Errorf("%s does not belong in the top folder", name)
		}
	}
}

// Each folder of files that tests read says in SOURCE.md where they come from.
func TestLayout_Sources(t *testing.T) {
	entries, err := os.ReadDir(filepath.Join(topFolder, "testdata"))
	if err != nil || !slices.ContainsFunc(entries, os.DirEntry.IsDir) {
		t.Fatalf("testdata holds no folder: %v", err)
	}
	for _, entry := range entries {
		source := filepath.Join(topFolder, "testdata", entry.Name(), "SOURCE.md")
		if _, err := os.Stat(source); entry.IsDir() && err != nil {
			t.Error(err)
		}
	}
}

// ignored returns the patterns of .gitignore.
func ignored(t *testing.T) []string {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(topFolder, ".gitignore"))
	if err != nil {
		t.Fatal(err)
	}
	var patterns []string
	for line := range strings.Lines(string(text)) {
		if line = strings.TrimSpace(line); line != "" && line[0] != '#' {
			patterns = append(patterns, strings.TrimPrefix(line, "/"))
		}
	}
	return patterns
}

func matches(name string, patterns []string) bool {
	return slices.ContainsFunc(patterns, func(pattern string) bool {
		ok, err := path.Match(pattern, name)
		return ok && err == nil
	})
}
