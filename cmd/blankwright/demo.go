package main

import (
	"context"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"blankwright/cmd/blankwright/ternpoint"
	"blankwright/scheduler/sheet"
	"blankwright/scheduler/shop"
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
		about: `Makes the shop of Tern Point, which is invented, dated from today; plans it;
prints its next day, what the plan costs, and which lines are late and why; and
leaves the shop file and the plan file to try the other commands on. With -addr
it makes books of that shop instead, and serves them to everybody on this
machine, without accounts, until Ctrl-C.
`,
		bind: func(set *flag.FlagSet) action {
			o := &demoOptions{}
			set.StringVar(&o.folder, "dir", "", "put the files into `FOLDER` (default: a new one under the system's temporary folder)")
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

// fill plans the demo's shop and leaves its files in a folder.
func (o *demoOptions) fill(ctx context.Context, w *world, folder string) error {
	shopFile, planFile := filepath.Join(folder, "tern-point.json"), filepath.Join(folder, "tern-point.plan.json")
	for _, file := range []string{shopFile, planFile} {
		if _, err := os.Lstat(file); err == nil {
			return bad("demo: %s is there already; name another folder with -dir", file)
		}
	}
	text := ternpoint.Shop(shop.DateOf(w.now())).Encode()
	s, err := shop.Read(text)
	if err != nil {
		return fmt.Errorf("internal error: the demo's shop: %w", err)
	}
	p, err := w.search(ctx, s, o.searchOptions)
	if err != nil {
		return err
	}
	if err := write(shopFile, text); err != nil {
		return err
	}
	if err := write(planFile, p.Plan.Encode()); err != nil {
		return err
	}
	_, err = fmt.Fprint(w.stdout, demoText(p, shopFile, planFile))
	return err
}

func (o *demoOptions) makeFolder() (string, error) {
	if o.folder == "" {
		return os.MkdirTemp("", "blankwright-demo-")
	}
	if err := os.MkdirAll(o.folder, 0o755); err != nil {
		return "", bad("demo: the folder %s can't be made: %s", o.folder, reason(err))
	}
	return o.folder, nil
}

func demoText(p *planned, shopFile, planFile string) string {
	const invented = "Tern Point is an invented shop: its people, orders, products and figures are made up.\n"
	next, ok := sheet.Next(p.shop, p.Plan)
	if !ok {
		next = p.shop.Today()
	}
	return paragraph("", invented) + "\n" + dayText(sheet.Of(p.shop, p.Plan, next), 0) + "\n" +
		p.summary(planFile) + fmt.Sprintf("The shop is in %s\n", shopFile) + "\n" +
		paragraph("", invented)
}
