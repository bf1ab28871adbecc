package rest_test

import (
	"net/http"
	"testing"

	"blankwright/api/access"
)

// A mandrel and a roll that were entered by mistake are removed by whoever may
// enter them, as long as nothing has happened to them.
func TestCrib_Remove(t *testing.T) {
	h := openCrib(t)
	c := h.As(access.Crib)
	for _, kind := range []struct {
		path, moved string
		enter       body
	}{
		{"/mandrels", "/crib/moves", body{"id": "X 1", "type": "mandrel", "cycles": 3, "since_recoat": 0, "since_inspection": 0}},
		{"/rolls", "/rolls/X%201/out", body{"id": "X 1", "prepreg": "prepreg", "m2": 20, "expires": "2027-12-01T00:00:00Z"}},
	} {
		made := c.Do("POST", kind.path, kind.enter).Must(http.StatusCreated)
		h.As(access.Station).With("If-Match", "*").Do("DELETE", kind.path+"/X%201", nil).Must(http.StatusForbidden)
		c.Do("DELETE", kind.path+"/X%201", nil).Must(http.StatusPreconditionRequired)
		c.With("If-Match", made.Header.Get("ETag")).Do("DELETE", kind.path+"/X%201", nil).Must(http.StatusNoContent)
		c.Get(kind.path + "/X%201").Must(http.StatusNotFound)
		c.Do("POST", kind.path, kind.enter).Must(http.StatusCreated)
		moved := body{"remark": "bent"}
		if kind.path == "/mandrels" {
			moved["ids"], moved["move"] = []string{"X 1"}, "quarantine"
		}
		c.Do("POST", kind.moved, moved).Must(http.StatusOK)
		c.With("If-Match", "*").Do("DELETE", kind.path+"/X%201", nil).Must(http.StatusConflict)
	}
}
