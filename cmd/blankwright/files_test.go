package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// manyProblems is a shop file in which sixty fields are unknown.
func manyProblems(t *testing.T) string {
	t.Helper()
	var extra strings.Builder
	for i := range 60 {
		fmt.Fprintf(&extra, `"extra_%d": 1, `, i)
	}
	file := filepath.Join(t.TempDir(), "shop.json")
	text := strings.Replace(content(t, yardFile), "{", "{"+extra.String(), 1)
	if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	return file
}

// A bad file is told problem by problem with its path, fifty at most, and
// counted.
func TestRun_BadFile(t *testing.T) {
	file := manyProblems(t)
	code, stdout, stderr := blankwright("plan", file)
	lines := strings.Split(strings.TrimSpace(stderr), "\n")
	if code != exitBad || stdout != "" || len(lines) != 52 {
		t.Fatalf("exit %d, standard output %q, %d lines of problems; want exit 2, none, and 52", code, stdout, len(lines))
	}
	if !strings.HasPrefix(lines[0], file+": extra_0: ") {
		t.Errorf("first problem %q", lines[0])
	}
	if want := file + ": and 10 more; -json lists all"; lines[50] != want {
		t.Errorf("the rest is %q, want %q", lines[50], want)
	}
	if want := "60 problems; nothing is written"; lines[51] != want {
		t.Errorf("the count is %q, want %q", lines[51], want)
	}
	if names, _ := filepath.Glob(filepath.Join(filepath.Dir(file), "*")); len(names) != 1 {
		t.Errorf("files %v, want only the shop", names)
	}
}

// As JSON all problems are there.
func TestRun_BadFileJSON(t *testing.T) {
	file := manyProblems(t)
	code, stdout, stderr := blankwright("check", file, yardPlanFile, "-json")
	got := decoded(t, stdout)
	problems, _ := got["problems"].([]any)
	if code != exitBad || stderr != "" || got["file"] != file || len(problems) != 60 {
		t.Fatalf("exit %d, standard error %q, file %v, %d problems; want 2, none, %s, 60", code, stderr, got["file"], len(problems), file)
	}
	if first := problems[0].(map[string]any); first["path"] != "extra_0" || first["message"] == "" {
		t.Errorf("first problem %v", first)
	}
}

// A file replaces another whole, keeps its mode, and leaves nothing beside.
func TestWrite(t *testing.T) {
	folder := t.TempDir()
	file, link := filepath.Join(folder, "plan.json"), filepath.Join(folder, "link.json")
	if err := os.WriteFile(file, []byte("a longer text that was there"), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(file, link); err != nil {
		t.Skip("no symbolic links here")
	}
	if err := write(link, []byte("new")); err != nil {
		t.Fatal(err)
	}
	info, err := os.Lstat(file)
	if err != nil || info.Mode().Perm() != 0o600 || content(t, file) != "new" {
		t.Errorf("%v, %v, %q; want mode 0600 and the new text", err, info.Mode(), content(t, file))
	}
	if info, err := os.Lstat(link); err != nil || info.Mode()&os.ModeSymlink == 0 {
		t.Errorf("the link is %v, %v; want it kept", info.Mode(), err)
	}
	if names, _ := filepath.Glob(filepath.Join(folder, "*")); len(names) != 2 {
		t.Errorf("files %v, want two", names)
	}
}

// What can't be written leaves nothing behind.
func TestWrite_Fails(t *testing.T) {
	folder := t.TempDir()
	if err := write(filepath.Join(folder, "none", "plan.json"), []byte("new")); err == nil {
		t.Error("no error for a folder that isn't there")
	}
	if names, _ := filepath.Glob(filepath.Join(folder, "*")); len(names) != 0 {
		t.Errorf("files %v, want none", names)
	}
}
