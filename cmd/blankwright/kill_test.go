package main

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"math/rand/v2"
	"net/http"
	"os"
	"os/exec"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"blankwright/api/access"
	"blankwright/store"
	"blankwright/store/storetest"
)

// A hundred moments are
//
//	go test ./cmd/blankwright -run TestServe_Killed -kills 100
var kills = flag.Int("kills", 2, "at how many moments TestServe_Killed kills the server")

// servedDir tells the process that is to be killed where its books are.
const servedDir = "BLANKWRIGHT_TEST_DIR"

// This is no test but the server that TestServe_Killed kills.
func TestServe_KilledChild(t *testing.T) {
	dir := os.Getenv(servedDir)
	if dir == "" {
		t.Skip("it is run by TestServe_Killed")
	}
	code := run(context.Background(), []string{"serve", "-data", dir, "-addr", "127.0.0.1:0"}, nil, os.Stdout, io.Discard)
	t.Fatalf("the server ended by itself with %d", code)
}

// Whenever the server is killed while many clients write, all that was
// confirmed to them is there, once, also where they asked again for what they
// had not heard of; the books are sound, and are served again.
func TestServe_Killed(t *testing.T) {
	c := newCrowd(t)
	for kill := range *kills {
		c.round(kill)
		c.look()
	}
	if c.confirmed == 0 {
		t.Error("nothing was ever confirmed")
	}
}

// A crowd is clients who enter orders side by side, and what they know of them.
type crowd struct {
	*testing.T
	dir, token string
	dice       *rand.Rand

	mu        sync.Mutex
	orders    []asked
	confirmed int // orders of which a client has heard
	killAt    int
	kill      func()
}

// An asked is one order, asked for until its client has heard of it.
type asked struct{ confirmed bool }

const clients = 8

func newCrowd(t *testing.T) *crowd {
	c := &crowd{T: t, dir: t.TempDir(), dice: rand.New(rand.NewPCG(11, 7))}
	b := c.open()
	storetest.Import(t, b, storetest.Yard())
	token, hash := access.NewToken()
	_, dealer := b.PutDealer(t.Context(), "SLIP", store.DealerTerms{Name: "Slipway (invented)"}, 0)
	_, added := b.AddToken(t.Context(), store.Token{
		Name: "crowd", Roles: []string{string(access.Planner)}, Hash: hash, Ends: time.Now().AddDate(0, 1, 0),
	})
	if err := errors.Join(dealer, added, b.Close()); err != nil {
		t.Fatal(err)
	}
	c.token = token
	return c
}

func (c *crowd) open() *store.Books {
	c.Helper()
	b, err := store.Open(c.Context(), c.dir, store.Options{})
	if err != nil {
		c.Fatal(err)
	}
	return b
}

// round starts the server, has the clients write, and kills it when they have
// heard of so many orders more.
func (c *crowd) round(kill int) {
	c.Helper()
	child := exec.CommandContext(c.Context(), os.Args[0], "-test.run=^TestServe_KilledChild$")
	child.Env = append(os.Environ(), servedDir+"="+c.dir)
	out, err := child.StdoutPipe()
	if err == nil {
		err = child.Start()
	}
	if err != nil {
		c.Fatal(err)
	}
	url := c.served(out)
	c.killAt = c.confirmed + 1 + c.dice.IntN(40)
	c.kill = sync.OnceFunc(func() {
		if err := child.Process.Kill(); err != nil {
			c.Error(err)
		}
	})
	var all sync.WaitGroup
	for range clients {
		all.Go(func() { c.client(url) })
	}
	all.Wait()
	c.kill() // where all clients gave up before
	if err := child.Wait(); err == nil {
		c.Fatalf("kill %d: the server ended by itself", kill)
	}
}

var servedAt = regexp.MustCompile(`served at (http://\S+)/`)

// served waits until the server says where it is, and reads on.
func (c *crowd) served(out io.Reader) string {
	c.Helper()
	lines := bufio.NewScanner(out)
	for lines.Scan() {
		if at := servedAt.FindStringSubmatch(lines.Text()); at != nil {
			go func() { _, _ = io.Copy(io.Discard, out) }() // until it is killed
			return at[1]
		}
	}
	c.Fatal("the server does not say that it serves")
	return ""
}

// client asks for one order after the other until nobody answers.
func (c *crowd) client(url string) {
	for {
		n := c.next()
		ok, err := c.enter(url, n)
		if err != nil {
			return
		}
		if !ok {
			c.kill()
			return
		}
		c.heard(n)
	}
}

// next returns an order of which nobody has heard, or a new one. Two clients
// may ask for the same: one key, one order.
func (c *crowd) next() int {
	c.mu.Lock()
	defer c.mu.Unlock()
	if n := slices.Index(c.orders, asked{}); n >= 0 && c.dice.IntN(2) == 0 {
		return n
	}
	c.orders = append(c.orders, asked{})
	return len(c.orders) - 1
}

func (c *crowd) heard(n int) {
	c.mu.Lock()
	defer c.mu.Unlock()
	if !c.orders[n].confirmed {
		c.orders[n].confirmed = true
		c.confirmed++
	}
	if c.confirmed >= c.killAt {
		c.kill()
	}
}

// enter asks for an order under its key. An error says that nobody answered.
func (c *crowd) enter(url string, n int) (ok bool, err error) {
	body := fmt.Sprintf(`{"dealer": "SLIP", "reference": "%d", "lines": [
		{"product": "ONE", "quantity": 1, "due": "2027-04-01"}, {"product": "TWO", "quantity": 2, "due": "2027-04-02"}]}`, n)
	request, err := http.NewRequestWithContext(c.Context(), http.MethodPost, url+"/api/v1/orders", bytes.NewReader([]byte(body)))
	if err != nil {
		return false, err
	}
	request.Header.Set("Authorization", "Bearer "+c.token)
	request.Header.Set("Content-Type", "application/json")
	request.Header.Set("Idempotency-Key", fmt.Sprint("order ", n))
	answer, err := http.DefaultClient.Do(request)
	if err != nil {
		return false, err
	}
	text, err := io.ReadAll(answer.Body)
	if err := errors.Join(err, answer.Body.Close()); err != nil {
		return false, err
	}
	if answer.StatusCode != http.StatusCreated || !strings.Contains(string(text), fmt.Sprintf(`"reference":"%d"`, n)) {
		c.Errorf("order %d: %s %s", n, answer.Status, text)
		return false, nil
	}
	return true, nil
}

// look opens the books and counts what is there.
func (c *crowd) look() {
	c.Helper()
	b := c.open()
	found := map[string]int{}
	f := store.OrderFilter{}
	for {
		page, err := b.Orders(c.Context(), f)
		if err != nil {
			c.Fatal(err)
		}
		for _, o := range page {
			found[o.Reference]++
			if len(o.Lines) != 2 {
				c.Errorf("order %s has %d lines", o.Reference, len(o.Lines))
			}
		}
		if len(page) < store.MaxPage {
			break
		}
		f.After = page[len(page)-1].ID
	}
	for n, o := range c.orders {
		if times := found[fmt.Sprint(n)]; times > 1 || o.confirmed && times == 0 {
			c.Errorf("order %d is there %d times; confirmed: %v", n, times, o.confirmed)
		}
	}
	if err := errors.Join(b.Verify(c.Context()), b.Close()); err != nil {
		c.Error(err)
	}
}
