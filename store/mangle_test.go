package store_test

import (
	"errors"
	"math/rand/v2"
	"strings"
	"testing"

	"blankwright/store"
	"blankwright/store/storetest"
)

// spoilers are what a spoilt body has in the place of something else.
var spoilers = []string{
	"", "null", `"`, "{", "]", "-1", "1e400", "0.5", `"x"`, "\xff", "\x00", `"\u0000"`, "[[]]", `{"a":{}}`, "'; DROP TABLE things; --",
	"99999999999999999999", "true", strings.Repeat("[", 200),
}

// However a thing's body is spoilt, the books say what is wrong with it or take
// it, and never fail.
func TestPutThing_Mangled(t *testing.T) {
	b, _ := storetest.OpenYard(t)
	ctx := store.WithTrial(t.Context())
	dice := rand.New(rand.NewPCG(1, 2))
	refused := 0
	for _, kind := range store.Kinds() {
		all := must[[]store.Thing](t)(b.Things(t.Context(), kind))
		for range 10 {
			if len(all) == 0 {
				break
			}
			was := all[dice.IntN(len(all))]
			at := dice.IntN(len(was.Body))
			end := min(len(was.Body), at+dice.IntN(8))
			spoilt := string(was.Body[:at]) + spoilers[dice.IntN(len(spoilers))] + string(was.Body[end:])
			_, err := b.PutThing(ctx, kind, was.ID, []byte(spoilt), 0)
			if err != nil {
				refused++
			}
			if err != nil && paths(err) == nil && !errors.Is(err, store.ErrConflict) {
				t.Errorf("%s %s: %v\n%s", kind, was.ID, err, spoilt)
			}
		}
	}
	if refused == 0 {
		t.Error("nothing was refused")
	}
}
