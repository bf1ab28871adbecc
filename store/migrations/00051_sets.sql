-- +goose Up
-- What is stocked and shipped of a product is counted in sets; pieces are of a
-- section.
ALTER TABLE shipment_lines RENAME COLUMN pieces TO sets;
ALTER TABLE levels RENAME COLUMN pieces TO sets;
ALTER TABLE stock_moves RENAME COLUMN pieces TO sets;
