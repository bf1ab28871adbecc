package rest

import (
	"net/http"
	"strconv"
	"strings"

	"blankwright/api/respond"
	"blankwright/store"
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
		return 0, unmatched("a change must say by If-Match which ETag it saw, or * for whichever")
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

// unmatched refuses a change that does not say what it saw.
func unmatched(detail string) error { return respond.New(http.StatusPreconditionRequired, detail) }

// Fresh is a Match for what may also be made by the same request.
type Fresh struct {
	Match
	IfNoneMatch string `header:"If-None-Match" enum:"*" doc:"In the place of If-Match: there must be none yet"`
}

// seen returns the revision that the caller saw, or that there must be none.
func (f Fresh) seen() (int64, error) {
	switch {
	case f.IfNoneMatch == "" && strings.TrimSpace(f.IfMatch) == "":
		return 0, unmatched("a change must say by If-Match which ETag it saw, or * for whichever; what is new, by If-None-Match: *")
	case f.IfNoneMatch == "":
		return f.rev()
	case f.IfMatch == "":
		return store.MustBeNew, nil
	}
	return 0, respond.New(http.StatusBadRequest, "1 problem",
		respond.Field{Location: "header.If-None-Match", Message: "can't stand beside If-Match"})
}

// Page says which part of a list is asked for.
type Page struct {
	Limit int    `query:"limit" minimum:"1" maximum:"500" default:"100" doc:"How many at most"`
	After string `query:"after" maxLength:"200" doc:"The next of the page before: those after it come"`
}

// A listAnswer is a list, or a page of one.
type listAnswer[T any] struct{ Body listBody[T] }

type listBody[T any] struct {
	Items []T    `json:"items"`
	Next  string `json:"next,omitempty" doc:"Send it as after, for the next page; absent on the last"`
}

// listed makes a list of records, each as tell tells it.
func listed[R, T any](records []R, err error, tell func(*R) T) (*listAnswer[T], error) {
	if err != nil {
		return nil, err
	}
	a := &listAnswer[T]{listBody[T]{Items: make([]T, len(records))}}
	for i := range records {
		a.Body.Items[i] = tell(&records[i])
	}
	return a, nil
}

// paged is listed for one page: where it is full, more may follow.
func paged[R, T any](p Page, records []R, err error, tell func(*R) T, id func(*R) string) (*listAnswer[T], error) {
	a, err := listed(records, err, tell)
	if err == nil && len(records) == p.Limit {
		a.Body.Next = id(&records[len(records)-1])
	}
	return a, err
}

// Older is a page of a list that begins with the newest. It is exported for huma.
type Older struct {
	Limit int   `query:"limit" minimum:"1" maximum:"500" default:"100" doc:"How many at most"`
	After int64 `query:"after" minimum:"1" doc:"The next of the page before: those older than it come"`
}

// older is paged for records that are numbered, the newest first.
func older[R, T any](o Older, records []R, err error, tell func(*R) T, id func(*R) int64) (*listAnswer[T], error) {
	return paged(Page{Limit: o.Limit}, records, err, tell, func(r *R) string { return strconv.FormatInt(id(r), 10) })
}

// A revAnswer is one record that can be changed.
type revAnswer[T any] struct {
	ETag string `header:"ETag"`
	Body T
}

// told is the answer of a record under its revision.
func told[T any](body T, rev int64, err error) (*revAnswer[T], error) {
	if err != nil {
		return nil, err
	}
	return &revAnswer[T]{etag(rev), body}, nil
}

// A madeAnswer is a record that was entered, and where it is.
type madeAnswer[T any] struct {
	Location string `header:"Location"`
	ETag     string `header:"ETag"`
	Body     T
}

// wrong refuses what is wrong at one place.
func wrong(location, message string) error {
	return respond.New(http.StatusUnprocessableEntity, "1 problem", respond.Field{Location: location, Message: message})
}

// etag is how a revision is told.
func etag(rev int64) string { return `"` + strconv.FormatInt(rev, 10) + `"` }

// A nothing is the answer to what leaves nothing to tell.
type nothing struct{}
