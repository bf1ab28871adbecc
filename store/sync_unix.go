//go:build !windows

package store

import (
	"errors"
	"os"
)

// syncDir puts the names in a folder on the disk.
func syncDir(dir string) error {
	folder, err := os.Open(dir)
	if err != nil {
		return err
	}
	return errors.Join(folder.Sync(), folder.Close())
}
