package store_test

import (
	"bufio"
	"fmt"
	"os"
	"os/exec"
	"strconv"
	"testing"

	"blankwright/store"
	"blankwright/store/storetest"
)

// Where the process that is to be killed finds its books, and the number of
// the first order that it enters.
const (
	childDir   = "BLANKWRIGHT_TEST_DIR"
	childFirst = "BLANKWRIGHT_TEST_FIRST"
)

// numbered is the order with a number, as a client asks for it.
func numbered(t *testing.T, b *store.Books, n int) error {
	ctx := store.WithKey(t.Context(), fmt.Sprint("key ", n))
	return second(b.EnterOrder(ctx, store.NewOrder{
		OrderTerms: store.OrderTerms{Dealer: "SLIP", Reference: fmt.Sprint(n)},
		Lines:      []store.LineTerms{sets(1, "ONE", 9), sets(2, "TWO", 9)},
	}))
}

// This is no test but the process that TestKilled kills: it enters orders and
// says so of each, until it ends.
func TestKilled_Child(t *testing.T) {
	dir := os.Getenv(childDir)
	if dir == "" {
		t.Skip("it is run by TestKilled")
	}
	first, err := strconv.Atoi(os.Getenv(childFirst))
	if err != nil {
		t.Fatal(err)
	}
	b := storetest.OpenIn(t, dir, storetest.NewClock(storetest.Start))
	for n := first; ; n++ {
		if err := numbered(t, b, n); err != nil {
			t.Fatal(err)
		}
		fmt.Println("entered", n)
	}
}

// Whenever its process is killed, the books open again, are sound, and hold
// every order that was confirmed, once, even where a client who had not heard
// asks again; and no half of one that was not.
func TestKilled(t *testing.T) {
	dir, clock := t.TempDir(), storetest.NewClock(storetest.Start)
	b := storetest.OpenIn(t, dir, clock)
	storetest.Import(t, b, storetest.Yard())
	must[store.Dealer](t)(b.PutDealer(t.Context(), "SLIP", store.DealerTerms{Name: "Slipway (invented)"}, 0))
	confirmed := 0
	for kill := range 3 {
		if err := b.Close(); err != nil {
			t.Fatal(err)
		}
		confirmed = killAfter(t, dir, max(1, confirmed-1), confirmed+5+7*kill)
		b = storetest.OpenIn(t, dir, clock)
		balanced(t, b)
		if n := wholeOrders(t, b); n != confirmed && n != confirmed+1 {
			t.Errorf("kill %d: %d orders are there, and %d were confirmed", kill, n, confirmed)
		}
	}
}

// killAfter has a process enter orders from one number on, kills it when it has
// confirmed another, and returns the last that it confirmed.
func killAfter(t *testing.T, dir string, first, last int) (confirmed int) {
	t.Helper()
	child := exec.CommandContext(t.Context(), os.Args[0], "-test.run=^TestKilled_Child$")
	child.Env = append(os.Environ(), childDir+"="+dir, childFirst+"="+strconv.Itoa(first))
	out, err := child.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := child.Start(); err != nil {
		t.Fatal(err)
	}
	for lines := bufio.NewScanner(out); lines.Scan(); {
		var n int
		if _, err := fmt.Sscanf(lines.Text(), "entered %d", &n); err != nil {
			t.Fatalf("the process says %q", lines.Text())
		}
		confirmed = n
		if n == last {
			if err := child.Process.Kill(); err != nil {
				t.Fatal(err)
			}
		}
	}
	if err := child.Wait(); err == nil || confirmed < last {
		t.Fatalf("the process ended by itself after %d: %v", confirmed, err)
	}
	return confirmed
}

// wholeOrders counts the orders from number 1 on, each of which must be there
// once, with both lines.
func wholeOrders(t *testing.T, b *store.Books) int {
	t.Helper()
	all := must[[]store.Order](t)(b.Orders(t.Context(), store.OrderFilter{}))
	seen := map[string]bool{}
	for _, o := range all {
		if seen[o.Reference] || len(o.Lines) != 2 {
			t.Errorf("order %s is there twice, or with %d lines", o.Reference, len(o.Lines))
		}
		seen[o.Reference] = true
	}
	for n := range len(all) {
		if !seen[strconv.Itoa(n+1)] {
			t.Errorf("order %d is not there", n+1)
		}
	}
	return len(all)
}
