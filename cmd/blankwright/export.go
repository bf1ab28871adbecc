package main

import (
	"context"
	"flag"
)

type exportOptions struct {
	booksOption
	out string
}

func exportCommand() *command {
	return &command{
		name:  "export",
		brief: "write the shop, as the books have it, to a shop file",
		about: `Writes the shop file that the books make at this instant: what the next plan
would be made from. A server may have the books open meanwhile.
`,
		bind: func(set *flag.FlagSet) action {
			o := &exportOptions{}
			o.booksOption.bind(set)
			set.StringVar(&o.out, "o", standard, "write to `FILE`")
			return o.run
		},
	}
}

func (o *exportOptions) run(ctx context.Context, w *world, _ []string) (err error) {
	if o.out != standard {
		if err := writable(o.out); err != nil {
			return err
		}
	}
	books, err := o.look(ctx, w)
	if err != nil {
		return err
	}
	defer closing(books, &err)
	text, err := books.Export(ctx)
	switch {
	case err != nil:
		return o.refused(err)
	case o.out == standard:
		_, err = w.stdout.Write(text)
		return err
	}
	return write(o.out, text)
}
