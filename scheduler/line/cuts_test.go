package line

import (
	"slices"
	"testing"
)

// A cut order has every prepreg once, begins with the first, and goes on up or down.
func TestCutOrder(t *testing.T) {
	for _, test := range []struct {
		order CutOrder
		want  []int
	}{
		{CutOrder{}, []int{0, 1, 2, 3}},
		{CutOrder{First: 2}, []int{2, 3, 0, 1}},
		{CutOrder{First: 2, Down: true}, []int{2, 1, 0, 3}},
		{CutOrder{Down: true}, []int{0, 3, 2, 1}},
	} {
		var got []int
		for i := range 4 {
			got = append(got, test.order.at(i, 4))
		}
		if !slices.Equal(got, test.want) {
			t.Errorf("%+v is %v, want %v", test.order, got, test.want)
		}
	}
}
