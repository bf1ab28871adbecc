package main

import (
	"fmt"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// Under the program's name this is the program, which thus is linked but once.
func TestMain(m *testing.M) {
	if filepath.Base(os.Args[0]) == "blankwright" {
		main()
	}
	os.Exit(m.Run())
}

// The lines of README.md that lead from an empty folder to tomorrow's queue
// work as they stand, but for the port.
func TestReadme_Walk(t *testing.T) {
	if testing.Short() {
		t.Skip("takes a while")
	}
	for _, tool := range []string{"bash", "curl", "sed", "date"} {
		if _, err := exec.LookPath(tool); err != nil {
			missing(t, tool)
		}
	}
	bin, folder := t.TempDir(), t.TempDir()
	if err := os.Symlink(myself(t), filepath.Join(bin, "blankwright")); err != nil {
		t.Fatal(err)
	}
	script := "set -euo pipefail\ntrap 'kill $(jobs -p) 2>/dev/null || true' EXIT\n" +
		strings.ReplaceAll(walk(t), "127.0.0.1:8080", freeAddress(t))
	run := exec.CommandContext(t.Context(), "bash", "-c", script)
	run.Dir = folder
	run.Env = append(os.Environ(), "PATH="+bin+string(os.PathListSeparator)+os.Getenv("PATH"))
	out, err := run.CombinedOutput()
	if err != nil {
		log, _ := os.ReadFile(filepath.Join(folder, "serve.log"))
		t.Fatalf("%v\n%s\n%.4000s", err, out, log)
	}
	for what, want := range map[string]string{
		"the order's change": `"quantity":6`,
		"the run's end":      `"stage":"done"`,
		"the released loads": `"loads":\["L`,
		"the queue":          `"items":\[`,
		"the copy":           `are copied into copy.db`,
	} {
		if !regexp.MustCompile(want).Match(out) {
			t.Errorf("%s is not in the output:\n%s", what, out)
		}
	}
}

func myself(t *testing.T) string {
	t.Helper()
	path, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	return path
}

// missing skips a test for want of a tool, which a full check does not allow.
func missing(t *testing.T, tool string) {
	t.Helper()
	if os.Getenv("CI") == "true" {
		t.Fatalf("%s is missing", tool)
	}
	t.Skipf("%s is missing", tool)
}

// walk returns the commands of that part of README.md.
func walk(t *testing.T) string {
	t.Helper()
	_, part, ok := strings.Cut(content(t, "../../README.md"), "## From an empty folder")
	if !ok {
		t.Fatal("README.md has no such part")
	}
	part, _, _ = strings.Cut(part, "\n## ")
	var commands strings.Builder
	for _, block := range regexp.MustCompile("(?s)```sh\n(.*?)```").FindAllStringSubmatch(part, -1) {
		commands.WriteString(block[1])
	}
	if commands.Len() == 0 {
		t.Fatal("README.md has no commands there")
	}
	return commands.String()
}

// freeAddress returns an address of this machine at which nobody listens.
func freeAddress(t *testing.T) string {
	t.Helper()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	if err := l.Close(); err != nil {
		t.Fatal(err)
	}
	return fmt.Sprint(l.Addr())
}
