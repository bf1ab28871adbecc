-- +goose Up
CREATE TABLE dealers (
    id       TEXT PRIMARY KEY CHECK (id <> ''),
    name     TEXT NOT NULL,
    weight   REAL NOT NULL CHECK (weight >= 0),
    complete INTEGER NOT NULL CHECK (complete IN (0, 1)),
    note     TEXT NOT NULL,
    rev      INTEGER NOT NULL CHECK (rev > 0)
) STRICT;

CREATE TABLE orders (
    seq       INTEGER PRIMARY KEY AUTOINCREMENT,
    id        TEXT NOT NULL UNIQUE CHECK (id <> ''),
    dealer    TEXT REFERENCES dealers (id), -- none: from a shop file, which names none
    reference TEXT NOT NULL,
    complete  INTEGER NOT NULL CHECK (complete IN (0, 1)),
    note      TEXT NOT NULL,
    entered   INTEGER NOT NULL,
    rev       INTEGER NOT NULL CHECK (rev > 0)
) STRICT;
CREATE INDEX orders_dealer ON orders (dealer);

CREATE TABLE claims (
    seq     INTEGER PRIMARY KEY AUTOINCREMENT,
    id      TEXT NOT NULL UNIQUE CHECK (id <> ''),
    product TEXT NOT NULL,
    sold    TEXT NOT NULL,
    failed  TEXT NOT NULL CHECK (failed >= sold),
    reason  TEXT NOT NULL,
    note    TEXT NOT NULL,
    entered INTEGER NOT NULL
) STRICT;
CREATE INDEX claims_product ON claims (product);

-- One row of demand, open until all of it is shipped or cancelled.
CREATE TABLE lines (
    seq       INTEGER PRIMARY KEY AUTOINCREMENT,
    id        TEXT NOT NULL UNIQUE CHECK (id <> ''),
    kind      TEXT NOT NULL CHECK (kind IN ('order', 'restock')),
    order_id  TEXT REFERENCES orders (id),
    claim     TEXT REFERENCES claims (id),
    level     INTEGER NOT NULL CHECK (level IN (0, 1)), -- follows from a stock level
    product   TEXT NOT NULL,
    quantity  INTEGER NOT NULL CHECK (quantity >= 1),
    shipped   INTEGER NOT NULL CHECK (shipped >= 0),
    cancelled INTEGER NOT NULL CHECK (cancelled >= 0 AND shipped + cancelled <= quantity),
    due       TEXT NOT NULL,
    weight    REAL NOT NULL CHECK (weight >= 0),
    promised  TEXT,
    complete  INTEGER NOT NULL CHECK (complete IN (0, 1)),
    rev       INTEGER NOT NULL CHECK (rev > 0)
) STRICT;
CREATE INDEX lines_order ON lines (order_id);
CREATE INDEX lines_open ON lines (product) WHERE shipped + cancelled < quantity;
CREATE INDEX lines_due ON lines (due, seq);

CREATE TABLE shipments (
    id    INTEGER PRIMARY KEY AUTOINCREMENT,
    at    INTEGER NOT NULL,
    actor TEXT NOT NULL,
    note  TEXT NOT NULL
) STRICT;
CREATE TABLE shipment_lines (
    shipment INTEGER NOT NULL REFERENCES shipments (id),
    line     TEXT NOT NULL REFERENCES lines (id),
    pieces   INTEGER NOT NULL CHECK (pieces >= 1),
    PRIMARY KEY (shipment, line)
) STRICT;
CREATE INDEX shipment_lines_line ON shipment_lines (line);

-- Sets that should lie on the shelf when every other line is served.
CREATE TABLE levels (
    product TEXT PRIMARY KEY,
    pieces  INTEGER NOT NULL CHECK (pieces >= 0),
    days    INTEGER NOT NULL CHECK (days >= 0),
    weight  REAL NOT NULL CHECK (weight >= 0),
    rev     INTEGER NOT NULL CHECK (rev > 0)
) STRICT;

-- Stock on hand is what a product's moves sum up to. None is changed or taken
-- back; a mistake is one more move.
CREATE TABLE stock_moves (
    id      INTEGER PRIMARY KEY AUTOINCREMENT,
    at      INTEGER NOT NULL,
    actor   TEXT NOT NULL,
    product TEXT NOT NULL,
    pieces  INTEGER NOT NULL CHECK (pieces <> 0),
    why     TEXT NOT NULL,
    ref     TEXT NOT NULL,
    note    TEXT NOT NULL
) STRICT;
CREATE INDEX stock_moves_product ON stock_moves (product, pieces);
-- +goose StatementBegin
CREATE TRIGGER stock_moves_stay BEFORE UPDATE ON stock_moves
BEGIN SELECT RAISE(ABORT, 'a stock move is not changed'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER stock_moves_last BEFORE DELETE ON stock_moves
BEGIN SELECT RAISE(ABORT, 'a stock move is not removed'); END;
-- +goose StatementEnd
