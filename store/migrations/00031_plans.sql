-- +goose Up
-- One row for each plan that was asked for, whatever came of it.
CREATE TABLE plans (
    id       INTEGER PRIMARY KEY AUTOINCREMENT,
    why      TEXT NOT NULL CHECK (why IN ('tick', 'request', 'quote')),
    state    TEXT NOT NULL CHECK (state IN ('running', 'proposal', 'in force', 'kept', 'failed')),
    actor    TEXT NOT NULL,
    asked_at INTEGER NOT NULL,
    ended_at INTEGER, -- null as long as it is being made
    failure  TEXT NOT NULL DEFAULT '',
    figures  TEXT NOT NULL DEFAULT '{}' CHECK (json_valid(figures)),
    CHECK ((state = 'running') = (ended_at IS NULL)),
    CHECK ((state = 'failed') = (failure <> ''))
) STRICT;
CREATE INDEX plans_state ON plans (state, id);
CREATE UNIQUE INDEX plans_in_force ON plans (state) WHERE state = 'in force';

-- What a plan consists of, each text compressed by gzip.
CREATE TABLE plan_files (
    plan   INTEGER PRIMARY KEY REFERENCES plans (id),
    shop   BLOB NOT NULL,
    file   BLOB NOT NULL,
    report BLOB NOT NULL
) STRICT;
