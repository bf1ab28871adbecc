package store

import "time"

// A Notice is one thing that needs eyes. It is open until a later plan no longer
// raises it.
type Notice struct {
	ID       int64
	Kind     string
	Subject  string // what it is about: a line, a roll, a mandrel
	Text     string
	Plan     int64 // that raised it, or changed its text
	RaisedAt time.Time
	SeenAt   time.Time // zero: nobody has
	SeenBy   string
	GoneAt   time.Time // zero: it is open
}

// A Raised is a notice as a plan raises it.
type Raised struct{ Kind, Subject, Text string }

// A NoticeFilter picks notices, the newest first.
type NoticeFilter struct {
	Gone   bool // those that are over, too
	Unseen bool // those that nobody has seen only
	After  int64
	Limit  int // 0: all
}
