package store

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

// Backup writes the books, as they are at one instant, into a new file. Others
// go on reading and writing meanwhile.
func (b *Books) Backup(ctx context.Context, file string) error {
	if _, err := os.Lstat(file); !errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("backup: %w", conflict("%s is there already: name a new file", file))
	}
	source, err := openPool(ctx, b.path, looking, 1) // the readers' connections refuse to write, even elsewhere
	if err != nil {
		return fmt.Errorf("backup: %w", err)
	}
	return doing(errors.Join(copyInto(ctx, source.conns, file), source.conns.Close()), "backup")
}

// Restore puts a backup in the place of a directory's books, which nobody may
// have open. It looks through the backup first, keeps what it replaces under
// the name that it returns (empty where there was nothing), and leaves either
// the old books or the new, whenever it ends.
func Restore(ctx context.Context, dir, file string) (kept string, err error) {
	source, err := openBackup(ctx, file)
	if err != nil {
		return "", fmt.Errorf("restore %s: %w", file, err)
	}
	defer func() { err = errors.Join(err, source.conns.Close()) }()
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return "", fmt.Errorf("restore: %w", err)
	}
	lock, err := lockDir(dir)
	if err != nil {
		return "", fmt.Errorf("restore: %w", err)
	}
	defer func() { err = errors.Join(err, lock.Unlock()) }()
	kept, err = replace(ctx, filepath.Join(dir, FileName), source)
	return kept, doing(err, "restore %s", file)
}

// openBackup opens a file that would serve as books, and refuses any other.
func openBackup(ctx context.Context, file string) (*pool, error) {
	if _, err := os.Stat(file); err != nil {
		return nil, err
	}
	source, err := openPool(ctx, file, looking, 1)
	if err != nil {
		return nil, fmt.Errorf("it is no backup: %w", err)
	}
	if err := judgeBackup(ctx, source); err != nil {
		return nil, errors.Join(err, source.conns.Close())
	}
	return source, nil
}

func judgeBackup(ctx context.Context, source *pool) error {
	migrate, err := provider(source.conns)
	if err != nil {
		return err
	}
	have, _, err := versions(ctx, source.conns, migrate)
	switch {
	case err != nil:
		return fmt.Errorf("it is no backup: %w", err)
	case have == 0:
		return errors.New("it is no backup: it holds no books")
	}
	return sound(ctx, source.conns)
}

// journals are the files in which SQLite keeps what is not yet in the main one.
var journals = []string{"-wal", "-shm"}

// replace keeps the books at a path with their journals, and puts a copy of
// others in their place. The old journals must be gone before the new file is
// there: SQLite would take them for its own.
func replace(ctx context.Context, path string, source *pool) (kept string, err error) {
	if _, err := os.Stat(path); err == nil {
		kept, _ = freeName(path + ".replaced")
		for _, ending := range append([]string{""}, journals...) {
			if err := copyFile(path+ending, kept+ending); err != nil && !errors.Is(err, fs.ErrNotExist) {
				return "", err
			}
		}
	}
	next := path + ".next"
	if err := copyInto(ctx, source.conns, next); err != nil {
		return kept, err
	}
	for _, ending := range journals {
		if err := removed(path + ending); err != nil {
			return kept, err
		}
	}
	if err := os.Rename(next, path); err != nil {
		return kept, err
	}
	return kept, syncDir(filepath.Dir(path))
}
