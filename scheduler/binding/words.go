package binding

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"blankwright/scheduler/instance"
)

// at prints an instant by the shop's clock, as Thu 3 Dec 14:20.
func (r *reporter) at(t instance.Tick) string {
	return r.in.Instant(t).Time().Format("Mon 2 Jan 15:04")
}

// counted returns a number with its noun: 1 set, 2 sets.
func counted(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return strconv.Itoa(n) + " " + noun + "s"
}

// figure prints a decimal with at most three digits behind the point.
func figure(x float64) string { return strconv.FormatFloat(math.Round(x*1000)/1000, 'f', -1, 64) }

// hours prints minutes as hours.
func hours(minutes int) string { return figure(math.Round(float64(minutes)/6)/10) + " h" }

// listed joins reasons, each once, and no more than a few.
func listed(reasons []string) string {
	const most = 4
	var kept []string
	seen := map[string]bool{}
	for _, s := range reasons {
		if !seen[s] {
			seen[s] = true
			kept = append(kept, s)
		}
	}
	if len(kept) > most {
		kept = append(kept[:most], fmt.Sprintf("and %d more like these", len(kept)-most))
	}
	return strings.Join(kept, "; ")
}
