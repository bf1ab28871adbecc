// Package draw makes the pictures of the pages and prints: the racks of a load
// in their oven, a cure as its temperature curve, a day's work at a station, a
// section with its flags, the need for mandrels, and what happened before.
//
// Each is one self-contained SVG element, to scale where it shows a thing, that
// says in its title and description what it shows; no meaning is by colour
// alone. Colours, line widths and type come from the page's style sheet, by
// class. It reads no books and knows no request; package web hands it what to
// draw. It imports the engine's shop and sheet and package unit.
package draw
