package benchtest

import (
	"strings"
	"testing"

	"blankwright/scheduler/shop"
)

// A Batching is a problem of like machines that take a batch of jobs at a time,
// all of one family: the least sum of weighted tardiness.
type Batching struct {
	Name     string
	Machines int
	Most     int   // jobs in a batch
	Days     []int // by family: what a batch takes
	Jobs     []FamilyJob
	Least    float64 // the least that is known
	Bound    float64 // the least that is proven; the same in all problems but one
}

// A FamilyJob is a job of a family, counted from 0, that is there after so many
// days. Each day that it is done after its due day costs its weight.
type FamilyJob struct {
	Family, Ready, Due int
	Weight             float64
}

// Chiang returns the 144 small problems in the format of T.-C. Chiang, H.-C. Cheng
// and L.-C. Fu (Computers & Operations Research 37, 2010): weighted tardiness on
// parallel batch machines, with families that share no batch and jobs that arrive.
// The optima were found by integer programming for this project; all but one are
// proven.
func Chiang(t testing.TB) []Batching {
	t.Helper()
	optima := optimaByName(t)
	var problems []Batching
	for text := range strings.SplitSeq(outside(t, "pbatch_chiang_small.txt"), "\n@ ") {
		if strings.HasPrefix(text, "#") {
			continue
		}
		name, fields, _ := strings.Cut(text, "\n")
		row, ok := optima[name]
		if !ok {
			t.Fatalf("no optimum of %q", name)
		}
		b := parseBatching(t, strings.Fields(fields))
		b.Name, b.Least, b.Bound = name, decimal(t, row[1]), decimal(t, row[3])
		problems = append(problems, b)
	}
	if len(problems) != len(optima) {
		t.Fatalf("%d problems and %d optima", len(problems), len(optima))
	}
	return problems
}

// optimaByName returns the rows of the file of optima by the problem's name.
func optimaByName(t testing.TB) map[string][]string {
	t.Helper()
	byName := map[string][]string{}
	for _, row := range rows(t, "pbatch_chiang_small_opt.csv") {
		cells := strings.Split(row[0], ",")
		byName[cells[0]] = cells
	}
	return byName
}

// parseBatching reads machines, jobs of a family and the most of a batch; then
// the families with their days; then each family's jobs.
func parseBatching(t testing.TB, fields []string) (b Batching) {
	t.Helper()
	next := func() (field string) {
		if len(fields) == 0 {
			t.Fatal("a problem of pbatch_chiang_small.txt ends too soon")
		}
		field, fields = fields[0], fields[1:]
		return field
	}
	b.Machines = whole(t, next())
	perFamily := whole(t, next())
	b.Most = whole(t, next())
	for range whole(t, next()) {
		b.Days = append(b.Days, 0)
	}
	for f := range b.Days {
		b.Days[f] = whole(t, next())
	}
	for f := range b.Days {
		for range perFamily {
			b.Jobs = append(b.Jobs, FamilyJob{Family: f, Ready: whole(t, next()), Due: whole(t, next()), Weight: decimal(t, next())})
		}
	}
	return b
}

// Shop returns the problem as a shop of ovens alone: a peg for each job of a
// batch, a profile for each family, and a mandrel for each job that is ready when
// the job is.
func (b Batching) Shop() *shop.Shop {
	f := floor{name: b.Name, ovens: b.Machines, pegs: b.Most}
	for family, days := range b.Days {
		f.cures = append(f.cures, cure{familyID(family), days})
	}
	for _, j := range b.Jobs {
		f.jobs = append(f.jobs, floorJob{profile: familyID(j.Family), ready: j.Ready, due: j.Due, weight: j.Weight})
	}
	return f.shop()
}
