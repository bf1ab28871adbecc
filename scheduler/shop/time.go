package shop

import (
	"fmt"
	"regexp"
	"time"
)

// An Instant is a whole minute of real time, with the offset from UTC in which
// a file states it. Two instants are the same when their Minutes are.
type Instant struct {
	Minute int64 // since 1970-01-01T00:00Z
	Offset int   // minutes east of UTC, for printing only
}

// The offset's range is RFC 3339's (section 5.6), which time.Parse exceeds.
var instantForm = regexp.MustCompile(`^\d{4}-\d\d-\d\dT\d\d:\d\d:00(\.0+)?(Z|[+-]([01]\d|2[0-3]):[0-5]\d)$`)

// Between these instants the year has four digits in every offset.
var (
	earliest = InstantOf(time.Date(1, 1, 2, 0, 0, 0, 0, time.UTC))
	latest   = InstantOf(time.Date(9999, 12, 31, 0, 0, 0, 0, time.UTC))
)

// InstantOf returns t, cut to its minute, with t's own offset.
func InstantOf(t time.Time) Instant {
	_, seconds := t.Zone()
	return Instant{Minute: floorDiv(t.Unix(), 60), Offset: seconds / 60}
}

// InstantIn returns a minute with the offset that a zone has then.
func InstantIn(minute int64, zone *time.Location) Instant {
	return InstantOf(time.Unix(minute*60, 0).In(zone))
}

// Time returns the instant in a zone of its fixed offset.
func (i Instant) Time() time.Time {
	zone := time.UTC
	if i.Offset != 0 {
		zone = time.FixedZone("", i.Offset*60)
	}
	return time.Unix(i.Minute*60, 0).In(zone)
}

// String returns the instant as RFC 3339.
func (i Instant) String() string { return i.Time().Format(time.RFC3339) }

// MarshalText writes RFC 3339.
func (i Instant) MarshalText() ([]byte, error) { return []byte(i.String()), nil }

// UnmarshalText reads RFC 3339 on a whole minute.
func (i *Instant) UnmarshalText(text []byte) error {
	t, err := time.Parse(time.RFC3339, string(text))
	if err != nil || !instantForm.Match(text) {
		return fmt.Errorf("%q is no instant, which is RFC 3339 on a whole minute, as 2026-11-26T06:00:00+00:00", text)
	}
	read := InstantOf(t)
	if read.Minute < earliest.Minute || read.Minute > latest.Minute {
		return fmt.Errorf("%q is out of range, which is %s to %s", text, earliest, latest)
	}
	*i = read
	return nil
}

// A Date is a calendar day, counted from 1970-01-01.
type Date int

// DateOf returns the date that t's own clock shows.
func DateOf(t time.Time) Date {
	y, m, d := t.Date()
	return Date(time.Date(y, m, d, 0, 0, 0, 0, time.UTC).Unix() / 86400)
}

// DateAt returns the local date of a minute in a zone.
func DateAt(minute int64, zone *time.Location) Date {
	return DateOf(time.Unix(minute*60, 0).In(zone))
}

// Weekday returns the day of the week.
func (d Date) Weekday() time.Weekday { return d.utc().Weekday() }

// String returns YYYY-MM-DD.
func (d Date) String() string { return d.utc().Format(time.DateOnly) }

// MarshalText writes YYYY-MM-DD.
func (d Date) MarshalText() ([]byte, error) { return []byte(d.String()), nil }

// UnmarshalText reads YYYY-MM-DD.
func (d *Date) UnmarshalText(text []byte) error {
	t, err := time.Parse(time.DateOnly, string(text))
	if err != nil || t.Year() < 1 {
		return fmt.Errorf("%q is no date, which is YYYY-MM-DD", text)
	}
	*d = DateOf(t)
	return nil
}

func (d Date) utc() time.Time { return time.Unix(int64(d)*86400, 0).UTC() }

// A Clock is a wall-clock time in minutes after midnight, 0 to 1440.
type Clock int

// String returns HH:MM; the end of a day is 24:00.
func (c Clock) String() string { return fmt.Sprintf("%02d:%02d", int(c)/60, int(c)%60) }

// MarshalText writes HH:MM.
func (c Clock) MarshalText() ([]byte, error) { return []byte(c.String()), nil }

var clockForm = regexp.MustCompile(`^\d\d:\d\d$`)

// UnmarshalText reads HH:MM, from 00:00 to 24:00.
func (c *Clock) UnmarshalText(text []byte) error {
	var hour, minute int
	if clockForm.Match(text) {
		hour, minute = int(text[0]-'0')*10+int(text[1]-'0'), int(text[3]-'0')*10+int(text[4]-'0')
	}
	if !clockForm.Match(text) || minute > 59 || hour*60+minute > 1440 {
		return fmt.Errorf("%q is no clock time, which is HH:MM from 00:00 to 24:00", text)
	}
	*c = Clock(hour*60 + minute)
	return nil
}

// A Window is the local time from its first clock to its second, which it
// does not include: ["07:00","11:30"] in a file.
type Window [2]Clock

func floorDiv(a, b int64) int64 {
	q := a / b
	if a%b != 0 && (a < 0) != (b < 0) {
		q--
	}
	return q
}
