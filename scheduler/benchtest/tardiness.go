package benchtest

import (
	"fmt"
	"strings"
	"testing"

	"blankwright/scheduler/shop"
)

// A Sequence is a problem of one machine that takes job after job: the least sum
// of weighted tardiness. Least is that optimum.
type Sequence struct {
	Name  string
	Jobs  []Job
	Least int
}

// A Job takes so many days on the machine and is due at the end of a day, counted
// from the start. Each day after that costs its weight.
type Job struct{ Days, Weight, Due int }

// WT40 returns the 125 problems of 40 jobs of the OR-Library (H. A. J. Crauwels,
// C. N. Potts and L. N. Van Wassenhove, "Local search heuristics for the single
// machine total weighted tardiness scheduling problem", INFORMS Journal on
// Computing 10, 1998). Their optima are proven.
func WT40(t testing.TB) []Sequence {
	t.Helper()
	const jobs = 40
	numbers := rows(t, "wt40.txt")
	optima := rows(t, "wt40_opt.txt")
	if len(numbers) != 3*len(optima) {
		t.Fatalf("wt40: %d rows of jobs for %d optima", len(numbers), len(optima))
	}
	problems := make([]Sequence, len(optima))
	for i, row := range optima {
		problems[i] = Sequence{Name: fmt.Sprintf("wt40-%03d", i+1), Least: whole(t, row[len(row)-1])}
		days, weights, dues := numbers[3*i], numbers[3*i+1], numbers[3*i+2]
		if len(days) != jobs || len(weights) != jobs || len(dues) != jobs {
			t.Fatalf("%s: rows of %d, %d and %d numbers", problems[i].Name, len(days), len(weights), len(dues))
		}
		for k := range days {
			problems[i].Jobs = append(problems[i].Jobs, Job{whole(t, days[k]), whole(t, weights[k]), whole(t, dues[k])})
		}
	}
	return problems
}

// Shop returns the problem as a shop: one oven, one peg, a profile for each job,
// windows only at midnight, and everything else free.
func (q Sequence) Shop() *shop.Shop {
	f := floor{name: q.Name, ovens: 1, pegs: 1}
	for i, j := range q.Jobs {
		profile := fmt.Sprintf("cure-%d", i+1)
		f.cures = append(f.cures, cure{profile, j.Days})
		f.jobs = append(f.jobs, floorJob{profile: profile, due: j.Due, weight: float64(j.Weight)})
	}
	return f.shop()
}

// rows returns the fields of each row of a file that is neither empty nor a
// remark.
func rows(t testing.TB, name string) (list [][]string) {
	t.Helper()
	for row := range strings.Lines(outside(t, name)) {
		if fields := strings.Fields(row); len(fields) > 0 && !strings.HasPrefix(row, "#") {
			list = append(list, fields)
		}
	}
	return list
}
