// Package web serves the pages and prints of the shop's books: the planner's
// next working day, the sales' lines, the mandrel crib, the stations, the
// catalog, the history, and what is printed for the floor.
//
// A page is one typed struct with its template and its Render; the handler
// beside it asks a small interface of its own for what the page shows. Pages
// are whole without script: every form posts and is answered by a redirect, or
// by the same page with the problem at its field. Script adds what is nicer.
// Nothing inline is written that the content policy would refuse.
//
// It decides nothing about the shop: store and runs do, and refuse what cannot
// be. Package api mounts it; rest and web never import each other.
package web
