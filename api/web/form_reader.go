package web

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strconv"

	"github.com/gin-gonic/gin"

	"blankwright/scheduler/shop"
	"blankwright/scheduler/strict"
	"blankwright/store"
)

// A formReader reads what was typed into a form, and notes what is no number or
// date.
type formReader struct {
	c        *gin.Context
	problems strict.Problems
}

// err is what was wrong, or nil.
func (r *formReader) err() error { return orNil(r.problems) }

// into enters what was read. Where something of the form was wrong, it is only
// tried: what the books would refuse beside that is told with it. enter's error
// is about the same fields, once rename has named them as the form does.
func (r *formReader) into(enter func(ctx context.Context) error, rename func(error) error) error {
	ctx := r.c.Request.Context()
	if len(r.problems) == 0 {
		return rename(enter(ctx))
	}
	var found strict.Problems
	if errors.As(rename(enter(store.WithTrial(ctx))), &found) {
		for _, p := range found {
			if !slices.ContainsFunc(r.problems, func(had strict.Problem) bool { return had.Path == p.Path }) {
				r.problems = append(r.problems, p)
			}
		}
	}
	return r.problems
}

// asNamed is for what the books name as the form does.
func asNamed(err error) error { return err }

func (r *formReader) wrong(name, format string, args ...any) {
	r.problems = append(r.problems, strict.Problem{Path: name, Message: fmt.Sprintf(format, args...)})
}

// count reads a whole number that must be there.
func (r *formReader) count(name string) int {
	n, err := strconv.Atoi(r.c.PostForm(name))
	if err != nil {
		r.wrong(name, "%q is no whole number", r.c.PostForm(name))
	}
	return n
}

// number reads a decimal that must be there.
func (r *formReader) number(name string) float64 {
	if x := r.amount(name); x != nil {
		return *x
	}
	r.wrong(name, "is missing")
	return 0
}

// date reads a date that must be there.
func (r *formReader) date(name string) (d shop.Date) {
	if text := r.c.PostForm(name); text == "" {
		r.wrong(name, "is missing")
	} else if err := d.UnmarshalText([]byte(text)); err != nil {
		r.wrong(name, "%v", err)
	}
	return d
}

// dateOrNone reads a date that may be left out.
func (r *formReader) dateOrNone(name string) *shop.Date {
	if r.c.PostForm(name) == "" {
		return nil
	}
	d := r.date(name)
	return &d
}

// amount reads a decimal that may be left out.
func (r *formReader) amount(name string) *float64 {
	text := r.c.PostForm(name)
	if text == "" {
		return nil
	}
	x, err := strconv.ParseFloat(text, 64)
	if err != nil {
		r.wrong(name, "%q is no number", text)
	}
	return &x
}
