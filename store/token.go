package store

import (
	"context"
	"crypto/rand"
	"strings"
	"time"

	"gorm.io/gorm"

	"blankwright/scheduler/strict"
)

// A Token lets a program in until it ends. The books keep its hash only.
type Token struct {
	ID     string
	Name   string // unique
	Roles  []string
	Hash   string `json:"-"` // so that no key keeps it
	Ends   time.Time
	MadeBy string
	MadeAt time.Time
}

type tokenRow struct {
	ID     string `gorm:"primaryKey"`
	Name   string
	Roles  string
	Hash   string
	EndsAt int64
	MadeBy string
	MadeAt int64
}

func (tokenRow) TableName() string { return "tokens" }

func (r tokenRow) token() Token {
	return Token{
		ID: r.ID, Name: r.Name, Roles: listOf(r.Roles), Hash: r.Hash,
		Ends: instant(r.EndsAt), MadeBy: r.MadeBy, MadeAt: instant(r.MadeAt),
	}
}

// onTrail is what the trail tells of a token: not its hash.
func (r tokenRow) onTrail() any {
	return struct {
		Name  string    `json:"name"`
		Roles []string  `json:"roles"`
		Ends  time.Time `json:"ends"`
	}{r.Name, listOf(r.Roles), instant(r.EndsAt)}
}

// Tokens returns all tokens by name, those that have ended included.
func (b *Books) Tokens(ctx context.Context) ([]Token, error) {
	var rows []tokenRow
	err := b.read(ctx, func(tx *gorm.DB) error { return tx.Order("name, id").Find(&rows).Error })
	tokens := make([]Token, len(rows))
	for i, r := range rows {
		tokens[i] = r.token()
	}
	return tokens, doing(err, "tokens")
}

// TokenByHash returns the token that has a hash, ended or not.
func (b *Books) TokenByHash(ctx context.Context, hash string) (*Token, error) {
	var row tokenRow
	err := b.read(ctx, func(tx *gorm.DB) error { return tx.Where("hash = ?", hash).Take(&row).Error })
	if missing(err) {
		err = notFound("token", "of this hash")
	}
	if err != nil {
		return nil, doing(err, "token")
	}
	token := row.token()
	return &token, nil
}

// AddToken adds a token of a Name, Roles, a Hash and an end that is to come.
// What a key remembers of it has no hash.
func (b *Books) AddToken(ctx context.Context, t Token) (*Token, error) {
	return once(ctx, b, "add token", t, func(tx *gorm.DB) (*Token, error) {
		if err := checkToken(tx, t); err != nil {
			return nil, err
		}
		row := tokenRow{
			ID: strings.ToLower(rand.Text()), Name: t.Name, Roles: listText(t.Roles), Hash: t.Hash,
			EndsAt: t.Ends.UnixMilli(), MadeBy: actor(ctx), MadeAt: millis(tx),
		}
		if err := tx.Create(&row).Error; err != nil {
			return nil, err
		}
		token := row.token()
		return &token, trail(tx, "token", row.ID, "added", nil, row.onTrail())
	})
}

func checkToken(tx *gorm.DB, t Token) error {
	problems := append(checkName("name", t.Name), checkRoles(t.Roles)...)
	if !t.Ends.After(now(tx)) {
		problems = append(problems, strict.Problem{Path: "ends", Message: "has passed: a token ends later than now"})
	}
	if len(problems) > 0 {
		return problems
	}
	var same int64
	if err := tx.Model(&tokenRow{}).Where("name = ?", t.Name).Count(&same).Error; err != nil {
		return err
	}
	if same > 0 {
		return conflict("there is a token %q already", t.Name)
	}
	return nil
}

// RemoveToken ends a token for good.
func (b *Books) RemoveToken(ctx context.Context, id string) error {
	return doing(b.write(ctx, func(tx *gorm.DB) error {
		var row tokenRow
		if err := tx.Where("id = ?", id).Take(&row).Error; missing(err) {
			return notFound("token", id)
		} else if err != nil {
			return err
		}
		if err := tx.Delete(&row).Error; err != nil {
			return err
		}
		return trail(tx, "token", row.ID, "removed", row.onTrail(), nil)
	}), "remove token")
}
