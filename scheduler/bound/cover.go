package bound

// A cover is a linear programme: which columns, and how much of each, cover all
// needs at the least price. Columns are found on the way; what it yields are the
// prices of the needs, by which every column known costs at least what it covers.
//
// It is the revised simplex method with the inverse of the basis kept whole. All
// is in floating point: prices are a proposal, and whoever uses them proves them.
type cover struct {
	need    []float64
	inverse [][]float64 // of the basis
	amount  []float64   // by basic column
	price   []float64   // by need
	step    []float64   // the entering column in terms of the basis
}

// newCover returns the programme in which each need, above 0, has a first column
// that covers so much of it alone at some price.
func newCover(need, covers, price []float64) *cover {
	n := len(need)
	c := &cover{need: need, inverse: make([][]float64, n), amount: make([]float64, n), price: make([]float64, n), step: make([]float64, n)}
	for i := range n {
		c.inverse[i] = make([]float64, n)
		c.inverse[i][i] = 1 / covers[i]
		c.amount[i] = need[i] / covers[i]
		c.price[i] = price[i] / covers[i]
	}
	return c
}

// tiny is what rounding may leave of nothing.
const tiny = 1e-9

// enter takes a column into the basis, at the price at which it covers so much
// of each need, and reports whether that changes anything.
func (c *cover) enter(covers []float64, price float64) bool {
	gain := c.gain(covers, price)
	if gain == 0 {
		return false
	}
	row := c.leaving(covers)
	if row < 0 {
		return false
	}
	c.pivot(row, gain)
	return true
}

// gain returns by how much a column costs less than what it covers, 0 where it
// does not.
func (c *cover) gain(covers []float64, price float64) float64 {
	gain := -price
	for i, a := range covers {
		gain += c.price[i] * a
	}
	if gain <= tiny*(1+price) {
		return 0
	}
	return gain
}

// value returns what the basic columns cost.
func (c *cover) value() (sum float64) {
	for i, need := range c.need {
		sum += need * c.price[i]
	}
	return sum
}

// leaving returns the row whose column the entering one drives out first, -1
// where none is.
func (c *cover) leaving(covers []float64) int {
	row := -1
	for i, inverse := range c.inverse {
		sum := 0.0
		for j, a := range covers {
			if a != 0 {
				sum += inverse[j] * a
			}
		}
		c.step[i] = sum
		if sum > tiny && (row < 0 || c.amount[i]*c.step[row] < c.amount[row]*sum) {
			row = i
		}
	}
	return row
}

// pivot exchanges the columns; gain is by how much the entering one is too cheap.
func (c *cover) pivot(row int, gain float64) {
	pivot := c.inverse[row]
	by := 1 / c.step[row]
	for j := range pivot {
		pivot[j] *= by
	}
	c.amount[row] *= by
	for i, inverse := range c.inverse {
		f := c.step[i]
		if i == row || f == 0 {
			continue
		}
		for j, p := range pivot {
			inverse[j] -= f * p
		}
		c.amount[i] = max(0, c.amount[i]-f*c.amount[row])
	}
	for j, p := range pivot {
		c.price[j] -= gain * p
	}
}

// drop lets needs be covered more than they must be, for which no price may be
// below 0: it returns false when none is.
func (c *cover) drop() bool {
	for i, p := range c.price {
		if p < -tiny {
			surplus := make([]float64, len(c.price))
			surplus[i] = -1
			return c.enter(surplus, 0)
		}
	}
	return false
}
