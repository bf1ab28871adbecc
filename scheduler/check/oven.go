package check

// checkOvens judges R4: each load's instants, its oven's calendar and
// downtime, and that loads in one oven don't overlap.
func (c *checker) checkOvens() {
	for _, l := range c.loads {
		if !l.released {
			c.checkLoadTimes(l)
			c.checkOvenOpen(l)
		}
	}
	for i := range c.shop.Ovens {
		c.checkOvenApart(c.shop.Ovens[i].ID)
	}
}

func (c *checker) checkLoadTimes(l *load) {
	if begin := l.In.Minute + int64(l.oven.LoadMinutes); l.CureStart.Minute != begin {
		c.breach("R4", l.where, "cure_start %s is not %s, in + %d minutes", c.at(l.CureStart.Minute), c.at(begin), l.oven.LoadMinutes)
	}
	if begin := l.unloading().from; begin < l.CureEnd.Minute {
		c.breach("R4", l.where, "unloading begins %s, the cure ends %s", c.at(begin), c.at(l.CureEnd.Minute))
	}
	if l.In.Minute < c.now {
		c.breach("R4", l.where, "in %s is before now %s", c.at(l.In.Minute), c.at(c.now))
	}
	if busy := l.oven.BusyUntil; busy != nil && l.In.Minute < busy.Minute {
		c.breach("R4", l.where, "in %s is before oven %s is free %s", c.at(l.In.Minute), l.oven.ID, c.at(busy.Minute))
	}
}

func (c *checker) checkOvenOpen(l *load) {
	for _, down := range c.downtime["oven:"+l.oven.ID] {
		if down.overlaps(l.taken()) {
			c.breach("R4", l.where, "%s to %s overlaps downtime %s to %s", c.at(l.In.Minute), c.at(l.Out.Minute), c.at(down.from), c.at(down.to))
		}
	}
	open := c.hours[l.oven.Calendar]
	if !open.holds(l.loading()) {
		c.breach("R4", l.where, "loading from %s to %s lies in no window of calendar %s", c.at(l.In.Minute), c.at(l.CureStart.Minute), l.oven.Calendar)
	}
	if !open.holds(l.unloading()) {
		c.breach("R4", l.where, "the %d unloading minutes to %s lie in no window of calendar %s", l.oven.UnloadMinutes, c.at(l.Out.Minute), l.oven.Calendar)
	}
	if !l.oven.Unattended && !open.holds(l.taken()) {
		c.breach("R4", l.where, "%s to %s lies in no window of calendar %s, and oven %s is attended", c.at(l.In.Minute), c.at(l.Out.Minute), l.oven.Calendar, l.oven.ID)
	}
}

// checkOvenApart judges that no two loads are in one oven at once.
func (c *checker) checkOvenApart(oven string) {
	var bookings []booking
	for _, l := range c.loads {
		if l.Oven == oven {
			bookings = append(bookings, booking{l.taken(), l.released, l.where})
		}
	}
	for _, clash := range clashes(bookings) {
		a, b := clash.booking, clash.with
		c.breach("R4", a.where, "has oven %s from %s to %s, %s from %s to %s", oven, c.at(a.from), c.at(a.to), b.where, c.at(b.from), c.at(b.to))
	}
}
