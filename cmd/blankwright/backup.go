package main

import (
	"context"
	"flag"
	"fmt"
	"os"
)

type backupOptions struct{ booksOption }

func backupCommand() *command {
	return &command{
		name:  "backup",
		files: []string{"FILE"},
		brief: "copy the books, as they are at one instant, into a new file",
		about: `Copies the books into FILE, which must not be there yet. A server may go on
changing them meanwhile: the copy is whole, and of one instant.
`,
		bind: func(set *flag.FlagSet) action {
			o := &backupOptions{}
			o.booksOption.bind(set)
			return o.run
		},
	}
}

func (o *backupOptions) run(ctx context.Context, w *world, files []string) (err error) {
	if files[0] == standard {
		return bad("backup: a copy needs a file of its own")
	}
	if err := writable(files[0]); err != nil {
		return err
	}
	books, err := o.look(ctx, w)
	if err != nil {
		return err
	}
	defer closing(books, &err)
	if err := books.Backup(ctx, files[0]); err != nil {
		return o.refused(err)
	}
	info, err := os.Stat(files[0])
	if err != nil {
		return err
	}
	_, err = fmt.Fprintf(w.stdout, "The books in %s are copied into %s, %s kB.\n", o.folder, files[0], grouped(int(info.Size()/1000)))
	return err
}
