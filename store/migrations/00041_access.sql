-- Accounts, sessions and tokens: who may ask, and as what.

-- +goose Up
CREATE TABLE accounts (
    key         TEXT    PRIMARY KEY,              -- the name in lower case
    name        TEXT    NOT NULL,
    roles       TEXT    NOT NULL,                 -- a JSON list
    hash        TEXT    NOT NULL,                 -- of the password, as argon2id writes it
    password_at INTEGER NOT NULL,                 -- sessions from before are void
    disabled    INTEGER NOT NULL CHECK (disabled IN (0, 1)),
    made_at     INTEGER NOT NULL,
    rev         INTEGER NOT NULL CHECK (rev > 0)
) STRICT;

CREATE TABLE sessions (
    token   TEXT    PRIMARY KEY,                  -- hashed
    data    BLOB    NOT NULL,
    expires INTEGER NOT NULL
) STRICT;
CREATE INDEX sessions_expires ON sessions (expires);

CREATE TABLE tokens (
    id       TEXT    PRIMARY KEY,
    name     TEXT    NOT NULL UNIQUE,
    roles    TEXT    NOT NULL,                    -- a JSON list
    hash     TEXT    NOT NULL UNIQUE,
    ends_at  INTEGER NOT NULL,
    made_by  TEXT    NOT NULL,
    made_at  INTEGER NOT NULL
) STRICT;
