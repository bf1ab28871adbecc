package store

import (
	"fmt"
	"strings"

	"gorm.io/gorm"

	"blankwright/scheduler/strict"
)

// findings gathers all that is wrong with what somebody stated.
type findings struct{ problems strict.Problems }

// say reports a problem at a field's path.
func (f *findings) say(path, format string, args ...any) {
	f.problems = append(f.problems, strict.Problem{Path: path, Message: fmt.Sprintf(format, args...)})
}

// take takes over problems that were found elsewhere.
func (f *findings) take(problems strict.Problems) { f.problems = append(f.problems, problems...) }

// err returns the problems, nil where there is none.
func (f *findings) err() error {
	if len(f.problems) == 0 {
		return nil
	}
	return f.problems
}

// newID reports an id that cannot be one, or that a row of a table has already.
func (f *findings) newID(tx *gorm.DB, table, id string) error {
	f.id("id", id)
	known, err := exists(tx, table, "id = ?", id)
	if known {
		f.say("id", "%q is there already", id)
	}
	return err
}

// refersTo reports an id at a path that names no thing of a kind.
func (f *findings) refersTo(tx *gorm.DB, path, kind, what, id string) error {
	known, err := exists(tx, "things", "kind = ? AND id = ?", kind, id)
	if err == nil && !known {
		f.say(path, "no %s %q", what, id)
	}
	return err
}

// exists reports whether a table has a row of some sort.
func exists(tx *gorm.DB, table, where string, args ...any) (bool, error) {
	var count int64
	err := tx.Table(table).Where(where, args...).Limit(1).Count(&count).Error
	return count > 0, err
}

// nextPosition returns the place after a table's last row.
func nextPosition(tx *gorm.DB, table string) (int64, error) {
	var last int64
	err := tx.Table(table).Select("coalesce(max(position), -1)").Scan(&last).Error
	return last + 1, err
}

// choice lists words for a message.
func choice[W ~string](words []W) string {
	out := make([]string, len(words))
	for i, w := range words {
		out[i] = string(w)
	}
	return strings.Join(out, ", ")
}
