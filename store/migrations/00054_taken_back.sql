-- +goose Up
-- A shipment that was entered by mistake is taken back: it stays, and says why.
ALTER TABLE shipments ADD COLUMN taken_back INTEGER; -- unix milliseconds; none: it stands
ALTER TABLE shipments ADD COLUMN taken_back_by TEXT NOT NULL DEFAULT '';
ALTER TABLE shipments ADD COLUMN taken_back_why TEXT NOT NULL DEFAULT '' CHECK (taken_back IS NULL OR taken_back_why <> '');

-- What never moved may be taken out of the books, and its entry with it.
DROP TRIGGER mandrel_moves_last;
-- +goose StatementBegin
CREATE TRIGGER mandrel_moves_last BEFORE DELETE ON mandrel_moves
WHEN EXISTS (SELECT 1 FROM mandrel_moves WHERE mandrel = OLD.mandrel AND move NOT IN ('entered', 'corrected'))
BEGIN SELECT RAISE(ABORT, 'moves are not cut'); END;
-- +goose StatementEnd
DROP TRIGGER roll_moves_last;
-- +goose StatementBegin
CREATE TRIGGER roll_moves_last BEFORE DELETE ON roll_moves
WHEN EXISTS (SELECT 1 FROM roll_moves WHERE roll = OLD.roll AND move NOT IN ('entered', 'corrected'))
BEGIN SELECT RAISE(ABORT, 'moves are not cut'); END;
-- +goose StatementEnd
