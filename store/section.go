package store

import (
	"gorm.io/gorm"

	"blankwright/scheduler/shop"
)

// A section is one part of a shop file as the books keep it. load adds the
// part to a shop whose head is there; save writes it into books that have
// nothing of it yet.
type section struct {
	name string
	load func(tx *gorm.DB, s *shop.Shop) error
	save func(tx *gorm.DB, s *shop.Shop) error
}

// sections are all parts of a shop file, in the order in which they are saved:
// what something refers to comes before it.
func sections() []section {
	return []section{
		{"catalog", loadThings, saveThings},
		{"mandrels", loadMandrels, saveMandrels},
		{"supply", loadSupply, saveSupply},
		{"demand", loadDemand, saveDemand},
		{"stock", loadStock, saveStock},
		{"released", loadLater, saveReleased},
	}
}

// assemble returns the shop file that the books make, without judging it. It
// is the whole that every change of a part must leave valid.
func assemble(tx *gorm.DB) (*shop.Shop, error) {
	s, _, err := assembleFloor(tx)
	return s, err
}

// assembleFloor is assemble, and returns where the released work stands, too.
func assembleFloor(tx *gorm.DB) (*shop.Shop, *floor, error) {
	s, err := gather(tx)
	if err != nil {
		return nil, nil, err
	}
	f, err := loadReleased(tx, s)
	return s, f, doing(err, "load released")
}

// gather returns the shop file without its released work, which can only be
// told when all the rest is there.
func gather(tx *gorm.DB) (*shop.Shop, error) {
	s := &shop.Shop{Format: shop.Format}
	for _, part := range sections() {
		if err := part.load(tx, s); err != nil {
			return nil, doing(err, "load %s", part.name)
		}
	}
	if s.Timezone == "" {
		return nil, errEmpty
	}
	var err error
	s.Now, err = asOf(tx, s.Zone())
	return s, err
}
