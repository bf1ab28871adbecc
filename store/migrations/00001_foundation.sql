-- +goose Up
-- The number tells a book from any other SQLite file: "bkwt" in ASCII.
PRAGMA application_id = 1651209076;

CREATE TABLE trail (
    id      INTEGER PRIMARY KEY AUTOINCREMENT,
    at      INTEGER NOT NULL, -- unix milliseconds
    actor   TEXT NOT NULL,
    request TEXT NOT NULL,
    kind    TEXT NOT NULL,
    ref     TEXT NOT NULL,
    what    TEXT NOT NULL,
    before  TEXT NOT NULL CHECK (json_valid(before)),
    after   TEXT NOT NULL CHECK (json_valid(after))
) STRICT;
CREATE INDEX trail_of ON trail (kind, ref, id);

-- +goose StatementBegin
CREATE TRIGGER trail_stays BEFORE UPDATE ON trail
BEGIN SELECT RAISE(ABORT, 'the trail is not changed'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER trail_lasts BEFORE DELETE ON trail
BEGIN SELECT RAISE(ABORT, 'the trail is not cut'); END;
-- +goose StatementEnd

-- What was answered to a request that bore a key, so that the same request
-- again gets the same answer and does nothing.
CREATE TABLE keys (
    actor   TEXT NOT NULL,
    key     TEXT NOT NULL,
    at      INTEGER NOT NULL,
    what    TEXT NOT NULL,
    request TEXT NOT NULL, -- digest of what was asked
    answer  TEXT NOT NULL CHECK (json_valid(answer)),
    PRIMARY KEY (actor, key)
) STRICT;
CREATE INDEX keys_at ON keys (at);
