-- Where the first row stands and from which side rows are driven, passes round the headland,
-- clearances that single edges and no-go areas ask for, and the rate of the work.

-- +goose Up
ALTER TABLE layouts ADD COLUMN phase TEXT NOT NULL DEFAULT '';
ALTER TABLE layouts ADD COLUMN phase_m DOUBLE PRECISION NOT NULL DEFAULT 0;
ALTER TABLE layouts ADD COLUMN from_right BOOLEAN NOT NULL DEFAULT FALSE;
ALTER TABLE layouts ADD COLUMN headland_passes BIGINT NOT NULL DEFAULT 0;
ALTER TABLE layouts ADD COLUMN count_headlands BOOLEAN NOT NULL DEFAULT FALSE;
ALTER TABLE layouts ADD COLUMN edges TEXT NOT NULL DEFAULT '';
ALTER TABLE layouts ADD COLUMN no_go_margins TEXT NOT NULL DEFAULT '';
ALTER TABLE layouts ADD COLUMN speed_kmh DOUBLE PRECISION NOT NULL DEFAULT 0;
ALTER TABLE layouts ADD COLUMN turn_s DOUBLE PRECISION NOT NULL DEFAULT 0;
ALTER TABLE layouts ADD COLUMN other_efficiency_percent DOUBLE PRECISION NOT NULL DEFAULT 0;

-- +goose Down
ALTER TABLE layouts DROP COLUMN other_efficiency_percent;
ALTER TABLE layouts DROP COLUMN turn_s;
ALTER TABLE layouts DROP COLUMN speed_kmh;
ALTER TABLE layouts DROP COLUMN no_go_margins;
ALTER TABLE layouts DROP COLUMN edges;
ALTER TABLE layouts DROP COLUMN count_headlands;
ALTER TABLE layouts DROP COLUMN headland_passes;
ALTER TABLE layouts DROP COLUMN from_right;
ALTER TABLE layouts DROP COLUMN phase_m;
ALTER TABLE layouts DROP COLUMN phase;
