package web

import "blankwright/api/access"

// Tags are the pages on the bar, which whoever has an account may open.
func Tags() []Tag {
	return []Tag{
		{"Next day", "/day"},
		{"Orders", "/orders"},
		{"Stock", "/stock"},
		{"Crib", "/crib"},
		{"Stations", "/floor"},
		{"Catalog", "/catalog"},
		{"History", "/history"},
	}
}

// tagsOf are those of a caller: none of who is not signed in.
func tagsOf(caller access.Caller) []Tag {
	if caller.Nobody() {
		return nil
	}
	return Tags()
}
