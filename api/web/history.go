package web

import (
	"io"

	"blankwright/api/web/draw"
)

// A HistoryPage shows what happened, as pictures.
type HistoryPage struct {
	Frame
	OnTime   Figure // share of the sets that shipped in time, week by week
	Fill     Figure // share of the pegs, or weight, that loads used
	Reasons  Figure // scrap by reason
	Sections Figure // scrap by section
	Mandrels Figure // cycles by type
}

// A Figure is a picture with the same as numbers; it is empty where there is
// nothing to show yet.
type Figure struct {
	Title, Says string
	Drawn       draw.Picture
	Rows        []draw.Share
}

// Render writes the page.
func (p *HistoryPage) Render(w io.Writer) error { return render(w, "history", p) }

// Figures are all of the page's, in order.
func (p *HistoryPage) Figures() []Figure {
	return []Figure{p.OnTime, p.Fill, p.Reasons, p.Sections, p.Mandrels}
}

// mostBars is how many bars a figure shows.
const mostBars = 15

// shares draws shares from 0 to 1 over time.
func shares(id, title, says string, rows []draw.Share) Figure {
	if len(rows) == 0 {
		return Figure{Title: title}
	}
	return Figure{title, says, draw.Columns(id, title, rows), rows}
}

// amounts draws how much of what, the most first as they come.
func amounts(id, title, says string, rows []draw.Share) Figure {
	if len(rows) == 0 {
		return Figure{Title: title}
	}
	return Figure{title, says, draw.Bars(id, title, rows[:min(len(rows), mostBars)]), rows}
}
