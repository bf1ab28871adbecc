package main

import (
	"context"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"blankwright/scheduler/sheet"
	"blankwright/store"
)

// demoLimit keeps the demo within ten seconds.
const demoLimit = 8 * time.Second

type demoOptions struct {
	searchOptions
	folder string
	addr   string
}

func demoCommand() *command {
	return &command{
		name:  "demo",
		brief: "plan an invented shop and show its next day",
		about: `Makes the books of Tern Point, which is invented, dated from today; plans from
them; prints the next day, what the plan costs, and which lines are late and
why; and leaves the books, the shop file and the plan file to try the other
commands on. With -addr it serves the books instead of printing, to everybody
on this machine, without accounts, until Ctrl-C; those that a demo has left in
the folder of -data as they are.
`,
		bind: func(set *flag.FlagSet) action {
			o := &demoOptions{}
			set.StringVar(&o.folder, "data", "", "keep the books in `DIR`, and put the files there (default: a new one under the system's temporary folder)")
			set.StringVar(&o.addr, "addr", "", "make the shop's books and serve them at `ADDR`, as 127.0.0.1:8080, which must be this machine's own")
			o.searchOptions.bind(set, demoLimit)
			return o.run
		},
	}
}

func (o *demoOptions) run(ctx context.Context, w *world, _ []string) error {
	if o.addr != "" && !isLoopback(o.addr) {
		return bad("demo: its books are open to all, so that it serves this machine alone, as 127.0.0.1:8080, not %s", o.addr)
	}
	folder, err := o.makeFolder()
	if err != nil {
		return err
	}
	if o.addr != "" {
		return o.serve(ctx, w, folder)
	}
	err = o.fill(ctx, w, folder)
	if err != nil && o.folder == "" {
		_ = os.Remove(folder) // which fails where it holds anything
	}
	return err
}

// fill makes the demo's books in a folder, plans from them, and leaves the files.
func (o *demoOptions) fill(ctx context.Context, w *world, folder string) error {
	files := demoFiles{
		folder: folder, books: filepath.Join(folder, store.FileName),
		shop: filepath.Join(folder, "tern-point.json"), plan: filepath.Join(folder, "tern-point.plan.json"),
	}
	for _, file := range []string{files.books, files.shop, files.plan} {
		if _, err := os.Lstat(file); err == nil {
			return bad("demo: %s is there already; name another folder with -data", file)
		}
	}
	p, err := o.planBooks(ctx, w, folder)
	if err != nil {
		return err
	}
	if err := write(files.shop, p.shop.Encode()); err != nil {
		return err
	}
	if err := write(files.plan, p.Plan.Encode()); err != nil {
		return err
	}
	_, err = fmt.Fprint(w.stdout, demoText(p, files))
	return err
}

// demoFiles is where the demo leaves what it makes.
type demoFiles struct{ folder, books, shop, plan string }

func (o *demoOptions) makeFolder() (string, error) {
	if o.folder == "" {
		return os.MkdirTemp("", "blankwright-demo-")
	}
	if err := os.MkdirAll(o.folder, 0o755); err != nil {
		return "", bad("demo: the folder %s can't be made: %s", o.folder, reason(err))
	}
	return o.folder, nil
}

func demoText(p *planned, files demoFiles) string {
	const invented = "Tern Point is an invented shop: its people, orders, products and figures are made up.\n"
	next, ok := sheet.Next(p.shop, p.Plan)
	if !ok {
		next = p.shop.Today()
	}
	return paragraph("", invented) + "\n" + dayText(sheet.Of(p.shop, p.Plan, next), 0) + "\n" +
		p.summary(files.plan) +
		fmt.Sprintf("The shop is in %s\nThe books are in %s\n\n", files.shop, files.books) +
		fmt.Sprintf("Look at them in a browser:\n  blankwright demo -data %s -addr 127.0.0.1:8080\n\n", files.folder) +
		paragraph("", invented)
}
