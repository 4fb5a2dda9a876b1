-- Imagery that lies under the map on which boundaries are drawn: the address of its tiles,
-- whose it is, and the closest level that is served. Nothing is fetched while it is empty.

-- +goose Up
ALTER TABLE business ADD COLUMN tile_address TEXT NOT NULL DEFAULT '';
ALTER TABLE business ADD COLUMN tile_credit TEXT NOT NULL DEFAULT '';
ALTER TABLE business ADD COLUMN tile_closest BIGINT NOT NULL DEFAULT 0;

-- +goose Down
ALTER TABLE business DROP COLUMN tile_closest;
ALTER TABLE business DROP COLUMN tile_credit;
ALTER TABLE business DROP COLUMN tile_address;
