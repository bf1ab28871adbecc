package store

import (
	"context"

	"gorm.io/gorm"
)

// NoticeFailed is the kind of the notices that the books raise by themselves: a plan
// was not made, or a tick failed.
const NoticeFailed = "failed"

type noticeRow struct {
	ID       int64 `gorm:"primaryKey"`
	Kind     string
	Subject  string
	Text     string
	Plan     *int64
	RaisedAt int64
	SeenAt   *int64
	SeenBy   string
	GoneAt   *int64
}

func (noticeRow) TableName() string { return "notices" }

func (r *noticeRow) notice() Notice {
	n := Notice{
		ID: r.ID, Kind: r.Kind, Subject: r.Subject, Text: r.Text, RaisedAt: instant(r.RaisedAt),
		SeenAt: optional(r.SeenAt), SeenBy: r.SeenBy, GoneAt: optional(r.GoneAt),
	}
	if r.Plan != nil {
		n.Plan = *r.Plan
	}
	return n
}

// Notices returns what needs eyes, the newest first.
func (b *Books) Notices(ctx context.Context, f NoticeFilter) ([]Notice, error) {
	var rows []noticeRow
	err := b.read(ctx, func(tx *gorm.DB) error {
		return f.apply(tx).Order("id DESC").Limit(page(f.Limit)).Find(&rows).Error
	})
	list := make([]Notice, len(rows))
	for i := range rows {
		list[i] = rows[i].notice()
	}
	return list, doing(err, "notices")
}

func (f NoticeFilter) apply(tx *gorm.DB) *gorm.DB {
	if !f.Gone {
		tx = tx.Where("gone_at IS NULL")
	}
	if f.Unseen {
		tx = tx.Where("seen_at IS NULL")
	}
	if f.After > 0 {
		tx = tx.Where("id < ?", f.After)
	}
	return tx
}

// SeeNotice says that somebody has seen a notice. Seen twice is seen once.
func (b *Books) SeeNotice(ctx context.Context, id int64) (Notice, error) {
	var row noticeRow
	err := b.write(ctx, func(tx *gorm.DB) error {
		err := tx.Where("id = ?", id).Take(&row).Error
		switch {
		case missing(err):
			return notFound("notice", planRef(id))
		case err != nil || row.SeenAt != nil:
			return err
		}
		at := millis(tx)
		row.SeenAt, row.SeenBy = &at, actor(ctx)
		if err := tx.Model(&row).Updates(map[string]any{"seen_at": at, "seen_by": row.SeenBy}).Error; err != nil {
			return err
		}
		return trail(tx, "notice", planRef(id), "see", nil, noticeFact{row.Kind, row.Subject, row.Text})
	})
	return row.notice(), doing(err, "see notice %d", id)
}

// noticeFact is what the trail tells of a notice.
type noticeFact struct {
	Kind    string `json:"kind"`
	Subject string `json:"subject"`
	Text    string `json:"text"`
}

// settle has the open notices be those that a plan raises, and no other.
func settle(tx *gorm.DB, plan int64, raised []Raised) error {
	var open []noticeRow
	if err := tx.Where("gone_at IS NULL").Order("id").Find(&open).Error; err != nil {
		return err
	}
	holds := map[[2]string]bool{}
	for _, r := range raised {
		holds[[2]string{r.Kind, r.Subject}] = true
		if err := raise(tx, &plan, r); err != nil {
			return err
		}
	}
	for i := range open {
		if holds[[2]string{open[i].Kind, open[i].Subject}] {
			continue
		}
		if err := tx.Model(&open[i]).Update("gone_at", millis(tx)).Error; err != nil {
			return err
		}
	}
	return nil
}

// raise opens a notice. One that is open stays, and is seen no longer where its text
// is another.
func raise(tx *gorm.DB, plan *int64, r Raised) error {
	var row noticeRow
	err := tx.Where("kind = ? AND subject = ? AND gone_at IS NULL", r.Kind, r.Subject).Take(&row).Error
	switch {
	case missing(err):
		row = noticeRow{Kind: r.Kind, Subject: r.Subject, Text: r.Text, Plan: plan, RaisedAt: millis(tx)}
		if err := tx.Create(&row).Error; err != nil {
			return err
		}
		return trail(tx, "notice", planRef(row.ID), "raise", nil, noticeFact(r))
	case err != nil || row.Text == r.Text:
		return err
	}
	was := noticeFact{row.Kind, row.Subject, row.Text}
	change := map[string]any{"text": r.Text, "plan": plan, "seen_at": nil, "seen_by": ""}
	if err := tx.Model(&row).Updates(change).Error; err != nil {
		return err
	}
	return trail(tx, "notice", planRef(row.ID), "change", was, noticeFact(r))
}
