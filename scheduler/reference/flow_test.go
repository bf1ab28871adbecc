package reference_test

import "blankwright/scheduler/shop"

// addFlow leads every batch through all stages in order (R8), within its open and
// green time (R10).
func (m *model) addFlow() {
	for _, b := range m.batches {
		carried := total(happens(m.end, m.loads, func(*load) int { return 0 }, b.in(m))...)
		for _, w := range b.works() {
			m.equal(at(w.ended, m.end), carried)
		}
		if m.without != "R8" {
			m.addOrder(b)
		}
		if m.without != "R10" {
			m.addOpenTime(b)
		}
	}
}

// addOrder lets no batch begin a stage before it has ended the one before.
func (m *model) addOrder(b *batch) {
	in := m.tally(b.most, happens(m.end, m.loads, goesIn, b.in(m)))
	ready := m.tally(b.most, happens(m.end, m.loads, isReady, b.in(m)))
	for i := range b.most {
		for t := range m.end {
			for _, cut := range b.cuts {
				m.atMost(b.after[shop.Tack].begun[i][t], cut.ended[i][t])
			}
			for _, stage := range []shop.Stage{shop.Roll, shop.Wrap, shop.Strip, shop.Trim} {
				m.atMost(b.after[stage].begun[i][t], b.after[stage-1].ended[i][t])
			}
			m.atMost(in[i][t], b.after[shop.Wrap].ended[i][t])
			m.atMost(b.after[shop.Pull].begun[i][t], ready[i][t])
		}
	}
}

// addOpenTime has what is cut, or wrapped, cured soon after.
func (m *model) addOpenTime(b *batch) {
	cured := m.tally(b.most, happens(m.end, m.loads, isCured, b.in(m)))
	for i := range b.most {
		for t := range m.end {
			by := func(minutes int) sum { return cured[i][min(t+m.whole(float64(minutes)), m.end)] }
			for _, cut := range b.cuts {
				m.atMost(cut.begun[i][t], by(m.openMinutes(cut.prepreg)))
			}
			m.atMost(b.after[shop.Wrap].ended[i][t], by(m.s.Policy.MaxGreenMinutes))
		}
	}
}

func (m *model) openMinutes(prepreg string) int {
	for _, p := range m.s.Prepregs {
		if p.ID == prepreg {
			return p.MaxOpenMinutes
		}
	}
	panic("no prepreg " + prepreg)
}
