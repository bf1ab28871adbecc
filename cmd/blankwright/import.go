package main

import (
	"context"
	"errors"
	"flag"
	"fmt"

	"blankwright/scheduler/strict"
)

type importOptions struct {
	booksOption
	asJSON bool
}

func importCommand() *command {
	return &command{
		name:  "import",
		files: []string{"SHOP"},
		brief: "take a shop file into empty books",
		about: `Takes the whole shop file SHOP into books that hold no shop yet. Every problem
of the file is told, and nothing is kept where there is one.
`,
		bind: func(set *flag.FlagSet) action {
			o := &importOptions{}
			o.booksOption.bind(set)
			set.BoolVar(&o.asJSON, "json", false, "print the file's problems as JSON")
			return o.run
		},
	}
}

func (o *importOptions) run(ctx context.Context, w *world, files []string) (err error) {
	s, err := w.readShop(files[0], o.asJSON)
	if err != nil {
		return err
	}
	books, err := o.open(ctx, w)
	if err != nil {
		return err
	}
	defer closing(books, &err)
	var problems strict.Problems
	if err := books.Import(byHand(ctx), s.Encode()); errors.As(err, &problems) {
		return &badFile{files[0], problems, o.asJSON}
	} else if err != nil {
		return o.refused(err)
	}
	_, err = fmt.Fprintf(w.stdout, "The books in %s hold %s: %s, %s.\n", o.folder, s.Name,
		counted(len(s.Products), "product"), counted(len(s.Demand), "line"))
	return err
}
