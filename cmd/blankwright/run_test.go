package main

import (
	"bytes"
	"context"
	"encoding/json"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

var update = flag.Bool("update", false, "write the golden files anew")

// The small yard, whose plan is made by hand: it is valid, and leaves a line
// out.
const (
	yardFile     = "testdata/yard.json"
	yardPlanFile = "testdata/yard.plan.json"
)

// blankwright runs the program as its user does, with nothing on standard
// input.
func blankwright(args ...string) (code int, stdout, stderr string) {
	return blankwrightReading("", args...)
}

func blankwrightReading(stdin string, args ...string) (code int, stdout, stderr string) {
	var out, err bytes.Buffer
	code = run(context.Background(), args, strings.NewReader(stdin), &out, &err)
	return code, out.String(), err.String()
}

// content returns a file's text.
func content(t *testing.T, file string) string {
	t.Helper()
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// golden compares a text with a file under testdata/golden, or writes it.
func golden(t *testing.T, name, got string) {
	t.Helper()
	file := filepath.Join("testdata", "golden", name)
	if *update {
		if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if diff := cmp.Diff(content(t, file), got); diff != "" {
		t.Errorf("%s (-want +got):\n%s", file, diff)
	}
}

// decoded reads JSON that must be all of a text.
func decoded(t *testing.T, text string) map[string]any {
	t.Helper()
	value := map[string]any{}
	if err := json.Unmarshal([]byte(text), &value); err != nil {
		t.Fatalf("%v in:\n%s", err, text)
	}
	return value
}

// Whatever is asked for amiss is named, on standard error only, and exits
// with 2.
func TestRun_UsageErrors(t *testing.T) {
	tests := []struct {
		name string
		args string
		says string
	}{
		{"no command", "", "blankwright plan SHOP"},
		{"unknown command", "frob a", `no command "frob"`},
		{"unknown option", "check a b -frob", "no option -frob"},
		{"option of another command", "check a b -seed 3", "no option -seed"},
		{"option without value", "plan a -seed", "option -seed needs a value"},
		{"value of a wrong kind", "plan a -seed x", `option -seed can't be "x"`},
		{"effort below 0", "plan a -effort=-1", "below 0"},
		{"limit below 0", "plan a -limit -1s", "below 0"},
		{"limit without unit", "plan a -limit 30", "option -limit"},
		{"no such date", "queues a b -date 2026-02-30", "no date"},
		{"no file", "plan", "plan: takes SHOP, but was given none"},
		{"too few files", "check a", "check: takes SHOP and PLAN, but was given a"},
		{"no line", "explain a b", "explain: takes SHOP, PLAN and LINE, but was given a b"},
		{"unknown line", "explain " + yardFile + " " + yardPlanFile + " D9", `no line "D9"; there are D1, `},
		{"too many files", "plan a b", "plan: takes SHOP, but was given a b"},
		{"file for demo", "demo a", "demo: takes no file"},
		{"option after --", "check a b -- -json", "given a b -json"},
		{"both files standard input", "check - -", "both SHOP and PLAN"},
		{"plan and JSON to one place", "plan a -o - -json", "both want standard output"},
		{"help on nothing known", "help frob", `no help on "frob"`},
		{"plan in a missing folder", "plan " + yardFile + " -o testdata/none/p.json", "can't be written: no such file"},
		{"plan over the shop", "plan " + yardFile + " -o testdata/../" + yardFile, "the shop file itself"},
		{"trace on standard output", "plan " + yardFile + " -o " + os.DevNull + " -trace -", "a file of its own"},
		{"trace over the shop", "plan " + yardFile + " -o " + os.DevNull + " -trace ./" + yardFile, "the shop's or the plan's file"},
		{"trace over the plan", "plan " + yardFile + " -o testdata/none.json -trace testdata/golden/../none.json", "the shop's or the plan's file"},
		{"trace in a missing folder", "plan " + yardFile + " -o " + os.DevNull + " -trace testdata/none/t", "can't be written"},
		{"plan over a folder", "plan " + yardFile + " -o testdata/golden", "it is a folder"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			code, stdout, stderr := blankwright(strings.Fields(test.args)...)
			if code != exitBad || stdout != "" || !strings.Contains(stderr, test.says) {
				t.Errorf("exit %d, standard output %q, standard error %q; want exit 2 and only an error with %q", code, stdout, stderr, test.says)
			}
		})
	}
}

// Options stand before, between or after the files, with one dash or two,
// with their value after "=" or as the next argument.
func TestRun_OptionOrder(t *testing.T) {
	_, want, _ := blankwright("queues", "-json", "-date", "2026-11-30", yardFile, yardPlanFile)
	if want == "" {
		t.Fatal("nothing printed")
	}
	for _, args := range [][]string{
		{"queues", yardFile, yardPlanFile, "-json", "-date", "2026-11-30"},
		{"queues", yardFile, "-date", "2026-11-30", yardPlanFile, "--json"},
		{"queues", "--date=2026-11-30", yardFile, "-json=true", "--", yardPlanFile},
	} {
		if code, got, stderr := blankwright(args...); code != exitFine || got != want {
			t.Errorf("%v: exit %d, %q, and other output than with the options first", args, code, stderr)
		}
	}
}

// After "--" a name with a dash is a file.
func TestRun_FileWithDash(t *testing.T) {
	t.Chdir(t.TempDir())
	_, _, stderr := blankwright("check", "--", "-shop.json", "-plan.json")
	if want := "-shop.json: no such file or directory\n1 problem; nothing is written\n"; stderr != want {
		t.Errorf("standard error %q, want %q", stderr, want)
	}
}

// Help is fine, goes to standard output, and tells of every command and option.
func TestRun_Help(t *testing.T) {
	tests := []struct{ name, args string }{
		{"help.txt", "help"},
		{"help-plan.txt", "help plan"},
		{"help-check.txt", "help check"},
		{"help-queues.txt", "help queues"},
		{"help-explain.txt", "help explain"},
		{"help-demo.txt", "help demo"},
		{"help-serve.txt", "help serve"},
		{"help-import.txt", "help import"},
		{"help-export.txt", "help export"},
		{"help-backup.txt", "help backup"},
		{"help-restore.txt", "help restore"},
	}
	for _, test := range tests {
		t.Run(test.args, func(t *testing.T) {
			code, stdout, stderr := blankwright(strings.Fields(test.args)...)
			if code != exitFine || stderr != "" {
				t.Errorf("exit %d, standard error %q", code, stderr)
			}
			golden(t, test.name, stdout)
		})
	}
	for _, args := range [][]string{{"-h"}, {"--help"}} {
		if code, stdout, _ := blankwright(args...); code != exitFine || stdout != overview() {
			t.Errorf("%v: exit %d, and other text than help", args, code)
		}
	}
	if code, stdout, _ := blankwright("check", "a", "--help"); code != exitFine || stdout != checkCommand().help() {
		t.Errorf("check --help: exit %d, and other text than help check", code)
	}
}

// A panic is an internal error, not an exit code that says something else.
func TestRun_Panic(t *testing.T) {
	var out, err bytes.Buffer
	w := &world{stdin: strings.NewReader(""), stdout: &out, stderr: &err} // without a clock
	if code := w.run(context.Background(), []string{"plan", yardFile, "-o", filepath.Join(t.TempDir(), "p.json")}); code != exitInternal {
		t.Errorf("exit %d, want 3", code)
	}
	if !strings.Contains(err.String(), "internal error") {
		t.Errorf("standard error %q", err.String())
	}
}
