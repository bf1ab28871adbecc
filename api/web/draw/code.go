package draw

import (
	"errors"
	"fmt"
	"strings"

	"github.com/boombuler/barcode"
	"github.com/boombuler/barcode/code128"
	"github.com/boombuler/barcode/qr"
)

// ErrNotASCII says that a code cannot carry a text: readers differ on what is
// beyond ASCII.
var ErrNotASCII = errors.New("a code carries printable ASCII only")

// Stripes draws a text as Code 128, with the text below it.
func Stripes(id, text string) (Picture, error) {
	if !printable(text) {
		return "", ErrNotASCII
	}
	code, err := code128.Encode(text)
	if err != nil {
		return "", fmt.Errorf("stripes of %q: %w", text, err)
	}
	const quiet, high = 10.0, 40.0
	wide := float64(code.Bounds().Dx())
	c := newCanvas(frame{
		id: id, class: "code", title: "Code of " + text, desc: "Code 128, to be scanned.",
		width: wide + 2*quiet, height: high + 16, scale: 1.5,
	})
	c.rect("blank", 0, 0, wide+2*quiet, high+16)
	c.path("ink", modules(code, 1, func(x, _, run int) string {
		return "M" + point(quiet+float64(x), 2) + "h" + number(float64(run)) + "v" + number(high) + "h" + number(float64(-run)) + "z"
	}))
	c.text("code-text", "middle", wide/2+quiet, high+13, text)
	return c.done(), nil
}

// Square draws a text as a QR code.
func Square(id, text string) (Picture, error) {
	if !printable(text) {
		return "", ErrNotASCII
	}
	code, err := qr.Encode(text, qr.M, qr.Auto)
	if err != nil {
		return "", fmt.Errorf("square of %q: %w", text, err)
	}
	const quiet = 4.0
	wide := float64(code.Bounds().Dx())
	c := newCanvas(frame{
		id: id, class: "code", title: "Code of " + text, desc: "QR code, to be scanned.",
		width: wide + 2*quiet, height: wide + 2*quiet, scale: 2.4,
	})
	c.rect("blank", 0, 0, wide+2*quiet, wide+2*quiet)
	c.path("ink", modules(code, code.Bounds().Dy(), func(x, y, run int) string {
		return "M" + point(quiet+float64(x), quiet+float64(y)) + "h" + number(float64(run)) + "v1h" + number(float64(-run)) + "z"
	}))
	return c.done(), nil
}

// modules visits each run of dark modules, row by row.
func modules(code barcode.Barcode, rows int, at func(x, y, run int) string) string {
	var out strings.Builder
	wide := code.Bounds().Dx()
	for y := range rows {
		for x := 0; x < wide; x++ {
			run := 0
			for x+run < wide && dark(code, x+run, y) {
				run++
			}
			if run > 0 {
				out.WriteString(at(x, y, run))
				x += run
			}
		}
	}
	return out.String()
}

func dark(code barcode.Barcode, x, y int) bool {
	red, _, _, _ := code.At(x, y).RGBA()
	return red < 0x8000
}

func printable(text string) bool {
	for _, r := range text {
		if r < ' ' || r > '~' {
			return false
		}
	}
	return text != ""
}
