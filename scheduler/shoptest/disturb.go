package shoptest

import (
	"fmt"

	"blankwright/scheduler/shop"
)

// disturb adds what keeps a shop from starting afresh: ovens and racks in use,
// downtime, pieces on their way, and released work.
func (m *maker) disturb() {
	for i := range m.s.Ovens {
		if m.maybe() {
			m.s.Ovens[i].BusyUntil = new(m.soon(1))
		}
	}
	for i := range m.s.Racks {
		for range m.between(0, m.s.Racks[i].Count-1) {
			if m.chance(0.5 * m.odd) {
				m.s.Racks[i].BusyUntil = append(m.s.Racks[i].BusyUntil, m.soon(2))
			}
		}
	}
	if m.maybe() {
		m.addDowntime()
	}
	if m.maybe() {
		m.addIncoming()
	}
	if !m.tiny && m.maybe() {
		m.addReleased()
	}
}

func (m *maker) addDowntime() {
	position := pick(m.dice, shop.Stages()...)
	resources := []string{
		"oven:" + pick(m.dice, m.s.Ovens...).ID,
		pick(m.dice, shop.Stages()...).String(),
		fmt.Sprintf("%s/%d", position, m.between(1, m.s.Stations.At(position).Positions)),
	}
	for _, resource := range resources {
		if !m.chance(0.6) {
			continue
		}
		from := m.soon(m.days)
		m.s.Downtime = append(m.s.Downtime, shop.Downtime{
			Resource: resource, From: from, To: m.at(from.Minute + int64(m.between(30, 600))), Why: pick(m.dice, "service", "door seal"),
		})
	}
}

func (m *maker) addIncoming() {
	for range m.between(1, 3) {
		section := pick(m.dice, pick(m.dice, m.s.Products...).Sections...)
		m.s.Incoming = append(m.s.Incoming, shop.Incoming{Section: section.ID, Pieces: m.between(1, 4), At: m.soon(m.days)})
	}
}
