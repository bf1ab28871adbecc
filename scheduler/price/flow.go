package price

// A flow is what the choices of a desk take, and their mean: by line and order, the
// part that is good or ships on each day.
type flow struct {
	desk   *desk
	sets   [][]float64 // by product, then day: sets of the last choice that are good on it
	took   [][]float64 // by limit, then day: the share that it takes
	lines  [][]float64 // by line of the model, then day: the mean
	orders [][]float64 // by order of the model, then option: the mean
}

func newFlow(d *desk) *flow {
	f := &flow{desk: d}
	for range d.m.products {
		f.sets = append(f.sets, make([]float64, len(d.m.days)))
	}
	for range d.m.rows {
		f.took = append(f.took, make([]float64, len(d.m.days)))
	}
	for range d.m.lines {
		f.lines = append(f.lines, make([]float64, len(d.m.days)))
	}
	for i := range d.m.orders {
		f.orders = append(f.orders, make([]float64, len(d.m.orders[i].options)))
	}
	return f
}

// follow works out what the last choice takes.
func (f *flow) follow() {
	f.count()
	for r := range f.took {
		clear(f.took[r])
	}
	for p := range f.sets {
		for day, sets := range f.sets[p] {
			if sets > 0 {
				f.take(p, day, sets)
			}
		}
	}
}

// count counts the sets of the last choice.
func (f *flow) count() {
	for p := range f.sets {
		clear(f.sets[p])
	}
	for i, day := range f.desk.lines {
		if l := &f.desk.m.lines[i]; day != none {
			f.sets[l.product][day] += float64(l.sets)
		}
	}
	for i, n := range f.desk.orders {
		if n == none {
			continue
		}
		o := &f.desk.m.orders[i]
		for k, index := range o.lines {
			l := &f.desk.m.in.Lines[index]
			f.sets[l.Product][o.options[n].days[k]] += float64(l.Quantity)
		}
	}
}

// take takes what so many sets of a product need that are good on a day.
func (f *flow) take(p, day int, sets float64) {
	product := &f.desk.m.products[p]
	f.use(product.uses, day, sets)
	for i := range product.parts {
		f.use(f.desk.cheaper(&product.parts[i], day), day, sets)
	}
}

func (f *flow) use(uses []use, day int, sets float64) {
	for _, u := range uses {
		f.took[u.limit][day] += float64(sets * (float64(u.share) / one))
	}
}

// beyond sets, for all limits and days in one list, the share that the last choice
// takes by then beyond the room.
func (f *flow) beyond(over []float64) {
	k := 0
	for r, row := range f.desk.m.rows {
		sum := 0.0
		for day, room := range row.room {
			sum += f.took[r][day]
			over[k] = sum - float64(room)/one
			k++
		}
	}
}

// mix lets the last choice count so much in the mean.
func (f *flow) mix(fresh float64) {
	for i, day := range f.desk.lines {
		blend(f.lines[i], day, fresh)
	}
	for i, n := range f.desk.orders {
		blend(f.orders[i], n, fresh)
	}
}

func blend(mean []float64, chosen int, fresh float64) {
	for n := range mean {
		mean[n] = float64(mean[n] * (1 - fresh))
	}
	if chosen != none {
		mean[chosen] += fresh
	}
}
