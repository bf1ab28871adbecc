package store_test

import (
	"errors"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"blankwright/scheduler/strict"
	"blankwright/store"
	"blankwright/store/storetest"
)

func account(name string, roles ...string) store.Account {
	return store.Account{Name: name, Roles: roles, Hash: "hash of " + name}
}

// The first account is added while there is none; others have names of their
// own, in any case of their letters.
func TestAccounts_Add(t *testing.T) {
	b, clock := storetest.Open(t)
	ctx := t.Context()
	made, err := b.AddFirstAccount(ctx, account("Maren", "sales", "admin", "sales"))
	if err != nil {
		t.Fatal(err)
	}
	want := &store.Account{
		Name: "Maren", Roles: []string{"admin", "sales"}, Hash: "hash of Maren",
		PasswordAt: clock.Now(), MadeAt: clock.Now(), Rev: 1,
	}
	if diff := cmp.Diff(want, made); diff != "" {
		t.Error(diff)
	}
	if _, err := b.AddFirstAccount(ctx, account("Ida", "admin")); !errors.Is(err, store.ErrConflict) {
		t.Errorf("a second first account: %v", err)
	}
	if _, err := b.AddAccount(ctx, account("MAREN", "sales")); !errors.Is(err, store.ErrConflict) {
		t.Errorf("the same name: %v", err)
	}
	if got, err := b.Account(ctx, "maren"); err != nil || got.Name != "Maren" {
		t.Errorf("found %+v, %v", got, err)
	}
	if _, err := b.Account(ctx, "Ida"); !errors.Is(err, store.ErrNotFound) {
		t.Errorf("an account that was refused: %v", err)
	}
}

// A change wants the revision that was seen; a new password is dated; some
// account stays an admin.
func TestAccounts_Change(t *testing.T) {
	b, clock := storetest.Open(t)
	ctx := t.Context()
	for _, a := range []store.Account{account("Maren", "admin"), account("Ida", "sales")} {
		if _, err := b.AddAccount(ctx, a); err != nil {
			t.Fatal(err)
		}
	}
	clock.Advance(time.Hour)
	hash, yes, none := "another", true, []string{"sales"}
	got, err := b.ChangeAccount(ctx, "ida", 1, store.AccountChange{Hash: &hash})
	if err != nil || got.Rev != 2 || !got.PasswordAt.Equal(clock.Now()) || got.Hash != hash {
		t.Errorf("changed %+v, %v", got, err)
	}
	if _, err := b.ChangeAccount(ctx, "Ida", 1, store.AccountChange{Disabled: &yes}); !errors.Is(err, store.ErrStale) {
		t.Errorf("stale: %v", err)
	}
	for name, change := range map[string]func() error{
		"roles": func() error {
			_, err := b.ChangeAccount(ctx, "Maren", 0, store.AccountChange{Roles: &none})
			return err
		},
		"disabled": func() error {
			_, err := b.ChangeAccount(ctx, "Maren", 0, store.AccountChange{Disabled: &yes})
			return err
		},
		"removed": func() error { return b.RemoveAccount(ctx, "Maren", 0) },
	} {
		if err := change(); !errors.Is(err, store.ErrConflict) {
			t.Errorf("the last admin, %s: %v", name, err)
		}
	}
	if err := b.RemoveAccount(ctx, "Ida", 2); err != nil {
		t.Error(err)
	}
	entries, err := b.Trail(ctx, store.TrailFilter{Kind: "account"})
	if err != nil || len(entries) != 4 {
		t.Errorf("%d entries on the trail, %v", len(entries), err)
	}
	for _, e := range entries {
		if strings.Contains(string(e.From)+string(e.To), "hash") {
			t.Errorf("the trail tells of a hash: %s %s", e.From, e.To)
		}
	}
}

// Names and roles that are no such are refused, all at once.
func TestAccounts_Problems(t *testing.T) {
	b, _ := storetest.Open(t)
	for name, want := range map[string]int{
		"": 2, " a": 2, "a<b>": 2, strings.Repeat("ж", 61): 2, "Ægir Ó-Néill_1.@'x": 1, "李雷": 1, "System": 2, "token list": 2, "tokens": 1,
	} {
		_, err := b.AddAccount(t.Context(), account(name))
		var problems strict.Problems
		if !errors.As(err, &problems) || len(problems) != want {
			t.Errorf("%q: %v, want %d problems", name, err, want)
		}
	}
}

// Tokens end, are found by their hash alone, and are not shown again.
func TestTokens(t *testing.T) {
	b, clock := storetest.Open(t)
	ctx := store.WithActor(t.Context(), "Maren")
	ends := clock.Now().Add(time.Hour)
	made, err := b.AddToken(ctx, store.Token{Name: "list", Roles: []string{"viewer"}, Hash: "h1", Ends: ends})
	if err != nil || made.MadeBy != "Maren" || made.ID == "" {
		t.Fatalf("made %+v, %v", made, err)
	}
	if _, err := b.AddToken(ctx, store.Token{Name: "list", Roles: []string{"viewer"}, Hash: "h2", Ends: ends}); !errors.Is(err, store.ErrConflict) {
		t.Errorf("the same name: %v", err)
	}
	_, err = b.AddToken(ctx, store.Token{Hash: "h3", Ends: clock.Now()})
	var problems strict.Problems
	if !errors.As(err, &problems) || len(problems) != 3 {
		t.Errorf("no name, no roles, an end that has passed: %v", err)
	}
	got, err := b.TokenByHash(ctx, "h1")
	if err != nil || !cmp.Equal(got, made) {
		t.Errorf("found %+v, %v", got, err)
	}
	if err := b.RemoveToken(ctx, made.ID); err != nil {
		t.Error(err)
	}
	if _, err := b.TokenByHash(ctx, "h1"); !errors.Is(err, store.ErrNotFound) {
		t.Errorf("a token that was removed: %v", err)
	}
}

// A session is found until it expires or is dropped, and leaves no trail.
func TestSessions(t *testing.T) {
	b, clock := storetest.Open(t)
	ctx := t.Context()
	keep := func(token, data string) {
		t.Helper()
		if err := b.KeepSession(ctx, token, []byte(data), clock.Now().Add(time.Hour)); err != nil {
			t.Fatal(err)
		}
	}
	look := func(token string) string {
		t.Helper()
		data, found, err := b.FindSession(ctx, token)
		if err != nil || found != (data != nil) {
			t.Fatalf("%q, %v, %v", data, found, err)
		}
		return string(data)
	}
	keep("a", "one")
	keep("a", "two")
	keep("b", "other")
	if got := look("a") + look("b") + look("c"); got != "twoother" {
		t.Errorf("found %q", got)
	}
	if err := errors.Join(b.DropSession(ctx, "a"), b.DropSession(ctx, "a")); err != nil {
		t.Error(err)
	}
	clock.Advance(time.Hour)
	if got := look("a") + look("b"); got != "" {
		t.Errorf("after their end: %q", got)
	}
	if last, err := b.LastEvent(ctx); last != 0 || err != nil {
		t.Errorf("sessions are on the trail: %d, %v", last, err)
	}
}
