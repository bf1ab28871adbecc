package ternpoint

import (
	"fmt"
	"strings"

	"blankwright/scheduler/shop"
)

// An order is one dealer's, all of whose lines are due on one day.
type order struct {
	id       string
	due      int // days from today, moved to a working day
	weight   float64
	complete bool
	lines    string // model×sets, one after the other
}

// book is six weeks of orders. Dealers are invented and known by the letters
// of their orders only. The first two are due before a blank begun now can be
// dry, and ICEP-0301 wants more of the longest boat blank than its mandrels
// give in time, so that a reader sees what late orders look like.
var book = []order{
	{"GULL-1041", 6, 2, false, "SUN-11L×6 TUR-50L×6"},
	{"HARB-0227", 7, 1.5, false, "MAU-864×4 STE-905×4"},
	{"SLIP-0630", 11, 1, false, "BAL-12M×12 TUR-55M×9 STE-906×6"},
	{"NORD-0118", 12, 1, true, "BAL-12H×9 HAG-13M×8"},
	{"ICEP-0301", 13, 1.5, false, "BAW-70X×16 BAW-65H×9"},
	{"CAPE-2210", 14, 1, false, "MAU-863×8 MAU-865×9 STE-907×6"},
	{"GULL-1047", 15, 1, false, "SUN-11M×15 BAL-12M×12 TUR-60M×12"},
	{"FOGG-0075", 17, 1, true, "DWY-107×6 DWY-108×6 TIC-128×3"},
	{"HARB-0231", 18, 1, false, "STE-905×12 STE-906×9 STE-908×6"},
	{"SKER-0412", 19, 1, false, "BAL-12X×9 HAG-13H×9 HAG-13X×6"},
	{"QUAY-0900", 20, 1, false, "TUR-50M×18 TUR-55M×15 BAW-60H×9"},
	{"SLIP-0634", 21, 1, false, "SUN-11L×18 SUN-11M×12"},
	{"CAPE-2214", 22, 1, true, "MAU-864×9 MAU-865×6 STE-905×9 TIC-128×4"},
	{"NORD-0121", 24, 2, false, "HAG-13M×12 BAL-12H×15"},
	{"ICEP-0305", 25, 1, false, "BAW-60H×15 BAW-65H×12 BAW-70X×4"},
	{"FOGG-0078", 26, 1, false, "DWY-107×9 STE-907×12"},
	{"GULL-1052", 27, 1, false, "BAL-12M×21 TUR-60M×15 SUN-11M×12"},
	{"HARB-0236", 29, 1, false, "STE-906×15 STE-908×9 MAU-863×6"},
	{"SKER-0417", 31, 1, true, "HAG-13H×12 BAL-12X×12"},
	{"QUAY-0904", 32, 1, false, "TUR-50L×21 TUR-55M×18 TUR-60M×12"},
	{"CAPE-2219", 34, 1, false, "MAU-865×12 STE-905×15 DWY-108×8"},
	{"SLIP-0641", 36, 1, false, "SUN-11L×15 BAL-12H×18 HAG-13X×9"},
	{"NORD-0126", 38, 1, false, "TIC-128×8 DWY-107×9"},
	{"ICEP-0309", 40, 1, false, "BAW-65H×15 BAW-70X×5 BAW-60H×12"},
	{"GULL-1058", 42, 1, false, "BAL-12M×18 SUN-11M×18 TUR-50M×15"},
}

// restock rolls again what warranty replacements have taken from stock.
var restock = order{"", 30, 0.4, false, "SUN-11L×3 BAL-12M×2 TUR-60M×3 MAU-864×2 STE-905×3 STE-908×2"}

func (y yard) demand() []shop.Line {
	var out []shop.Line
	for _, o := range book {
		for i, line := range y.lines(o) {
			line.ID, line.Kind, line.Order, line.Complete = fmt.Sprintf("%s/%d", o.id, i+1), shop.KindOrder, o.id, o.complete
			out = append(out, line)
		}
	}
	for i, line := range y.lines(restock) {
		line.ID, line.Kind = fmt.Sprintf("WARRANTY/%d", i+1), shop.KindRestock
		out = append(out, line)
	}
	return out
}

// lines returns an order's lines without what tells orders from restock.
func (y yard) lines(o order) []shop.Line {
	var out []shop.Line
	for _, text := range strings.Fields(o.lines) {
		line := shop.Line{Due: y.workday(o.due), Weight: o.weight}
		model, sets, _ := strings.Cut(text, "×")
		line.Product = model
		if _, err := fmt.Sscan(sets, &line.Quantity); err != nil {
			panic("ternpoint: order line " + text + ": " + err.Error())
		}
		out = append(out, line)
	}
	return out
}
