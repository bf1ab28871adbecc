// Package sqlite3 stands in for the driver in C that gorm's sqlite package
// imports for its side effect alone. The books run on one in Go: without this,
// each build with a C compiler at hand would compile all of SQLite in C for
// nothing, for about a minute. The go.mod at the top replaces the one by the
// other; nothing imports this otherwise.
package sqlite3
