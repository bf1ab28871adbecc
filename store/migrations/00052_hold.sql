-- +goose Up
-- Why nobody works on a line for now; none: it is not held back.
ALTER TABLE lines ADD COLUMN held TEXT CHECK (held <> '');
-- The date from which on it is planned again; none: until somebody lifts it.
ALTER TABLE lines ADD COLUMN held_until TEXT CHECK (held_until IS NULL OR held IS NOT NULL);
CREATE INDEX lines_held ON lines (product) WHERE held IS NOT NULL;
