package shop

import "blankwright/scheduler/strict"

// CheckWork reports, at a path such as "released" or "" for a whole file, the
// loads and tasks that name what the shop does not have, load ids that come
// twice, tasks of other loads, and prepregs anywhere but on cut tasks. It
// judges by none of the rules R1 to R15.
func CheckWork(doc *strict.Document, s *Shop, path string, loads []Load, tasks []Task) {
	checkWork(doc, collect(doc, s), path, loads, tasks)
}

func checkWork(doc *strict.Document, ids *ids, path string, loads []Load, tasks []Task) {
	w := work{doc, ids, doc.Ids("load")}
	add(w.loads, strict.Field(path, "loads"), loads, func(l Load) string { return l.ID })
	for i, l := range loads {
		w.load(index(strict.Field(path, "loads"), i), l)
	}
	for i, t := range tasks {
		w.task(index(strict.Field(path, "tasks"), i), t)
	}
}

type work struct {
	doc   *strict.Document
	ids   *ids
	loads *strict.Ids
}

func (w *work) load(path string, l Load) {
	w.ids.ovens.Refer(path+".oven", l.Oven)
	w.ids.profiles.Refer(path+".profile", l.Profile)
	for i, r := range l.Racks {
		rack := index(path+".racks", i)
		w.ids.racks.Refer(rack+".rack", r.Rack)
		if setups, ok := w.ids.setups[r.Rack]; ok {
			setups.Refer(rack+".setup", r.Setup)
		}
		for j, level := range r.Levels {
			for k, hang := range level {
				w.ids.sections.Refer(index(index(rack+".levels", j), k)+".section", hang.Section)
			}
		}
	}
}

func (w *work) task(path string, t Task) {
	w.loads.Refer(path+".load", t.Load)
	w.ids.sections.Refer(path+".section", t.Section)
	w.ids.prepregs.Refer(path+".prepreg", t.Prepreg)
	if w.doc.Bad(path + ".stage") {
		return
	}
	switch cut := t.Stage == Cut; {
	case cut && t.Prepreg == "":
		w.doc.Add(path+".prepreg", "is missing: a cut task names the prepreg that it cuts")
	case !cut && t.Prepreg != "":
		w.doc.Add(path+".prepreg", "stands on cut tasks only, and this is a %s task", t.Stage)
	}
}

// released judges what a plan file leaves to the rules, but which is none of
// R15's exceptions: the numbers' own range, and that time runs forward.
func (v *validator) released() {
	r := v.shop.Released
	if r == nil {
		return
	}
	checkWork(v.doc, v.ids, "released", r.Loads, r.Tasks)
	for i, l := range r.Loads {
		path := index("released.loads", i)
		v.forward(path+".cure_start", l.CureStart, path+".in", l.In)
		v.forward(path+".cure_end", l.CureEnd, path+".cure_start", l.CureStart)
		v.forward(path+".out", l.Out, path+".cure_end", l.CureEnd)
		v.hangs(path, l)
	}
	for i, t := range r.Tasks {
		path := index("released.tasks", i)
		v.forward(path+".end", t.End, path+".start", t.Start)
		v.atLeast(path+".position", t.Position, 1)
		v.atLeast(path+".pieces", t.Pieces, 0)
	}
}

func (v *validator) hangs(path string, l Load) {
	for i, r := range l.Racks {
		for j, level := range r.Levels {
			for k, hang := range level {
				v.atLeast(index(index(index(path+".racks", i)+".levels", j), k)+".pieces", hang.Pieces, 0)
			}
		}
	}
}

func (v *validator) forward(path string, later Instant, before string, earlier Instant) {
	if later.Minute < earlier.Minute && !v.doc.Bad(before) {
		v.doc.Add(path, "%s is before %s, at %s", later, earlier, before)
	}
}

func (v *validator) atLeast(path string, value, least int) {
	if value < least {
		v.doc.Add(path, "is %d, but must be at least %d", value, least)
	}
}
