package benchtest

import (
	"os"
	"path/filepath"
	"strconv"
	"testing"
)

// dataFolder is where the problems' files lie, from the module's top folder.
const dataFolder = "../shared/data"

// outside returns the text of a problem file.
func outside(t testing.TB, name string) string {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(top(t), filepath.FromSlash(dataFolder), name))
	switch {
	case err == nil:
		return string(text)
	case os.Getenv("CI") == "true":
		t.Fatalf("with CI=true nothing is left out: %v", err)
	default:
		t.Skipf("without the problem's file: %v", err)
	}
	return ""
}

// top returns the module's top folder, above the folder that a test runs in.
func top(t testing.TB) string {
	t.Helper()
	dir, err := os.Getwd()
	for err == nil {
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil {
			return dir
		}
		if filepath.Dir(dir) == dir {
			break
		}
		dir = filepath.Dir(dir)
	}
	t.Fatalf("no go.mod above the test: %v", err)
	return ""
}

// whole returns the whole number that a field states.
func whole(t testing.TB, field string) int {
	t.Helper()
	n, err := strconv.Atoi(field)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// decimal returns the number that a field states.
func decimal(t testing.TB, field string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(field, 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}
