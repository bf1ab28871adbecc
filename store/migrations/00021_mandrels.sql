-- +goose Up
-- Each mandrel is in one place. kind is there so that its type is one of the
-- things; stated is what a shop file said of it, kept until its first move.
CREATE TABLE mandrels (
    id               TEXT PRIMARY KEY CHECK (id <> ''),
    position         INTEGER NOT NULL UNIQUE,
    kind             TEXT NOT NULL DEFAULT 'mandrel_type' CHECK (kind = 'mandrel_type'),
    type             TEXT NOT NULL,
    place            TEXT NOT NULL CHECK (place IN ('crib', 'issued', 'cleaning', 'recoating', 'inspection',
                                                    'quarantine', 'regrind', 'scrapped')),
    load             TEXT NOT NULL CHECK (load = '' OR place = 'issued'),
    back             INTEGER, -- unix milliseconds, when it is to be in the crib again
    stated           TEXT NOT NULL,
    cycles           INTEGER NOT NULL CHECK (cycles >= 0),
    since_recoat     INTEGER NOT NULL CHECK (since_recoat BETWEEN 0 AND cycles),
    since_inspection INTEGER NOT NULL CHECK (since_inspection BETWEEN 0 AND cycles),
    moved            INTEGER NOT NULL, -- unix milliseconds
    rev              INTEGER NOT NULL CHECK (rev > 0),
    FOREIGN KEY (kind, type) REFERENCES things (kind, id)
) STRICT;
CREATE INDEX mandrels_type ON mandrels (type, place);
CREATE INDEX mandrels_load ON mandrels (load) WHERE load <> '';

-- What a mandrel went through, from the move that entered it on. cycles is what
-- the move adds to the mandrel's count, load what it was issued to or came from.
CREATE TABLE mandrel_moves (
    id      INTEGER PRIMARY KEY AUTOINCREMENT,
    mandrel TEXT NOT NULL REFERENCES mandrels (id),
    at      INTEGER NOT NULL,
    actor   TEXT NOT NULL,
    move    TEXT NOT NULL,
    origin  TEXT NOT NULL,
    place   TEXT NOT NULL,
    load    TEXT NOT NULL,
    back    INTEGER,
    cycles  INTEGER NOT NULL,
    remark  TEXT NOT NULL
) STRICT;
CREATE INDEX mandrel_moves_of ON mandrel_moves (mandrel, id);
CREATE INDEX mandrel_moves_load ON mandrel_moves (load) WHERE load <> '';

-- The cycles after which mandrels of a type are due; 0 sets none.
CREATE TABLE mandrel_limits (
    kind       TEXT NOT NULL DEFAULT 'mandrel_type' CHECK (kind = 'mandrel_type'),
    type       TEXT PRIMARY KEY,
    recoat     INTEGER NOT NULL CHECK (recoat >= 0),
    inspection INTEGER NOT NULL CHECK (inspection >= 0),
    rev        INTEGER NOT NULL CHECK (rev > 0),
    FOREIGN KEY (kind, type) REFERENCES things (kind, id) ON DELETE CASCADE
) STRICT;

-- +goose StatementBegin
CREATE TRIGGER mandrel_moves_stay BEFORE UPDATE ON mandrel_moves
BEGIN SELECT RAISE(ABORT, 'moves are not changed'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER mandrel_moves_last BEFORE DELETE ON mandrel_moves
BEGIN SELECT RAISE(ABORT, 'moves are not cut'); END;
-- +goose StatementEnd
