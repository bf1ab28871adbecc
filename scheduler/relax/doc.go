// Package relax makes shops that have one thing more than another: a mandrel,
// a rack, an oven, a position, a person, material, or a wider limit. Whatever
// stands in a shop stands in any of these too, so that a plan can be carried
// over and improved there, to see what the one thing would bring.
//
// It changes no shop: it returns another. It knows no plan and no algorithm,
// and imports shop only.
package relax
