package construct

import (
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"
)

// A varied rule is another one, and one by which an answer can be built: nothing of
// it is below what makes sense, and what waits without limit goes on to.
func TestVary_NearAndWhole(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 1))
	for _, rules := range [][]Rule{Rules, BusyRules} {
		for _, rule := range rules {
			near := rule
			for range 200 {
				near = Vary(near, 20, 16, r)
				if near.Ahead < 1 || near.Fill < 0 || near.Least < 0 || near.Strain < 0 || near.Patience <= 0 || near.Wait <= 0 || near.Lead < 0 || near.Evening < 0 {
					t.Fatalf("%+v comes of %+v", near, rule)
				}
				if near.Eager != rule.Eager || (near.Wait < patient) != (rule.Wait < patient) || (near.Morning > 0) != (rule.Morning > 0) {
					t.Fatalf("%+v, of another kind, comes of %+v", near, rule)
				}
			}
			if len(near.Favour) != 20 || slices.Min(near.Favour) <= 0 || slices.Equal(near.Favour, slices.Repeat([]float64{1}, 20)) {
				t.Errorf("%+v comes of %+v", near, rule)
			}
			if near.Favour = nil; reflect.DeepEqual(near, rule) {
				t.Errorf("%+v stays as it is", rule)
			}
		}
	}
}
