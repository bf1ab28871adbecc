package rest

import (
	"net/http"
	"strconv"
	"strings"

	"blankwright/api/respond"
)

// Match is what a change must say: which revision of the thing it saw. It is
// exported for huma, which looks into no other embedded types.
type Match struct {
	IfMatch string `header:"If-Match" doc:"The ETag under which the thing was read, or * to change it whatever it is by now" example:"\"3\""`
}

// rev returns the revision that the caller saw; 0 where any will do.
func (m Match) rev() (int64, error) {
	switch text := strings.TrimSpace(m.IfMatch); {
	case text == "":
		return 0, respond.New(http.StatusPreconditionRequired, "a change must say by If-Match which ETag it saw")
	case text == "*":
		return 0, nil
	case len(text) > 2 && text[0] == '"' && text[len(text)-1] == '"':
		if rev, err := strconv.ParseInt(text[1:len(text)-1], 10, 64); err == nil && rev > 0 {
			return rev, nil
		}
	}
	return 0, respond.New(http.StatusBadRequest, "1 problem",
		respond.Field{Location: "header.If-Match", Message: `is no ETag of ours, which is a number in quotes as "3"`})
}

// etag is how a revision is told.
func etag(rev int64) string { return `"` + strconv.FormatInt(rev, 10) + `"` }

// A nothing is the answer to what leaves nothing to tell.
type nothing struct{}
