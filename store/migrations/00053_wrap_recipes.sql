-- +goose Up
-- How the tape goes onto a section. The tape itself is the catalog's.
CREATE TABLE wrap_recipes (
    section   TEXT PRIMARY KEY CHECK (section <> ''),
    pitch_mm  REAL NOT NULL CHECK (pitch_mm > 0),
    tension_n REAL NOT NULL CHECK (tension_n > 0),
    passes    INTEGER NOT NULL CHECK (passes >= 1),
    rev       INTEGER NOT NULL CHECK (rev > 0)
) STRICT;
