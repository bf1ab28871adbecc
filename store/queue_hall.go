package store

import (
	"context"
	"slices"
	"sync"
	"time"

	"gorm.io/gorm"

	"blankwright/scheduler/shop"
)

// A hall is the floor with the shop that it is in, to be looked at.
type hall struct {
	shop  *shop.Shop
	floor *floor
	tasks []Task      // the floor's, as they stand
	loads []FloorLoad // the same
}

// A hallKey tells one hall from another: the last change on which it hangs, and the
// minute that it is of.
type hallKey struct{ change, minute int64 }

// halls keeps the last hall that was looked at. Many look at the floor at once, again
// and again, and to carry all of its work on takes longer than they should wait.
type halls struct {
	mu   sync.Mutex
	key  hallKey
	hall *hall // nothing of it is ever changed
}

// apart are the kinds of records that a hall does not hang on. Any other, known today
// or not, makes a new one.
var apart = []string{
	"account", "token", "dealer", "order", "line", "claim", "level", "shipment", "notice", "tick", "note", kindPlan,
}

// hall returns the hall as a reading transaction sees it. Who waits for another that
// makes the same one would otherwise make it, too.
func (b *Books) hall(tx *gorm.DB) (*hall, error) {
	key, err := hallKeyOf(tx)
	if err != nil {
		return nil, err
	}
	b.halls.mu.Lock()
	defer b.halls.mu.Unlock()
	if b.halls.hall != nil && b.halls.key == key {
		return b.halls.hall, nil
	}
	made, err := hallOf(tx)
	if err == nil {
		b.halls.key, b.halls.hall = key, made
	}
	return made, err
}

// atWork returns the shop with its released work where it stands, for a reader who
// needs to know of no demand: from the last look, where that is still right.
func (b *Books) atWork(tx *gorm.DB) (*shop.Shop, error) {
	as, err := untouched(tx)
	if err != nil {
		return nil, err
	}
	if as { // the work is as a file stated it
		return assemble(tx)
	}
	h, err := b.hall(tx)
	if err != nil {
		return nil, err
	}
	s := *h.shop
	s.Released, s.Stations = h.floor.standing.Released, h.floor.standing.Stations
	return &s, nil
}

func hallKeyOf(tx *gorm.DB) (key hallKey, err error) {
	at, err := asOf(tx, time.UTC)
	if err != nil {
		return key, err
	}
	key.minute = at.Minute
	key.change, err = lastWork(tx)
	return key, err
}

// LastWork returns the newest entry's ID of what the shop consists of and of its work,
// whatever of demand, plans and people has changed since; 0 where there is none.
func (b *Books) LastWork(ctx context.Context) (int64, error) {
	var last int64
	err := b.read(ctx, func(tx *gorm.DB) (err error) {
		last, err = lastWork(tx)
		return err
	})
	return last, doing(err, "last change of the work")
}

func lastWork(tx *gorm.DB) (int64, error) {
	var rows []trailRow
	err := tx.Select("id").Where("kind NOT IN ?", apart).Order("id DESC").Limit(1).Find(&rows).Error
	if len(rows) == 0 {
		return 0, err
	}
	return rows[0].ID, err
}

// hallBy returns a hall that has a load, which may be long finished.
func (b *Books) hallBy(tx *gorm.DB, load string) (*hall, error) {
	h, err := b.hall(tx)
	if err != nil || slices.ContainsFunc(h.floor.loads, func(l releasedLoadRow) bool { return l.ID == load }) {
		return h, err
	}
	return hallWith(tx, load)
}

func hallOf(tx *gorm.DB) (*hall, error) { return hallWith(tx, "") }

// hallWith makes the hall with a load that may be long finished.
func hallWith(tx *gorm.DB, load string) (*hall, error) {
	s, err := gather(tx)
	if err != nil {
		return nil, err
	}
	f, err := floorWith(tx, s, load)
	if err != nil {
		return nil, err
	}
	h := &hall{shop: s, floor: f}
	return h, h.look()
}
