-- +goose Up
-- What was released at once of a plan; without a plan, work that a shop file
-- brought along.
CREATE TABLE releases (
    id     INTEGER PRIMARY KEY AUTOINCREMENT,
    plan   INTEGER REFERENCES plans (id),
    until  INTEGER NOT NULL, -- unix milliseconds, as all instants here
    at     INTEGER NOT NULL,
    actor  TEXT NOT NULL,
    undone INTEGER -- when; null while it stands
) STRICT;

-- A released load: as it was planned, and what was reported of it. An id is
-- never used again.
CREATE TABLE released_loads (
    id         TEXT PRIMARY KEY CHECK (id <> ''),
    release    INTEGER NOT NULL REFERENCES releases (id),
    planned_as TEXT NOT NULL, -- its id in the plan
    body       TEXT NOT NULL CHECK (json_valid(body)),
    in_at      INTEGER,
    out_at     INTEGER,
    finished   INTEGER, -- when the last of its work was done; null before
    undone     INTEGER NOT NULL CHECK (undone IN (0, 1))
) STRICT;
CREATE INDEX released_loads_release ON released_loads (release);
CREATE INDEX released_loads_open ON released_loads (finished) WHERE undone = 0;

-- Its tasks, likewise.
CREATE TABLE released_tasks (
    id       INTEGER PRIMARY KEY AUTOINCREMENT,
    load     TEXT NOT NULL REFERENCES released_loads (id),
    section  TEXT NOT NULL,
    stage    TEXT NOT NULL,
    prepreg  TEXT NOT NULL, -- of cut tasks; empty of others
    position INTEGER NOT NULL,
    pieces   INTEGER NOT NULL CHECK (pieces >= 0),
    setup    INTEGER NOT NULL CHECK (setup IN (0, 1)),
    starts   INTEGER NOT NULL,
    ends     INTEGER NOT NULL CHECK (ends >= starts),
    begun    INTEGER,
    done     INTEGER CHECK (done IS NULL OR begun IS NOT NULL),
    good     INTEGER NOT NULL CHECK (good >= 0),
    scrapped INTEGER NOT NULL CHECK (scrapped >= 0),
    dead     INTEGER NOT NULL CHECK (dead >= 0), -- at pull: pieces scrapped before, on their mandrels
    lasts    INTEGER -- of a begun cut: until when what it drew is good
) STRICT;
CREATE INDEX released_tasks_load ON released_tasks (load);
CREATE INDEX released_tasks_place ON released_tasks (stage, position, begun);

-- What the floor reported, in the order in which it was entered. A report is
-- corrected by another one.
CREATE TABLE reports (
    id        INTEGER PRIMARY KEY AUTOINCREMENT,
    what      TEXT NOT NULL CHECK (what IN ('begun', 'done', 'in', 'out', 'corrected')),
    load      TEXT NOT NULL REFERENCES released_loads (id),
    task      INTEGER REFERENCES released_tasks (id), -- null of a load's own
    corrects  INTEGER REFERENCES reports (id),
    at        INTEGER NOT NULL,
    good      INTEGER NOT NULL CHECK (good >= 0),
    dead      INTEGER NOT NULL CHECK (dead >= 0),
    withdrawn INTEGER NOT NULL CHECK (withdrawn IN (0, 1)),
    reason    TEXT NOT NULL, -- of a correction
    entered   INTEGER NOT NULL,
    actor     TEXT NOT NULL,
    CHECK ((what = 'corrected') = (corrects IS NOT NULL))
) STRICT;
CREATE INDEX reports_load ON reports (load, id);
CREATE INDEX reports_corrects ON reports (corrects) WHERE corrects IS NOT NULL;

CREATE TABLE report_scrap (
    report INTEGER NOT NULL REFERENCES reports (id),
    reason TEXT NOT NULL,
    pieces INTEGER NOT NULL CHECK (pieces > 0),
    PRIMARY KEY (report, reason)
) STRICT;

-- What a cut task drew from which roll.
CREATE TABLE task_draws (
    task INTEGER NOT NULL REFERENCES released_tasks (id),
    roll TEXT NOT NULL,
    m2   REAL NOT NULL,
    PRIMARY KEY (task, roll)
) STRICT;

-- Good pieces that make no set yet are what the moves of their section sum up to.
CREATE TABLE piece_moves (
    id      INTEGER PRIMARY KEY AUTOINCREMENT,
    section TEXT NOT NULL,
    pieces  INTEGER NOT NULL CHECK (pieces <> 0),
    why     TEXT NOT NULL CHECK (why IN ('trimmed', 'corrected', 'came', 'set', 'parted')),
    task    INTEGER REFERENCES released_tasks (id),
    at      INTEGER NOT NULL,
    actor   TEXT NOT NULL
) STRICT;
CREATE INDEX piece_moves_section ON piece_moves (section);

-- +goose StatementBegin
CREATE TRIGGER reports_stay BEFORE UPDATE ON reports
BEGIN SELECT RAISE(ABORT, 'a report is not changed'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER reports_last BEFORE DELETE ON reports
BEGIN SELECT RAISE(ABORT, 'a report is not removed'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER piece_moves_stay BEFORE UPDATE ON piece_moves
BEGIN SELECT RAISE(ABORT, 'a move of pieces is not changed'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER piece_moves_last BEFORE DELETE ON piece_moves
BEGIN SELECT RAISE(ABORT, 'a move of pieces is not removed'); END;
-- +goose StatementEnd
