// Package respond says what went wrong with a request: as a problem document
// (RFC 9457) that lists every field problem at once and tells nothing of the
// inside.
//
// It knows no route. The packages of api import it; it imports store and
// scheduler/strict for their errors.
package respond

import (
	"encoding/json"
	"maps"
	"math"
	"net/http"
	"strconv"
	"time"
)

// ContentType is that of every problem document.
const ContentType = "application/problem+json"

// A Problem is the body of every answer that is none of what was asked for.
// It is an error, so that handlers return it as one.
type Problem struct {
	Type    string  `json:"type" doc:"Always about:blank: title and status say what kind it is" example:"about:blank"`
	Title   string  `json:"title" doc:"What the status means" example:"Unprocessable Entity"`
	Status  int     `json:"status" doc:"The status of the answer" example:"422"`
	Detail  string  `json:"detail,omitempty" doc:"What is wrong here" example:"1 problem"`
	Errors  []Field `json:"errors,omitempty" doc:"All that is wrong with the request, each with its place"`
	Request string  `json:"request,omitempty" doc:"The request's id, to be found in the server's log"`

	// Wait is after how long to ask again, told as Retry-After; 0 says nothing.
	Wait time.Duration `json:"-"`
}

// A Field is one thing that is wrong with a request. Location leads to it, as
// body.lines[0].quantity, query.limit or path.id.
type Field struct {
	Location string `json:"location" doc:"Where it is, as body.lines[0].quantity or query.limit" example:"body.quantity"`
	Message  string `json:"message" doc:"What is wrong, and what would be right" example:"is 0, but must be at least 1"`
}

// New makes a problem with a status, a text and the places that are wrong.
func New(status int, detail string, fields ...Field) *Problem {
	return &Problem{Type: "about:blank", Title: http.StatusText(status), Status: status, Detail: detail, Errors: fields}
}

// Error returns the title and the detail.
func (p *Problem) Error() string {
	if p.Detail == "" {
		return p.Title
	}
	return p.Title + ": " + p.Detail
}

// GetStatus returns the status to answer with.
func (p *Problem) GetStatus() int { return p.Status }

// GetHeaders returns what the answer's head tells of the problem.
func (p *Problem) GetHeaders() http.Header {
	head := http.Header{}
	if p.Wait > 0 {
		head.Set("Retry-After", strconv.Itoa(p.Seconds()))
	}
	return head
}

// Seconds returns the wait in whole seconds, rounded up.
func (p *Problem) Seconds() int { return int(math.Ceil(p.Wait.Seconds())) }

// ContentType returns that of a problem document, whatever was asked for.
func (p *Problem) ContentType(string) string { return ContentType }

// Write answers with a problem document.
func Write(w http.ResponseWriter, p *Problem) {
	body, err := json.Marshal(p)
	if err != nil { // a problem holds texts and a number
		panic(err)
	}
	maps.Copy(w.Header(), p.GetHeaders())
	w.Header().Set("Content-Type", ContentType)
	w.WriteHeader(p.Status)
	_, _ = w.Write(append(body, '\n')) // who asked may be gone
}
