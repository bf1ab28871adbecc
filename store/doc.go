// Package store keeps the shop's books in one SQLite file: what the shop is
// made of, what is asked for, what is under way, and a trail of every change.
//
// It keeps and answers; it does not plan, does not know HTTP, and decides no
// one's rights. An exported method is one transaction; what a method writes is
// there when it returns, or nothing of it is. The database and its rows stay
// inside this package. api and cmd may import it; it imports the engine's file
// formats and no more.
package store
