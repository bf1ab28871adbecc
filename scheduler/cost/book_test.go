package cost_test

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"blankwright/scheduler/cost"
	"blankwright/scheduler/instance"
	"blankwright/scheduler/line"
	"blankwright/scheduler/rack"
	"blankwright/scheduler/shop"
	"blankwright/scheduler/shoptest"
)

// trimmed returns a load that has trimmed its runs at an instant.
func trimmed(at instance.Tick, runs ...rack.Run) *line.Load {
	l := &line.Load{Runs: runs}
	for _, stage := range []shop.Stage{shop.Strip, shop.Trim} {
		for _, r := range runs {
			l.Tasks = append(l.Tasks, line.Task{Section: r.Section, Stage: stage, Pieces: r.Pieces, End: at})
		}
	}
	return l
}

// run returns pieces of one section.
func run(section, pieces int) rack.Run { return rack.Run{Section: section, Pieces: pieces} }

// A book of one line of three sets, due on day 5 at 2 a day, held at 0.5: two
// are done on day 3, one on day 9.
func TestBook_LateAndHold(t *testing.T) {
	s := shoptest.Bare()
	s.Policy.HoldCost = 0.5
	shoptest.AddLine(s, "P", 3, 5, 2)
	in := instance.New(shoptest.Accepted(s))
	b := cost.NewBook(in)
	expect := func(when string, late, hold float64) {
		t.Helper()
		if got := [2]float64{in.Price(b.Late()), in.Price(b.Hold())}; got != [2]float64{late, hold} {
			t.Errorf("%s: late and hold %v, want %v", when, got, [2]float64{late, hold})
		}
		if got := in.Price(b.LateOf(0)); got != late {
			t.Errorf("%s: product P is late for %g, want %g", when, got, late)
		}
	}
	expect("nothing made: 3 × 55 days × 2", 330, 0) // it counts as shipped on day 60
	early, late := trimmed(3*day, run(0, 2)), trimmed(9*day, run(0, 1))
	b.Add(early)
	expect("two made: 55 × 2, and 2 × 2 days × 0.5", 110, 2)
	b.Add(late)
	expect("all made: 4 × 2", 8, 2)
	b.Keep()
	b.Drop(early)
	expect("one made on day 9, two left out: 8 + 2 × 110", 228, 0)
	b.Add(early)
	b.Undo()
	expect("undone", 8, 2)
}

// A load that carries several sections of a product counts once: two pieces of
// each are two sets, of which the line of three lacks one.
func TestBook_CountsALoadOnce(t *testing.T) {
	s := pair()
	shoptest.AddLine(s, "P", 3, 5, 1)
	in := instance.New(shoptest.Accepted(s))
	b := cost.NewBook(in)
	l := trimmed(day, run(0, 2), run(1, 2))
	b.Add(l)
	if got := in.Price(b.Late()); got != 55 {
		t.Errorf("late %g, want one set's 55", got)
	}
	b.Drop(l)
	if got := in.Price(b.Late()); got != 3*55 {
		t.Errorf("late %g without the load, want %d", got, 3*55)
	}
}

// Lines of an order that says complete ship on its latest date, or count as left
// out where any set is, without hold.
func TestBook_CompleteOrder(t *testing.T) {
	s := shoptest.Bare()
	s.Policy.HoldCost = 0.5
	s.Products = append(s.Products, shoptest.BareProduct("Q", "T"))
	for i, product := range []string{"P", "Q"} {
		l := shoptest.AddLine(s, product, 2, 5+10*i, 1) // due on days 5 and 15
		l.Order, l.Complete = "O", true
	}
	in := instance.New(shoptest.Accepted(s))
	cases := []struct {
		name       string
		loads      []*line.Load
		late, hold float64
	}{
		{"nothing made", nil, 2*55 + 2*45, 0},
		{"P alone made", []*line.Load{trimmed(day, run(0, 2))}, 2*55 + 2*45, 0},
		{"all but one set", []*line.Load{trimmed(day, run(0, 2), run(1, 1))}, 2*55 + 2*45, 0},
		{"P waits for Q on day 9", []*line.Load{trimmed(day, run(0, 2)), trimmed(9*day, run(1, 2))}, 2 * 4, 2 * 6 * 0.5},
		{"both ship on day 2", []*line.Load{trimmed(2*day, run(0, 2), run(1, 2))}, 0, 2*3*0.5 + 2*13*0.5},
		{"Q waits for P's last set", []*line.Load{trimmed(day, run(1, 2), run(0, 1)), trimmed(20*day, run(0, 1))}, 2*15 + 2*5, 0},
	}
	for _, c := range cases {
		b := cost.NewBook(in)
		for _, l := range c.loads {
			b.Add(l)
		}
		if late, hold := in.Price(b.Late()), in.Price(b.Hold()); late != c.late || hold != c.hold {
			t.Errorf("%s: late %g and hold %g, want %g and %g", c.name, late, hold, c.late, c.hold)
		}
		for product := range in.Products {
			if got := in.Price(b.LateOf(product)); got != c.late {
				t.Errorf("%s: product %d is late for %g, want its order's %g", c.name, product, got, c.late)
			}
		}
	}
}

// bookShop draws a shop of two products of up to two sections, with lines on
// their own and in orders.
func bookShop(t *rapid.T) *shop.Shop {
	s := shoptest.Bare()
	s.HorizonDays, s.Policy.HoldCost, s.Policy.UnplannedDays = 25, 0.25, 3
	s.Products = []shop.Product{shoptest.BareProduct("P", "P1", "P2"), shoptest.BareProduct("Q", "Q1")}
	s.Products[0].Stock = rapid.IntRange(0, 1).Draw(t, "stock")
	for range rapid.IntRange(1, 6).Draw(t, "lines") {
		l := shoptest.AddLine(s, rapid.SampledFrom([]string{"P", "Q"}).Draw(t, "product"),
			rapid.IntRange(1, 3).Draw(t, "sets"), rapid.IntRange(0, 30).Draw(t, "due"),
			rapid.SampledFrom([]float64{0, 1, 3}).Draw(t, "weight"))
		l.Order = rapid.SampledFrom([]string{"", "A", "B"}).Draw(t, "order")
		l.Complete = rapid.Bool().Draw(t, "complete")
	}
	return shoptest.Accepted(s)
}

// A bookkeeper tries changes on a book, as a search does.
type bookkeeper struct {
	in    *instance.Instance
	book  *cost.Book
	loads []*line.Load
}

// change adds and drops a few loads, and returns how to take that back.
func (k *bookkeeper) change(t *rapid.T) (back func()) {
	before := slices.Clone(k.loads)
	var added, dropped []*line.Load
	for range rapid.IntRange(0, 2).Draw(t, "drops") {
		if len(k.loads) > 0 {
			i := rapid.IntRange(0, len(k.loads)-1).Draw(t, "dropped")
			dropped = append(dropped, k.loads[i])
			k.book.Drop(k.loads[i])
			k.loads = slices.Delete(k.loads, i, i+1)
		}
	}
	for range rapid.IntRange(0, 2).Draw(t, "adds") {
		var runs []rack.Run
		for section := range k.in.Sections {
			if n := rapid.IntRange(0, 3).Draw(t, "pieces"); n > 0 {
				runs = append(runs, run(section, n))
			}
		}
		// Few days, so that loads of one day share a ship date.
		at := day*rapid.IntRange(0, 8).Draw(t, "day") + rapid.IntRange(1, 3).Draw(t, "minute")
		l := trimmed(at, runs...)
		added = append(added, l)
		k.book.Add(l)
		k.loads = append(k.loads, l)
	}
	return func() {
		for _, l := range added {
			k.book.Drop(l)
		}
		for _, l := range dropped {
			k.book.Add(l)
		}
		k.loads = before
	}
}

// judge compares the book with a new one of the same loads, and with what the
// shares cost when counted order by order.
func (k *bookkeeper) judge(t *rapid.T) {
	fresh := cost.NewBook(k.in)
	for _, l := range k.loads {
		fresh.Add(l)
	}
	got, want := [2]cost.Money{k.book.Late(), k.book.Hold()}, [2]cost.Money{fresh.Late(), fresh.Hold()}
	if got != want {
		t.Fatalf("late and hold are %v, counted anew %v", got, want)
	}
	var shares []cost.Share
	for p := range k.in.Products {
		shares = append(shares, k.book.Shares(p)...)
	}
	if late, hold := recount(k.in, shares); got != [2]cost.Money{late, hold} {
		t.Fatalf("late and hold are %v, by order %d and %d", got, late, hold)
	}
}

// recount prices shares by section 6 of the contract. Lines that no share names
// cost nothing.
func recount(in *instance.Instance, shares []cost.Share) (late, hold cost.Money) {
	last, short := make([]shop.Date, len(in.Orders)), make([]bool, len(in.Orders))
	for _, s := range shares {
		if o := in.Lines[s.Line].Order; o != instance.None {
			last[o] = max(last[o], s.Ship)
			short[o] = short[o] || s.Missing
		}
	}
	for _, s := range shares {
		l := &in.Lines[s.Line]
		ship, missing := s.Ship, s.Missing
		if l.Order != instance.None {
			if ship, missing = last[l.Order], short[l.Order]; missing {
				ship = in.Products[l.Product].Never
			}
		}
		if days := cost.Money(s.Sets) * cost.Money(ship-l.Due); days > 0 {
			late += days * l.LatePrice
		} else if !missing {
			hold -= days * in.HoldPrice
		}
	}
	return late, hold
}

// Whatever loads come and go, and whichever changes are taken back, a book's
// costs are those of a new book and of a count by the contract.
func TestBook_AsCountedAnew(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := instance.New(bookShop(t))
		k := &bookkeeper{in: in, book: cost.NewBook(in)}
		for range 8 {
			back := k.change(t)
			if rapid.Bool().Draw(t, "ask") {
				k.book.Late()
			}
			if rapid.Bool().Draw(t, "undo") {
				back()
				k.book.Undo()
			} else {
				k.book.Keep()
			}
			if rapid.Bool().Draw(t, "judge") {
				k.judge(t)
			}
		}
		k.judge(t)
	})
}

// Two changes that were counted before one undo go back together.
func TestBook_UndoesSeveralChanges(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := instance.New(bookShop(t))
		k := &bookkeeper{in: in, book: cost.NewBook(in)}
		k.change(t)
		k.book.Keep()
		first := k.change(t)
		k.book.Late()
		before := slices.Clone(k.loads)
		second := k.change(t)
		k.book.Late()
		second()
		k.loads = before
		first()
		k.book.Undo()
		k.judge(t)
	})
}
