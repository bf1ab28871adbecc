package shop

import (
	"fmt"
	"strings"
)

// A Stage is one step of the work, in order; the oven stands between Wrap and
// Pull.
type Stage int

// The stages, in the order in which a piece passes them.
const (
	Cut Stage = iota
	Tack
	Roll
	Wrap
	Pull
	Strip
	Trim
	StageCount = int(Trim) + 1
)

var stageNames = [StageCount]string{"cut", "tack", "roll", "wrap", "pull", "strip", "trim"}

// Stages returns all stages in order.
func Stages() []Stage {
	return []Stage{Cut, Tack, Roll, Wrap, Pull, Strip, Trim}
}

// String returns the stage's name in files and on screens.
func (s Stage) String() string {
	if s < 0 || int(s) >= StageCount {
		return fmt.Sprintf("stage %d", int(s))
	}
	return stageNames[s]
}

// MarshalText writes the stage's name.
func (s Stage) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// UnmarshalText reads a stage's name.
func (s *Stage) UnmarshalText(text []byte) error {
	for i, name := range stageNames {
		if name == string(text) {
			*s = Stage(i)
			return nil
		}
	}
	return fmt.Errorf("%q is no stage, which is one of %s", text, strings.Join(stageNames[:], ", "))
}
