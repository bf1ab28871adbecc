-- +goose Up
-- Everything that the shop consists of, each in the form in which a shop file
-- states it. position is its place in the file's list.
CREATE TABLE things (
    kind     TEXT NOT NULL,
    id       TEXT NOT NULL CHECK (id <> ''),
    position INTEGER NOT NULL,
    rev      INTEGER NOT NULL CHECK (rev > 0),
    body     TEXT NOT NULL CHECK (json_valid(body)),
    PRIMARY KEY (kind, id)
) STRICT;
CREATE UNIQUE INDEX things_order ON things (kind, position);

-- The file that the books began with: the now that it states, and its entry
-- on the trail.
CREATE TABLE imports (
    id    INTEGER PRIMARY KEY CHECK (id = 1),
    now   TEXT NOT NULL,
    trail INTEGER NOT NULL REFERENCES trail (id)
) STRICT;
