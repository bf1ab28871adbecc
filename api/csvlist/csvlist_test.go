package csvlist_test

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"blankwright/api/csvlist"
	"blankwright/scheduler/shop"
)

func date(t *testing.T, text string) (d shop.Date) {
	t.Helper()
	if err := d.UnmarshalText([]byte(text)); err != nil {
		t.Fatal(err)
	}
	return d
}

// A list is read whatever the order of its columns, its separator, its line
// ends, and the mark that some programs put before it.
func TestRead(t *testing.T) {
	half, yes, promised := 0.5, true, date(t, "2027-03-25")
	want := []csvlist.Row{
		{Number: 2, Order: "C 17", Product: "P", Quantity: 4, Due: date(t, "2027-03-20"), Weight: &half, Promised: &promised, Complete: &yes},
		{Number: 3, Product: `Q, "long"`, Quantity: 1, Due: date(t, "2027-04-01")},
	}
	for name, text := range map[string]string{
		"commas":     "order,product,quantity,due,weight,promised,complete\nC 17,P,4,2027-03-20,0.5,2027-03-25,yes\n,\"Q, \"\"long\"\"\",1,2027-04-01,,,\n",
		"semicolons": "\ufeffOrder; Product;Quantity;Due;weight;promised;complete\r\nC 17;P;4;2027-03-20;0.5;2027-03-25;YES\r\n;\"Q, \"\"long\"\"\";1;2027-04-01;;;\r\n",
	} {
		got, problems := csvlist.Read([]byte(text))
		if diff := cmp.Diff(want, got); diff != "" || problems != nil {
			t.Errorf("%s: problems %v\n%s", name, problems, diff)
		}
	}
}

// Everything that is wrong is told at once, at its row and column.
func TestRead_Problems(t *testing.T) {
	tests := []struct {
		name, text string
		want       []string
	}{
		{"nothing", "", []string{"1 "}},
		{"no rows", "product,quantity,due\n", []string{"0 "}},
		{"columns", "product,frob,product\nP,1,P\n", []string{"1 frob", "1 product", "1 quantity", "1 due"}},
		{"not UTF-8", "product,quantity,due\n\xff,1,2027-03-20\n", []string{"0 "}},
		{"cells", "product,quantity,due,weight,promised,complete\n,0,soon,-1,x,perhaps\nP,1.5,2027-02-30,NaN,,\n", []string{
			"2 product", "2 quantity", "2 due", "2 weight", "2 promised", "2 complete", "3 quantity", "3 due", "3 weight",
		}},
		{"too few cells", "product,quantity,due\nP,1\nP,1,2027-03-20\nP\n", []string{"2 ", "4 "}},
		{"a quote left open", "product,quantity,due\n\"P,1,2027-03-20\n", []string{"2 "}},
		{"too many rows", "product,quantity,due\n" + strings.Repeat("P,1,2027-03-20\n", csvlist.MostRows+1), []string{"5002 "}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			_, problems := csvlist.Read([]byte(test.text))
			var got []string
			for _, p := range problems {
				got = append(got, fmt.Sprintf("%d %s", p.Row, p.Column))
				if p.Message == "" {
					t.Errorf("%+v says nothing", p)
				}
			}
			if diff := cmp.Diff(test.want, got); diff != "" {
				t.Error(diff)
			}
		})
	}
}

// What is written reads back the same, and no cell begins as a formula does
// (OWASP, CSV Injection: = + - @ tab and carriage return).
func TestWriter(t *testing.T) {
	var out bytes.Buffer
	w := csvlist.NewWriter(&out, "a", "b")
	w.Row("plain", `with "quotes", commas`)
	for _, first := range []string{"=", "+", "-", "@", "\t", "\r"} {
		w.Row(first+"1+1", "2027-03-20")
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(&out).ReadAll()
	if err != nil || len(rows) != 8 || rows[1][1] != `with "quotes", commas` {
		t.Fatalf("%v, %q", err, rows)
	}
	for _, row := range rows[2:] {
		if row[0][0] != '\'' || row[1] != "2027-03-20" {
			t.Errorf("written as %q", row)
		}
	}
}

// No text makes the reader panic, and what it accepts has no row that it told
// a problem of.
func FuzzRead(f *testing.F) {
	f.Add([]byte("order,product,quantity,due\nC 17,P,4,2027-03-20\n"))
	f.Add([]byte("product;quantity;due;weight\nP;x;y;z\n\"P"))
	f.Fuzz(func(t *testing.T, text []byte) {
		rows, problems := csvlist.Read(text)
		if len(rows) == 0 && len(problems) == 0 {
			t.Error("neither rows nor problems")
		}
		for _, row := range rows {
			if len(problems) == 0 && (row.Product == "" || row.Quantity < 1) {
				t.Errorf("accepted %+v", row)
			}
		}
	})
}
