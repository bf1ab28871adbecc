-- +goose Up
-- One row at most: when the daily tick is due.
CREATE TABLE tick_settings (
    id           INTEGER PRIMARY KEY CHECK (id = 1),
    is_on        INTEGER NOT NULL CHECK (is_on IN (0, 1)),
    at           TEXT NOT NULL, -- the shop's own clock, HH:MM
    release_days INTEGER NOT NULL CHECK (release_days BETWEEN 0 AND 30),
    since        INTEGER NOT NULL,
    rev          INTEGER NOT NULL CHECK (rev > 0)
) STRICT;

-- One row for each due time that was taken up, so that none is twice.
CREATE TABLE ticks (
    due      INTEGER PRIMARY KEY,
    state    TEXT NOT NULL CHECK (state IN ('running', 'done', 'failed')),
    begun_at INTEGER NOT NULL, -- the last time
    tries    INTEGER NOT NULL CHECK (tries > 0),
    ended_at INTEGER,
    plan     INTEGER REFERENCES plans (id),
    failure  TEXT NOT NULL DEFAULT ''
) STRICT;
