-- +goose Up
-- Each roll of prepreg. Instants are unix milliseconds; used is the out-time of
-- the trips that have ended, out_since tells of one that has not.
CREATE TABLE rolls (
    id            TEXT PRIMARY KEY CHECK (id <> ''),
    position      INTEGER NOT NULL UNIQUE,
    kind          TEXT NOT NULL DEFAULT 'prepreg' CHECK (kind = 'prepreg'),
    prepreg       TEXT NOT NULL,
    lot           TEXT NOT NULL,
    received_m2   REAL NOT NULL CHECK (received_m2 >= 0),
    left_m2       REAL NOT NULL CHECK (left_m2 >= 0),
    here          INTEGER NOT NULL, -- in the shop from then on
    shelf         INTEGER NOT NULL, -- good until then at most
    limit_minutes INTEGER NOT NULL CHECK (limit_minutes >= 0), -- of out-time; 0 where none is stated
    thaw_minutes  INTEGER NOT NULL CHECK (thaw_minutes >= 0),
    used          INTEGER NOT NULL CHECK (used >= 0), -- milliseconds
    out_since     INTEGER, -- null while it is frozen
    hold          TEXT NOT NULL, -- why it is held; empty where it is not
    gone          INTEGER NOT NULL CHECK (gone IN (0, 1)),
    stated        TEXT NOT NULL, -- what a shop file said of it, until its first move
    moved         INTEGER NOT NULL,
    rev           INTEGER NOT NULL CHECK (rev > 0),
    FOREIGN KEY (kind, prepreg) REFERENCES things (kind, id)
) STRICT;
CREATE INDEX rolls_prepreg ON rolls (prepreg);

-- What happened to a roll, from the move that entered it on. m2 is what was
-- drawn, of the first what came; used is the out-time that it came with.
CREATE TABLE roll_moves (
    id     INTEGER PRIMARY KEY AUTOINCREMENT,
    roll   TEXT NOT NULL REFERENCES rolls (id),
    at     INTEGER NOT NULL,
    actor  TEXT NOT NULL,
    move   TEXT NOT NULL,
    place  TEXT NOT NULL, -- after it
    m2     REAL NOT NULL,
    used   INTEGER NOT NULL,
    remark TEXT NOT NULL
) STRICT;
CREATE INDEX roll_moves_of ON roll_moves (roll, id);

-- +goose StatementBegin
CREATE TRIGGER roll_moves_stay BEFORE UPDATE ON roll_moves
BEGIN SELECT RAISE(ABORT, 'moves are not changed'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER roll_moves_last BEFORE DELETE ON roll_moves
BEGIN SELECT RAISE(ABORT, 'moves are not cut'); END;
-- +goose StatementEnd
