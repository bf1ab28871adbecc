package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
)

// copyInto writes a consistent copy of an open database into a new file, which
// appears whole and on the disk, or not at all.
func copyInto(ctx context.Context, conns *sql.DB, file string) error {
	return appear(file, func(part string) error {
		_, err := conns.ExecContext(ctx, "VACUUM INTO ?", part) // it syncs what it writes
		return err
	})
}

// copyFile copies a file as appear has it.
func copyFile(from, to string) error {
	return appear(to, func(part string) (err error) {
		in, err := os.Open(from)
		if err != nil {
			return err
		}
		defer in.Close()
		out, err := os.OpenFile(part, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
		if err != nil {
			return err
		}
		defer func() { err = errors.Join(err, out.Close()) }()
		if _, err := io.Copy(out, in); err != nil {
			return err
		}
		return out.Sync()
	})
}

// appear has a file written under another name beside it, and gives it its
// own when it is complete. It replaces what has that name.
func appear(file string, write func(part string) error) (err error) {
	part := file + ".part"
	if err := os.Remove(part); err != nil && !errors.Is(err, os.ErrNotExist) {
		return err // what an end at the wrong moment left behind
	}
	if err := write(part); err != nil {
		return errors.Join(err, removed(part))
	}
	if err := os.Chmod(part, 0o600); err != nil {
		return errors.Join(err, removed(part))
	}
	if err := os.Rename(part, file); err != nil {
		return errors.Join(err, removed(part))
	}
	return syncDir(filepath.Dir(file))
}

func removed(file string) error {
	if err := os.Remove(file); !errors.Is(err, os.ErrNotExist) {
		return err
	}
	return nil
}

// freeName returns a name that no file has: the given one, or the first that
// is free with a number after it. last is the name before it, which is taken,
// or empty.
func freeName(name string) (free, last string) {
	free = name
	for i := 2; ; i++ {
		if _, err := os.Lstat(free); errors.Is(err, os.ErrNotExist) {
			return free, last
		}
		free, last = fmt.Sprintf("%s.%d", name, i), free
	}
}
