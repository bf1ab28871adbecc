-- +goose Up
-- What needs eyes. gone_at is null as long as it does.
CREATE TABLE notices (
    id        INTEGER PRIMARY KEY AUTOINCREMENT,
    kind      TEXT NOT NULL,
    subject   TEXT NOT NULL,
    text      TEXT NOT NULL,
    plan      INTEGER REFERENCES plans (id),
    raised_at INTEGER NOT NULL,
    seen_at   INTEGER,
    seen_by   TEXT NOT NULL DEFAULT '',
    gone_at   INTEGER
) STRICT;
CREATE UNIQUE INDEX notices_open ON notices (kind, subject) WHERE gone_at IS NULL;
