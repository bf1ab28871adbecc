package access

import (
	"context"
	"crypto/rand"
	"crypto/subtle"
	"encoding/base64"
	"fmt"
	"strings"
	"unicode/utf8"

	"golang.org/x/crypto/argon2"
)

// The parameters of new hashes (argon2id): some 40 ms and 19 MiB each. They
// stand in each hash, so that older ones stay good when these grow.
var hashing = params{passes: 2, memory: 19 * 1024, threads: 1}

const (
	saltBytes = 16
	keyBytes  = 32

	// atOnce is how many hashes are computed at a time: guesses shall fill
	// neither the memory nor every processor.
	atOnce = 2

	// leastPassword is the fewest characters of a password, mostPassword the
	// most, so that nobody has us hash a book.
	leastPassword = 12
	mostPassword  = 200
)

type params struct {
	passes, memory uint32
	threads        uint8
}

// A hasher hashes passwords, a few at a time.
type hasher struct {
	params params
	places chan struct{}
	nobody string // the hash that unknown names are held against
}

func newHasher(p params) *hasher {
	h := &hasher{params: p, places: make(chan struct{}, atOnce)}
	h.nobody = h.encode(rand.Text())
	return h
}

// hash returns a password's hash in the PHC string form.
func (h *hasher) hash(ctx context.Context, password string) (string, error) {
	if err := h.enter(ctx); err != nil {
		return "", err
	}
	defer h.leave()
	return h.encode(password), nil
}

func (h *hasher) encode(password string) string {
	salt := make([]byte, saltBytes)
	_, _ = rand.Read(salt) // never fails
	key := argon2.IDKey([]byte(password), salt, h.params.passes, h.params.memory, h.params.threads, keyBytes)
	return fmt.Sprintf("$argon2id$v=%d$m=%d,t=%d,p=%d$%s$%s", argon2.Version,
		h.params.memory, h.params.passes, h.params.threads,
		base64.RawStdEncoding.EncodeToString(salt), base64.RawStdEncoding.EncodeToString(key))
}

// matches reports whether a password has a hash. An empty hash stands for no
// account: it takes as long and never matches.
func (h *hasher) matches(ctx context.Context, password, hash string) (bool, error) {
	if err := h.enter(ctx); err != nil {
		return false, err
	}
	defer h.leave()
	known := hash != ""
	if !known {
		hash = h.nobody
	}
	p, salt, key, err := decode(hash)
	if err != nil {
		return false, err
	}
	got := argon2.IDKey([]byte(password), salt, p.passes, p.memory, p.threads, uint32(len(key)))
	return subtle.ConstantTimeCompare(got, key) == 1 && known, nil
}

func decode(hash string) (p params, salt, key []byte, err error) {
	parts := strings.Split(hash, "$")
	if len(parts) != 6 || parts[1] != "argon2id" || parts[2] != fmt.Sprintf("v=%d", argon2.Version) {
		return p, nil, nil, fmt.Errorf("a kept password hash has an unknown form")
	}
	if _, err = fmt.Sscanf(parts[3], "m=%d,t=%d,p=%d", &p.memory, &p.passes, &p.threads); err != nil {
		return p, nil, nil, fmt.Errorf("a kept password hash: %w", err)
	}
	if salt, err = base64.RawStdEncoding.DecodeString(parts[4]); err == nil {
		key, err = base64.RawStdEncoding.DecodeString(parts[5])
	}
	return p, salt, key, err
}

func (h *hasher) enter(ctx context.Context) error {
	select {
	case h.places <- struct{}{}:
		return nil
	case <-ctx.Done():
		return ctx.Err()
	}
}

func (h *hasher) leave() { <-h.places }

// passwordProblem says what is wrong with a new password, or "".
func passwordProblem(password, name string) string {
	switch n := utf8.RuneCountInString(password); {
	case n < leastPassword:
		return fmt.Sprintf("has %d characters, but must have at least %d", n, leastPassword)
	case n > mostPassword:
		return fmt.Sprintf("has %d characters, but must have at most %d", n, mostPassword)
	case strings.EqualFold(password, name):
		return "is the account's name"
	case strings.Trim(password, string([]rune(password)[0])) == "":
		return "is one character over and over"
	}
	return ""
}
