-- What a sown record says of itself, and what tells the row-km beside the log: the placement
-- counter of a day sheet. How logs are matched is a setting, of the business (job_id 0) or
-- of one job.

-- +goose Up
ALTER TABLE sown ADD COLUMN sown_by TEXT NOT NULL DEFAULT '';
ALTER TABLE sown ADD COLUMN refused BIGINT NOT NULL DEFAULT 0;
ALTER TABLE sown ADD COLUMN uncertainty_m REAL NOT NULL DEFAULT 0;
ALTER TABLE sown ADD COLUMN bridged_m REAL NOT NULL DEFAULT 0;
ALTER TABLE sown ADD COLUMN past_ends_m REAL NOT NULL DEFAULT 0;
ALTER TABLE sown ADD COLUMN curved_m REAL NOT NULL DEFAULT 0;
ALTER TABLE sown ADD COLUMN track_m REAL NOT NULL DEFAULT 0;
ALTER TABLE sown ADD COLUMN track_rows_m REAL NOT NULL DEFAULT 0;
ALTER TABLE sown ADD COLUMN scatter_m REAL NOT NULL DEFAULT 0;
ALTER TABLE logs ADD COLUMN behind_m REAL NOT NULL DEFAULT 0;
ALTER TABLE day_sheets ADD COLUMN placements BIGINT NOT NULL DEFAULT 0;

CREATE TABLE measurings (
  job_id BIGINT PRIMARY KEY NOT NULL,
  cross_track_m REAL NOT NULL, heading_deg REAL NOT NULL, least_pass_m REAL NOT NULL, bridge_m REAL NOT NULL,
  speed_min_kmh REAL NOT NULL, speed_max_kmh REAL NOT NULL, flag_lag_s REAL NOT NULL,
  hold_fixes BIGINT NOT NULL, hold_m REAL NOT NULL,
  spacing_m REAL NOT NULL, spacing_err_percent REAL NOT NULL, counter_err_percent REAL NOT NULL,
  mix_err_percent REAL NOT NULL, rate_err_percent REAL NOT NULL
);

-- +goose Down
DROP TABLE measurings;
ALTER TABLE day_sheets DROP COLUMN placements;
ALTER TABLE logs DROP COLUMN behind_m;
ALTER TABLE sown DROP COLUMN scatter_m;
ALTER TABLE sown DROP COLUMN track_rows_m;
ALTER TABLE sown DROP COLUMN track_m;
ALTER TABLE sown DROP COLUMN curved_m;
ALTER TABLE sown DROP COLUMN past_ends_m;
ALTER TABLE sown DROP COLUMN bridged_m;
ALTER TABLE sown DROP COLUMN uncertainty_m;
ALTER TABLE sown DROP COLUMN refused;
ALTER TABLE sown DROP COLUMN sown_by;
