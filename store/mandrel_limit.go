package store

import (
	"context"

	"gorm.io/gorm"

	"blankwright/store/crib"
)

// A MandrelLimit says after how many cycles mandrels of a type are due.
type MandrelLimit struct {
	Type string
	crib.Limits
	Rev int64 // 0 until somebody has set it
}

type mandrelLimitRow struct {
	Kind       string
	Type       string `gorm:"primaryKey"`
	Recoat     int
	Inspection int
	Rev        int64
}

func (mandrelLimitRow) TableName() string { return "mandrel_limits" }

func (r mandrelLimitRow) record() MandrelLimit {
	return MandrelLimit{r.Type, crib.Limits{Recoat: r.Recoat, Inspection: r.Inspection}, r.Rev}
}

// MandrelLimits returns the limits of every mandrel type, in the shop's order.
func (b *Books) MandrelLimits(ctx context.Context) ([]MandrelLimit, error) {
	var out []MandrelLimit
	err := b.read(ctx, func(tx *gorm.DB) error {
		types, err := mandrelTypes(tx)
		if err != nil {
			return err
		}
		for _, kind := range types {
			row, err := mandrelLimitOf(tx, kind)
			if err != nil {
				return err
			}
			out = append(out, row.record())
		}
		return nil
	})
	return out, doing(err, "mandrel limits")
}

// SetMandrelLimit sets the limits of a mandrel type; 0 sets none.
func (b *Books) SetMandrelLimit(ctx context.Context, kind string, limits crib.Limits, rev int64) (MandrelLimit, error) {
	var out MandrelLimit
	err := b.write(ctx, func(tx *gorm.DB) error {
		var found findings
		found.count("recoat", limits.Recoat, 0)
		found.count("inspection", limits.Inspection, 0)
		if err := found.err(); err != nil {
			return err
		}
		row, err := setMandrelLimit(tx, kind, limits, rev)
		out = row.record()
		return err
	})
	return out, doing(err, "set mandrel limit")
}

func setMandrelLimit(tx *gorm.DB, kind string, limits crib.Limits, rev int64) (mandrelLimitRow, error) {
	known, err := exists(tx, "things", "kind = ? AND id = ?", kindMandrelType, kind)
	switch {
	case err != nil:
		return mandrelLimitRow{}, err
	case !known:
		return mandrelLimitRow{}, notFound("mandrel type", kind)
	}
	row, err := mandrelLimitOf(tx, kind)
	if err != nil {
		return row, err
	}
	if err := checkRev("the limit of mandrel type", kind, rev, row.Rev); err != nil {
		return row, err
	}
	before := row.told()
	row.Recoat, row.Inspection, row.Rev = limits.Recoat, limits.Inspection, row.Rev+1
	if err := tx.Save(&row).Error; err != nil {
		return row, err
	}
	return row, trail(tx, "mandrel_limit", kind, "set", before, row.told())
}

// told is how the trail shows limits.
func (r mandrelLimitRow) told() map[string]int {
	return map[string]int{"recoat": r.Recoat, "inspection": r.Inspection}
}

// mandrelLimitOf returns the limits of a type, those that set none where
// nobody has set any.
func mandrelLimitOf(tx *gorm.DB, kind string) (mandrelLimitRow, error) {
	row := mandrelLimitRow{Kind: kindMandrelType, Type: kind}
	err := tx.Where("type = ?", kind).Take(&row).Error
	if missing(err) {
		return row, nil
	}
	return row, err
}

// limitsByType returns the limits that are set.
func limitsByType(tx *gorm.DB) (map[string]crib.Limits, error) {
	var rows []mandrelLimitRow
	err := tx.Find(&rows).Error
	out := map[string]crib.Limits{}
	for _, r := range rows {
		out[r.Type] = r.record().Limits
	}
	return out, err
}

// mandrelTypes returns the ids of all mandrel types, in the shop's order.
func mandrelTypes(tx *gorm.DB) ([]string, error) {
	var out []string
	err := tx.Table("things").Where("kind = ?", kindMandrelType).Order("position").Pluck("id", &out).Error
	return out, err
}
