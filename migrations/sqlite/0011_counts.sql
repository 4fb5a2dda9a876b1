-- Emergence counts. A plan is where a job's placements are counted, as it was drawn; a count
-- is what was found there. Neither is changed: another plan is drawn, and a mistaken count is
-- withdrawn with its reason. A recipe says from which counts its share of live seeds came.

-- +goose Up
CREATE TABLE count_plans (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  job_id BIGINT NOT NULL REFERENCES jobs (id),
  made_at DATETIME NOT NULL, person_id BIGINT NOT NULL REFERENCES people (id),
  per_stretch BIGINT NOT NULL CHECK (per_stretch > 0), spacing_m REAL NOT NULL, bearing_deg REAL NOT NULL,
  share_percent REAL NOT NULL, within_percent REAL NOT NULL, rho REAL NOT NULL,
  number BIGINT NOT NULL,
  places TEXT NOT NULL
);
CREATE INDEX count_plans_job ON count_plans (job_id);

CREATE TABLE counts (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  job_id BIGINT NOT NULL REFERENCES jobs (id), plan_id BIGINT NOT NULL REFERENCES count_plans (id),
  kind TEXT NOT NULL CHECK (kind IN ('first', 'autumn')),
  counted_on TEXT NOT NULL, counted_by TEXT NOT NULL,
  kept_at DATETIME NOT NULL, person_id BIGINT NOT NULL REFERENCES people (id),
  stretches TEXT NOT NULL, seen TEXT NOT NULL,
  volunteers TEXT NOT NULL, note TEXT NOT NULL,
  withdrawn_on TEXT NOT NULL, withdrawn_why TEXT NOT NULL,
  CHECK ((withdrawn_on = '') = (withdrawn_why = ''))
);
CREATE INDEX counts_job ON counts (job_id);

-- +goose StatementBegin
CREATE TRIGGER count_plans_no_update BEFORE UPDATE ON count_plans BEGIN SELECT RAISE(ABORT, 'count_plans: rows are only added'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER count_plans_no_delete BEFORE DELETE ON count_plans BEGIN SELECT RAISE(ABORT, 'count_plans: rows are only added'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER counts_no_delete BEFORE DELETE ON counts BEGIN SELECT RAISE(ABORT, 'counts: rows are only added'); END;
-- +goose StatementEnd

ALTER TABLE recipe_species ADD COLUMN emergence_from TEXT NOT NULL DEFAULT '';

-- +goose Down
ALTER TABLE recipe_species DROP COLUMN emergence_from;
DROP TABLE counts;
DROP TABLE count_plans;
