package ternpoint

// A Dealer is one who orders. Its orders begin with its ID in capitals.
type Dealer struct{ ID, Name string }

// Dealers returns those of the order book. They are invented, and say so.
func Dealers() []Dealer {
	return []Dealer{
		{"gull", "Gull Ledge Rods (invented)"},
		{"harb", "Harbour Lane Fly (invented)"},
		{"slip", "Old Slip Surf (invented)"},
		{"nord", "Nord Bight Boats (invented)"},
		{"icep", "Ice Pan Deep Sea (invented)"},
		{"cape", "Cape Lull Anglers (invented)"},
		{"fogg", "Foggs of the Narrows (invented)"},
		{"sker", "Skerry Run Charter (invented)"},
		{"quay", "Quay Nine Tackle (invented)"},
	}
}
