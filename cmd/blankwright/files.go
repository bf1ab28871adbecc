package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"blankwright/scheduler/plan"
	"blankwright/scheduler/shop"
	"blankwright/scheduler/strict"
)

// standard is the name that stands for standard input or output.
const standard = "-"

// mostProblems is how many problems of a file are printed as text.
const mostProblems = 50

// A badFile is a file that can't be used, with all that is wrong with it.
type badFile struct {
	file     string
	problems strict.Problems
	asJSON   bool
}

func (b *badFile) Error() string { return b.file + ": " + b.problems.Error() }

// badFile prints a file's problems, a line each, or all of them as JSON.
func (w *world) badFile(b *badFile) {
	if b.asJSON {
		w.badFileJSON(b)
		return
	}
	for i, p := range b.problems {
		if i == mostProblems {
			fmt.Fprintf(w.stderr, "%s: and %s more; -json lists all\n", b.file, grouped(len(b.problems)-mostProblems))
			break
		}
		fmt.Fprintf(w.stderr, "%s: %s\n", b.file, p)
	}
	fmt.Fprintf(w.stderr, "%s; nothing is written\n", counted(len(b.problems), "problem"))
}

func (w *world) badFileJSON(b *badFile) {
	type problem struct {
		Path    string `json:"path"`
		Message string `json:"message"`
	}
	all := struct {
		File     string    `json:"file"`
		Problems []problem `json:"problems"`
	}{File: b.file}
	for _, p := range b.problems {
		all.Problems = append(all.Problems, problem(p))
	}
	if err := w.json(all); err != nil {
		fmt.Fprintf(w.stderr, "blankwright: %v\n", err)
	}
}

// json prints a value as indented JSON.
func (w *world) json(value any) error {
	encoder := json.NewEncoder(w.stdout)
	encoder.SetIndent("", "  ")
	encoder.SetEscapeHTML(false)
	return encoder.Encode(value)
}

// readFile reads a file with the reader of its format.
func readFile[T any](w *world, path string, asJSON bool, read func([]byte) (*T, error)) (*T, error) {
	text, err := w.read(path)
	var value *T
	if err == nil {
		value, err = read(text)
	}
	if err == nil {
		return value, nil
	}
	var problems strict.Problems
	if !errors.As(err, &problems) {
		problems = strict.Problems{{Message: reason(err)}}
	}
	return nil, &badFile{path, problems, asJSON}
}

// reason leaves out the path that an error of the file system repeats.
func reason(err error) string {
	var p *fs.PathError
	if errors.As(err, &p) {
		return p.Err.Error()
	}
	return err.Error()
}

func (w *world) read(path string) ([]byte, error) {
	if path == standard {
		return io.ReadAll(w.stdin)
	}
	return os.ReadFile(path)
}

func (w *world) readShop(path string, asJSON bool) (*shop.Shop, error) {
	return readFile(w, path, asJSON, shop.Read)
}

// readBoth reads a shop and a plan for it.
func (w *world) readBoth(files []string, asJSON bool) (*shop.Shop, *plan.Plan, error) {
	if files[0] == standard && files[1] == standard {
		return nil, nil, bad("standard input can't be both SHOP and PLAN")
	}
	s, err := w.readShop(files[0], asJSON)
	if err != nil {
		return nil, nil, err
	}
	p, err := readFile(w, files[1], asJSON, func(text []byte) (*plan.Plan, error) { return plan.Read(text, s) })
	return s, p, err
}

// isSame reports whether two names stand for one file, be it there or not.
func isSame(a, b string) bool {
	infoA, errA := os.Stat(a)
	infoB, errB := os.Stat(b)
	if errA == nil && errB == nil {
		return os.SameFile(infoA, infoB)
	}
	return a != standard && filepath.Clean(a) == filepath.Clean(b)
}

// writable reports, before any work is done, why a file can't be written.
func writable(path string) error {
	info, err := os.Stat(filepath.Dir(path))
	switch {
	case err != nil:
		return bad("%s can't be written: %s", path, reason(err))
	case !info.IsDir():
		return bad("%s can't be written: %s is no folder", path, filepath.Dir(path))
	}
	if info, err := os.Stat(path); err == nil && info.IsDir() {
		return bad("%s can't be written: it is a folder", path)
	}
	return nil
}

// write puts text into a file, whole or not at all: it is written beside and
// renamed. What is no plain file, as a device, is written to as it stands.
func write(path string, text []byte) error {
	if real, err := filepath.EvalSymlinks(path); err == nil {
		path = real
	}
	mode := fs.FileMode(0o644)
	if info, err := os.Stat(path); err == nil {
		if !info.Mode().IsRegular() {
			return os.WriteFile(path, text, mode)
		}
		mode = info.Mode().Perm()
	}
	return replace(path, text, mode)
}

func replace(path string, text []byte, mode fs.FileMode) (err error) {
	beside, err := os.CreateTemp(filepath.Dir(path), filepath.Base(path)+".*")
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			_ = os.Remove(beside.Name())
		}
	}()
	_, err = beside.Write(text)
	err = errors.Join(err, beside.Chmod(mode), beside.Sync(), beside.Close())
	if err != nil {
		return err
	}
	return os.Rename(beside.Name(), path)
}
