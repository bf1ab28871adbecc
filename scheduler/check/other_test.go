package check_test

import (
	"bufio"
	"bytes"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
)

// otherChecker is the second checker; it may be absent.
const otherChecker = "../../../shared/check.py"

// verdictsFile holds what the second checker found, a mutant a line.
var verdictsFile = filepath.Join(mutationsDir, "verdicts.jsonl")

// A verdict is what the second checker found of a mutant.
type verdict struct {
	Base    string `json:"base"`
	Mutator string `json:"mutator"`
	Seed    uint64 `json:"seed"`
	Digest  string `json:"digest"` // of the files that were judged
	finding
}

// A finding is what the second checker says of one mutant: the rules that it
// breaks, sorted, and what it counts, unless the file has no meaning.
type finding struct {
	Rules   []string `json:"rules"`
	Counted *counts  `json:"counted,omitempty"`
}

// counts are a plan's cost by term, and its facts.
type counts struct {
	Late      float64 `json:"late"`
	Hold      float64 `json:"hold"`
	Oven      float64 `json:"oven"`
	Setup     float64 `json:"setup"`
	Pieces    int     `json:"pieces"`
	LateSets  int     `json:"late_sets"`
	Unplanned int     `json:"unplanned"`
}

func readVerdicts(t testing.TB) []verdict {
	t.Helper()
	file, err := os.Open(verdictsFile)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	var all []verdict
	for lines := bufio.NewScanner(file); lines.Scan(); {
		var v verdict
		if err := json.Unmarshal(lines.Bytes(), &v); err != nil {
			t.Fatal(err)
		}
		all = append(all, v)
	}
	return all
}

// record asks the second checker about every mutant, and writes what it found.
func record(t testing.TB, all []mutant) {
	t.Helper()
	requireOther(t)
	var out bytes.Buffer
	lines := json.NewEncoder(&out)
	for i, found := range askOther(t, all) {
		m := all[i]
		if err := lines.Encode(verdict{m.base, m.mutator, m.seed, m.digest(), found}); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.WriteFile(verdictsFile, out.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
}

// requireOther skips a test where the second checker can't be run.
func requireOther(t testing.TB) {
	t.Helper()
	if _, err := os.Stat(otherChecker); err != nil {
		t.Skip("the second checker is not here")
	}
	if _, err := exec.LookPath("python3"); err != nil {
		t.Skip("python3 is not here")
	}
}

// driver has the second checker judge mutants, a line each, and prints a
// finding for each. Where it fails, it finds "crash", which agrees with nothing.
const driver = `
import importlib.util, json, sys
spec = importlib.util.spec_from_file_location("other", sys.argv[1])
other = importlib.util.module_from_spec(spec)
spec.loader.exec_module(other)
for line in sys.stdin:
    mutant = json.loads(line)
    counted = {}
    try:
        breaches, counted = other.check(json.loads(mutant["shop"]), json.loads(mutant["plan"]))
        rules = {b.split(":")[0] for b in breaches}
    except Exception as e:
        rules = {"crash " + repr(e)}
    names = ("late", "hold", "oven", "setup", "pieces", "late_sets", "unplanned")
    print(json.dumps({"rules": sorted(rules), "counted": {k: counted[k] for k in names} if counted else None}))
`

// askOther returns what the second checker finds, for each mutant.
func askOther(t testing.TB, all []mutant) []finding {
	t.Helper()
	var in, failures bytes.Buffer
	lines := json.NewEncoder(&in)
	for _, m := range all {
		if err := lines.Encode(map[string]string{"shop": string(m.shop), "plan": string(m.plan)}); err != nil {
			t.Fatal(err)
		}
	}
	command := exec.Command("python3", "-c", driver, otherChecker)
	command.Stdin, command.Stderr = &in, &failures
	out, err := command.Output()
	if err != nil {
		t.Fatalf("%v: %s", err, failures.Bytes())
	}
	var found []finding
	for decoder := json.NewDecoder(bytes.NewReader(out)); decoder.More(); {
		var f finding
		if err := decoder.Decode(&f); err != nil {
			t.Fatal(err)
		}
		found = append(found, f)
	}
	if len(found) != len(all) {
		t.Fatalf("%d verdicts on %d mutants", len(found), len(all))
	}
	return found
}
