package access

import (
	"context"
	"fmt"
	"strings"
	"testing"
	"time"
)

// quick are parameters for tests of the form, not of the strength.
var quick = params{passes: 1, memory: 64, threads: 1}

// A password matches its own hash and no other, and no hash at all.
func TestHasher(t *testing.T) {
	h := newHasher(quick)
	ctx := t.Context()
	hash, err := h.hash(ctx, "søren's longest word")
	if err != nil {
		t.Fatal(err)
	}
	again, _ := h.hash(ctx, "søren's longest word")
	if hash == again {
		t.Error("the same password has the same hash twice: there is no salt")
	}
	for _, test := range []struct {
		name, password, hash string
		want                 bool
	}{
		{"right", "søren's longest word", hash, true},
		{"wrong", "søren's longest words", hash, false},
		{"empty", "", hash, false},
		{"no account", "søren's longest word", "", false},
	} {
		if got, err := h.matches(ctx, test.password, test.hash); got != test.want || err != nil {
			t.Errorf("%s: %v, error %v, want %v", test.name, got, err, test.want)
		}
	}
	for _, bad := range []string{"x", "$argon2id$v=19$m=64,t=1,p=1$!$!", "$argon2i$v=19$m=64,t=1,p=1$AA$AA", "$argon2id$v=19$m=a$AA$AA"} {
		if ok, err := h.matches(ctx, "", bad); ok || err == nil {
			t.Errorf("hash %q: %v, want an error", bad, ok)
		}
	}
}

// A hash made with other parameters than today's still matches.
func TestHasher_OldParameters(t *testing.T) {
	hash, _ := newHasher(params{passes: 2, memory: 32, threads: 2}).hash(t.Context(), "a")
	if ok, err := newHasher(quick).matches(t.Context(), "a", hash); !ok || err != nil {
		t.Errorf("%v, %v", ok, err)
	}
}

// Who waits for a place to hash gives up with the request.
func TestHasher_Full(t *testing.T) {
	h := newHasher(quick)
	for range atOnce {
		h.places <- struct{}{}
	}
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := h.hash(ctx, "a"); err == nil {
		t.Error("hashed without a place")
	}
}

// Today's parameters are those that were decided on.
func TestHashing(t *testing.T) {
	if hashing != (params{passes: 2, memory: 19 * 1024, threads: 1}) {
		t.Errorf("argon2id %+v: OWASP's Password Storage Cheat Sheet names m=19 MiB, t=2, p=1 as its least", hashing)
	}
}

// New passwords that are easily guessed are refused with the reason.
func TestPasswordProblem(t *testing.T) {
	for password, want := range map[string]string{
		"":                        "at least 12",
		"elevenchars":             "at least 12",
		"ёлка-ёлка-ёлка":          "",
		strings.Repeat("a", 40):   "over and over",
		strings.Repeat("ab", 101): "at most 200",
		"maren olafsdottir":       "account's name",
		"correct horse":           "",
	} {
		if got := passwordProblem(password, "Maren Olafsdottir"); (got == "") != (want == "") || !strings.Contains(got, want) {
			t.Errorf("%q: %q, want %q", password, got, want)
		}
	}
}

// A key is locked after its free guesses, for twice as long each time, and is
// forgotten after an hour.
func TestLockout(t *testing.T) {
	now := time.Unix(0, 0)
	l := newLockout(func() time.Time { return now })
	for range freeGuesses - 1 {
		l.wrong("a")
	}
	if l.wait("a") > 0 {
		t.Fatal("locked too soon")
	}
	for i, want := range []time.Duration{30 * time.Second, time.Minute, 2 * time.Minute, 4 * time.Minute, 8 * time.Minute, 15 * time.Minute, 15 * time.Minute} {
		l.wrong("a")
		if got := l.wait("b", "a"); got != want {
			t.Errorf("after %d wrong guesses: %v, want %v", freeGuesses+i, got, want)
		}
		now = now.Add(l.wait("a"))
	}
	now = now.Add(forgetAfter + 1)
	l.wrong("a")
	if l.wait("a") > 0 {
		t.Error("old guesses still count")
	}
	l.right("a")
	if len(l.keys) != 0 {
		t.Error("a right guess does not forget the wrong ones")
	}
}

// However many guess, only so many are remembered, the latest of them.
func TestLockout_Bounded(t *testing.T) {
	now := time.Unix(0, 0)
	l := newLockout(func() time.Time { return now })
	for i := range mostGuessers + 10 {
		now = now.Add(time.Millisecond)
		l.wrong(fmt.Sprint(i))
	}
	if len(l.keys) != mostGuessers || l.keys["9"] != nil || l.keys["10"] == nil {
		t.Errorf("%d are remembered; the first of them: %v", len(l.keys), l.keys["10"] != nil)
	}
}

// Callers may do what the table allows one of their roles; nobody may do what
// everyone may, and nothing more; an operation without a row is for no one.
func TestCaller_May(t *testing.T) {
	tests := []struct {
		name   string
		caller Caller
		op     string
		want   bool
	}{
		{"nobody, for everyone", Caller{}, "alive", true},
		{"nobody, for any account", Caller{}, "read-caller", false},
		{"any role", Caller{Name: "a", Roles: []Role{Station}}, "read-caller", true},
		{"another role", Caller{Name: "a", Roles: []Role{Station, Sales}}, "list-accounts", false},
		{"one of the roles", Caller{Name: "a", Roles: []Role{Station, Admin}}, "list-accounts", true},
		{"no roles", Caller{Name: "a"}, "read-caller", false},
		{"unknown role", Caller{Name: "a", Roles: []Role{"king"}}, "read-caller", false},
		{"unknown operation", Caller{Name: "a", Roles: AllRoles()}, "frob", false},
	}
	for _, test := range tests {
		if got := test.caller.May(test.op); got != test.want {
			t.Errorf("%s: %v, want %v", test.name, got, test.want)
		}
	}
}

// Who is refused is told whose work it is, in the roles' own order.
func TestWhose(t *testing.T) {
	for _, test := range []struct{ operation, want string }{
		{"release", "planner"},
		{"issue-mandrels", "planner, crib, station"},
		{"export", "planner, admin"},
	} {
		if got := whose(test.operation); got != test.want {
			t.Errorf("%s is for %q, want %q", test.operation, got, test.want)
		}
	}
}
