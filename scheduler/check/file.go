package check

import (
	"fmt"

	"blankwright/scheduler/plan"
	"blankwright/scheduler/shop"
)

// checkFile judges the plan file's form, as far as the types leave it open:
// the shop that it answers, unique load ids, and references that name
// something. Only with the last has the plan a meaning to judge.
func (c *checker) checkFile() {
	p := c.plan
	c.meaningful = true
	if p.Format != plan.Format {
		c.breach(RuleFile, "format", "%q is not %q", p.Format, plan.Format)
	}
	if p.Shop != c.shop.Name {
		c.breach(RuleFile, "shop", "%q is not the shop's name %q", p.Shop, c.shop.Name)
	}
	if p.Now.Minute != c.now {
		c.breach(RuleFile, "now", "%s is not the shop's now %s", c.at(p.Now.Minute), c.at(c.now))
	}
	loads := map[string]bool{}
	for i := range p.Loads {
		l := &p.Loads[i]
		where := fmt.Sprintf("loads[%d]", i)
		if loads[l.ID] {
			c.senseless(where, "load id %q is there twice", l.ID)
		}
		loads[l.ID] = true
		c.checkLoadNames(where, l)
	}
	for i := range p.Tasks {
		c.checkTaskNames(fmt.Sprintf("tasks[%d]", i), &p.Tasks[i], loads)
	}
	for i := range p.Allocations {
		if a := &p.Allocations[i]; c.known.lines[a.Line] == nil {
			c.senseless(fmt.Sprintf("allocations[%d]", i), "no line %q", a.Line)
		}
	}
}

func (c *checker) checkLoadNames(where string, l *shop.Load) {
	if c.known.ovens[l.Oven] == nil {
		c.senseless(where, "no oven %q", l.Oven)
	}
	if c.known.profiles[l.Profile] == nil {
		c.senseless(where, "no profile %q", l.Profile)
	}
	for _, use := range l.Racks {
		rack := c.known.racks[use.Rack]
		if rack == nil {
			c.senseless(where, "no rack %q", use.Rack)
		} else if setup(rack, use.Setup) == nil {
			c.senseless(where, "rack %q has no set-up %q", use.Rack, use.Setup)
		}
		for _, level := range use.Levels {
			for _, hang := range level {
				if c.known.sections[hang.Section] == nil {
					c.senseless(where, "no section %q", hang.Section)
				}
			}
		}
	}
}

func (c *checker) checkTaskNames(where string, t *shop.Task, loads map[string]bool) {
	if !loads[t.Load] {
		c.senseless(where, "no load %q", t.Load)
	}
	if c.known.sections[t.Section] == nil {
		c.senseless(where, "no section %q", t.Section)
	}
	switch {
	case t.Stage < shop.Cut || int(t.Stage) >= shop.StageCount:
		c.senseless(where, "no stage %d", int(t.Stage))
	case t.Stage != shop.Cut && t.Prepreg != "":
		c.senseless(where, "a %s task names a prepreg", t.Stage)
	case t.Stage == shop.Cut && c.known.prepregs[t.Prepreg] == nil:
		c.senseless(where, "no prepreg %q", t.Prepreg)
	}
}

// senseless records a breach of form that leaves the plan without meaning.
func (c *checker) senseless(where, format string, args ...any) {
	c.meaningful = false
	c.breach(RuleFile, where, format, args...)
}
