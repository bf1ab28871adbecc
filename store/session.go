package store

import (
	"context"
	"time"

	"gorm.io/gorm"
	"gorm.io/gorm/clause"
)

type sessionRow struct {
	Token   string `gorm:"primaryKey"`
	Data    []byte
	Expires int64
}

func (sessionRow) TableName() string { return "sessions" }

// FindSession returns the data of a session that has not expired.
func (b *Books) FindSession(ctx context.Context, token string) (data []byte, found bool, err error) {
	var rows []sessionRow
	err = b.read(ctx, func(tx *gorm.DB) error {
		return tx.Where("token = ? AND expires > ?", token, millis(tx)).Limit(1).Find(&rows).Error
	})
	if err != nil || len(rows) == 0 {
		return nil, false, doing(err, "find session")
	}
	return rows[0].Data, true, nil
}

// KeepSession keeps a session's data until it expires, and forgets all that
// have expired. Sessions come and go; they are not on the trail.
func (b *Books) KeepSession(ctx context.Context, token string, data []byte, expires time.Time) error {
	return doing(b.write(ctx, func(tx *gorm.DB) error {
		if err := tx.Where("expires <= ?", millis(tx)).Delete(&sessionRow{}).Error; err != nil {
			return err
		}
		return tx.Clauses(clause.OnConflict{UpdateAll: true}).
			Create(&sessionRow{Token: token, Data: data, Expires: expires.UnixMilli()}).Error
	}), "keep session")
}

// DropSession ends a session; one that is not there has ended.
func (b *Books) DropSession(ctx context.Context, token string) error {
	return doing(b.write(ctx, func(tx *gorm.DB) error {
		return tx.Where("token = ?", token).Delete(&sessionRow{}).Error
	}), "drop session")
}
