package web

import (
	"cmp"
	"fmt"
	"net/http"
	"strings"

	"github.com/gin-gonic/gin"

	"blankwright/scheduler/shop"
)

// shipDates is a calendar of the days on which lines ship (RFC 5545).
func (p *pages) shipDates(c *gin.Context) {
	rows, plan, err := p.lineRows(c.Request.Context(), "", "")
	if err != nil {
		p.fail(c, err)
		return
	}
	f := p.frame(c, "", "")
	c.Header("Content-Disposition", `attachment; filename="ship-dates.ics"`)
	c.Data(http.StatusOK, "text/calendar; charset=utf-8", []byte(calendarFile(f.Shop, plan, p.Now().UTC().Format("20060102T150405Z"), rows)))
}

// calendarFile writes one event for each line that ships.
func calendarFile(name, plan, stamp string, rows []LineRow) string {
	var out strings.Builder
	put := func(format string, args ...any) { out.WriteString(folded(fmt.Sprintf(format, args...))) }
	put("BEGIN:VCALENDAR")
	put("VERSION:2.0")
	put("PRODID:-//blankwright//ship dates//EN")
	for _, r := range rows {
		if r.Ship == nil {
			continue
		}
		put("BEGIN:VEVENT")
		put("UID:%s@blankwright", escapedUID(r.Line))
		put("DTSTAMP:%s", stamp)
		put("DTSTART;VALUE=DATE:%s", compact(*r.Ship))
		put("DTEND;VALUE=DATE:%s", compact(*r.Ship+1))
		put("SUMMARY:%s", escaped(fmt.Sprintf("%s ships: %d × %s", r.Line, r.Sets, r.Product)))
		put("DESCRIPTION:%s", escaped(fmt.Sprintf("%s, %s, %s. Due %s; %s.", name, cmp.Or(r.DealerName, r.Dealer), plan, r.Due, r.Fate())))
		put("END:VEVENT")
	}
	put("END:VCALENDAR")
	return out.String()
}

func compact(d shop.Date) string { return strings.ReplaceAll(d.String(), "-", "") }

// escaped writes a text as section 3.3.11 asks.
func escaped(text string) string {
	return strings.NewReplacer(`\`, `\\`, ";", `\;`, ",", `\,`, "\n", `\n`, "\r", "").Replace(text)
}

// escapedUID keeps letters and digits of an id, and the code of all else.
func escapedUID(id string) string {
	var out strings.Builder
	for _, r := range id {
		if r >= '0' && r <= '9' || r >= 'A' && r <= 'Z' || r >= 'a' && r <= 'z' || r == '-' {
			out.WriteRune(r)
			continue
		}
		fmt.Fprintf(&out, "_%x", r)
	}
	return out.String()
}

// folded breaks a line after 75 octets, as section 3.1 asks, and never within
// a letter.
func folded(line string) string {
	const most = 74
	var out strings.Builder
	used := 0
	for _, r := range line {
		if size := len(string(r)); used+size > most {
			out.WriteString("\r\n ")
			used = 1
		}
		out.WriteRune(r)
		used += len(string(r))
	}
	return out.String() + "\r\n"
}
