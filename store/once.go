package store

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"time"

	"gorm.io/gorm"
)

// keysLast is how long a key is remembered.
const keysLast = 30 * 24 * time.Hour

type keyRow struct {
	Actor   string `gorm:"primaryKey"`
	Key     string `gorm:"primaryKey"`
	At      int64
	What    string
	Request string
	Answer  string
}

func (keyRow) TableName() string { return "keys" }

// once makes a change and returns its answer. Where the context bears a key
// that the same actor has used for the same, it changes nothing and returns
// the first answer; the same key for something else is refused. asked and the
// answer are kept as JSON, so that they must survive it.
func once[T any](ctx context.Context, b *Books, what string, asked any, change func(tx *gorm.DB) (T, error)) (T, error) {
	var answer T
	err := b.write(ctx, func(tx *gorm.DB) error {
		key := keyOf(ctx)
		if key == "" || trial(ctx) {
			var err error
			answer, err = change(tx)
			return err
		}
		digest, err := digestOf(asked)
		if err != nil {
			return err
		}
		switch known, err := remembered(tx, key, what, digest); {
		case err != nil:
			return err
		case known != nil:
			return json.Unmarshal(known, &answer)
		}
		if answer, err = change(tx); err != nil {
			return err
		}
		return remember(tx, key, what, digest, answer)
	})
	return answer, doing(err, "%s", what)
}

// putting is what is asked of a record that is named by its id.
type putting struct {
	What any
	Rev  int64
}

func digestOf(asked any) (string, error) {
	text, err := json.Marshal(asked)
	if err != nil {
		return "", err
	}
	sum := sha256.Sum256(text)
	return hex.EncodeToString(sum[:]), nil
}

// remembered returns the answer that was given under a key, nil for a new one.
func remembered(tx *gorm.DB, key, what, digest string) (json.RawMessage, error) {
	var row keyRow
	err := tx.Where("actor = ? AND key = ?", actor(tx.Statement.Context), key).Take(&row).Error
	switch {
	case missing(err):
		return nil, nil
	case err != nil:
		return nil, err
	case row.What != what || row.Request != digest:
		return nil, &refusal{ErrKeyUsed, fmt.Sprintf("the key %q was used for another request: take a new one", key)}
	}
	return json.RawMessage(row.Answer), nil
}

func remember(tx *gorm.DB, key, what, digest string, answer any) error {
	text, err := json.Marshal(answer)
	if err != nil {
		return fmt.Errorf("keep the answer: %w", err)
	}
	if err := tx.Where("at < ?", now(tx).Add(-keysLast).UnixMilli()).Delete(&keyRow{}).Error; err != nil {
		return err
	}
	return tx.Create(&keyRow{
		Actor: actor(tx.Statement.Context), Key: key, At: millis(tx), What: what, Request: digest, Answer: string(text),
	}).Error
}
