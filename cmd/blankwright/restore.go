package main

import (
	"context"
	"errors"
	"flag"
	"fmt"

	"blankwright/store"
)

type restoreOptions struct{ booksOption }

func restoreCommand() *command {
	return &command{
		name:  "restore",
		files: []string{"FILE"},
		brief: "put a copy in the place of the books",
		about: `Looks through FILE, a copy that ` + "`blankwright backup`" + ` made, and puts it in the
place of the books, which no server may have open. What it replaces is kept
beside it.
`,
		bind: func(set *flag.FlagSet) action {
			o := &restoreOptions{}
			o.booksOption.bind(set)
			return o.run
		},
	}
}

func (o *restoreOptions) run(ctx context.Context, w *world, files []string) error {
	kept, err := store.Restore(ctx, o.folder, files[0])
	switch {
	case errors.Is(err, store.ErrInUse):
		return o.refused(err)
	case err != nil:
		return bad("%v", err)
	}
	text := fmt.Sprintf("The books in %s are those of %s.\n", o.folder, files[0])
	if kept != "" {
		text += fmt.Sprintf("What they replace is kept as %s.\n", kept)
	}
	_, err = fmt.Fprint(w.stdout, text)
	return err
}
