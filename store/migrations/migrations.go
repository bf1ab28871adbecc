// Package migrations holds the numbered changes that make the books' schema.
// A file is never changed once it is released; the next one has the next free
// number. It knows nothing of what the tables mean; store alone imports it.
package migrations

import "embed"

// Files are the changes, named NNNNN_what.sql.
//
//go:embed *.sql
var Files embed.FS
