package web

import (
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/gin-gonic/gin"

	"blankwright/store"
	"blankwright/store/crib"
)

func (p *pages) roll(c *gin.Context) { p.rollPage(c, http.StatusOK, MoveForm{}) }

// rollPage shows a roll's card, with a form for its moves as it was sent, if so.
func (p *pages) rollPage(c *gin.Context, status int, form MoveForm) {
	ctx, id := c.Request.Context(), c.Param("id")
	r, err := p.Books.Roll(ctx, id)
	if err != nil {
		p.fail(c, err)
		return
	}
	page := &RollPage{Frame: p.frame(c, "Roll "+id, "/crib"), Roll: rollRow(&r), Move: form}
	page.Change = may(c, "draw-roll") && len(r.Moves) > 0
	if page.Move.Fields == nil {
		page.Move.Fields = rollFields(&r)
	}
	page.Move.Fields = append(page.Move.Fields, Field{Name: "rev", Kind: "hidden", Value: fmt.Sprint(r.Rev)})
	page.Move.Action = "/crib/rolls/" + url.PathEscape(id)
	history, err := p.Books.RollHistory(ctx, id, historyRows)
	if err != nil {
		p.fail(c, err)
		return
	}
	for _, h := range history {
		what := fmt.Sprintf("%s: %s", h.Move, h.To)
		if h.M2 > 0 {
			what += ", " + page.Units().Area(h.M2)
		}
		page.History = append(page.History, Event{At: h.At, By: h.Actor, What: what, Note: h.Remark})
	}
	if may(c, "add-roll") && onlyEntered(history, func(h *store.RollMove) string { return h.Move }) {
		page.Remove = page.Move.Action + "/remove"
	}
	page.Rev = r.Rev
	p.show(c, status, "crib-roll", page)
}

// rollFields are those of a move of a roll: only moves that are possible.
func rollFields(r *store.Roll) []Field {
	move := Field{Name: "move", Label: "What", Kind: "select", Required: true}
	for _, m := range r.Moves {
		move.Options = append(move.Options, Option{string(m), rollWords[m]})
	}
	fields := []Field{move}
	if slices.Contains(r.Moves, crib.Draw) {
		fields = append(fields, Field{Name: "m2", Label: "Area of a draw, m²", Kind: "number", Step: "any", Least: "0"})
	}
	if slices.Contains(r.Moves, crib.Clear) {
		fields = append(fields, Field{Name: "limit", Label: "Out-time that it bears in all, days", Kind: "number", Step: "any", Least: "0", Hint: "Of a clear; empty leaves it."})
	}
	return append(fields, Field{Name: "remark", Label: "Remark", Kind: "text"})
}

// rollWords say each move as a person does.
var rollWords = map[crib.RollMove]string{
	crib.TakeOut: "out of the freezer", crib.PutIn: "into the freezer", crib.Draw: "draw from it",
	crib.HoldIt: "hold", crib.Clear: "clear a hold", crib.Discard: "discard",
}

func (p *pages) moveRoll(c *gin.Context) {
	ctx, id := c.Request.Context(), c.Param("id")
	r, err := p.Books.Roll(ctx, id)
	if err != nil {
		p.fail(c, err)
		return
	}
	if p.refuses(c, rollOperation(crib.RollMove(c.PostForm("move")))) {
		return
	}
	order := crib.RollOrder{Move: crib.RollMove(c.PostForm("move")), M2: numberIn(c, "m2"), Remark: strings.TrimSpace(c.PostForm("remark"))}
	order.Limit = time.Duration(numberIn(c, "limit") * 24 * float64(time.Hour))
	if _, err := p.Books.MoveRoll(ctx, store.Seen{ID: id, Rev: revOf(c)}, order); err != nil {
		p.refuseMove(c, err, rollFields(&r), func(status int, form MoveForm) { p.rollPage(c, status, form) })
		return
	}
	done(c, "/crib/rolls/"+url.PathEscape(id), id+": "+rollWords[order.Move]+".")
}

// rollOperation is what somebody must be allowed who makes a move.
func rollOperation(m crib.RollMove) string {
	switch m {
	case crib.TakeOut:
		return "take-out-roll"
	case crib.PutIn:
		return "put-in-roll"
	case crib.HoldIt:
		return "hold-roll"
	case crib.Clear:
		return "clear-roll"
	case crib.Discard:
		return "discard-roll"
	}
	return "draw-roll"
}

// numberIn reads a decimal out of a form; what is none is nothing.
func numberIn(c *gin.Context, name string) float64 {
	x, err := strconv.ParseFloat(c.PostForm(name), 64)
	if err != nil {
		return 0
	}
	return x
}
