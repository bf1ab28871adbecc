package shop

import "blankwright/scheduler/strict"

// Read reads a shop file. Its error is strict.Problems: all that is wrong with
// the file, in its form and by the contract's rules, in the file's order.
//
// What is read can be written by Encode and reads back the same: instants keep
// their offsets, and empty lists and maps are nil.
func Read(data []byte) (*Shop, error) {
	s := new(Shop)
	doc := strict.Read(data, s)
	validate(doc, s)
	if err := doc.Err(); err != nil {
		return nil, err
	}
	return s, nil
}
