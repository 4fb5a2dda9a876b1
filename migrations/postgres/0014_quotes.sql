-- What a quote states beside its prices, of the business (job_id 0) and of jobs with terms of
-- their own; lines that are done only if the farmer says so; the figures of its terms that an
-- issued quote's invoice is worked out by.

-- +goose Up
CREATE TABLE terms (
  job_id BIGINT PRIMARY KEY NOT NULL,
  minimum_charge TEXT NOT NULL, guard_low_percent DOUBLE PRECISION NOT NULL, guard_high_percent DOUBLE PRECISION NOT NULL,
  standby_free_h DOUBLE PRECISION NOT NULL, standby_per_h TEXT NOT NULL, extra_per_h TEXT NOT NULL, deposit_percent TEXT NOT NULL,
  work_days DOUBLE PRECISION NOT NULL, supplies TEXT NOT NULL, access TEXT NOT NULL, weather TEXT NOT NULL, clean_down TEXT NOT NULL,
  newer_test TEXT NOT NULL, plants TEXT NOT NULL, estimate_rests_on TEXT NOT NULL, other TEXT NOT NULL
);

ALTER TABLE rates ADD COLUMN optional BOOLEAN NOT NULL DEFAULT FALSE;
ALTER TABLE paper_lines ADD COLUMN optional BOOLEAN NOT NULL DEFAULT FALSE;

ALTER TABLE papers ADD COLUMN terms_minimum TEXT NOT NULL DEFAULT '0';
ALTER TABLE papers ADD COLUMN terms_guard_low_percent DOUBLE PRECISION NOT NULL DEFAULT 0;
ALTER TABLE papers ADD COLUMN terms_guard_high_percent DOUBLE PRECISION NOT NULL DEFAULT 0;
ALTER TABLE papers ADD COLUMN terms_standby_free_h DOUBLE PRECISION NOT NULL DEFAULT 0;
ALTER TABLE papers ADD COLUMN terms_deposit_percent TEXT NOT NULL DEFAULT '0';
ALTER TABLE acceptances ADD COLUMN options TEXT NOT NULL DEFAULT '';

-- The seed that an issued quote's price rests on.
CREATE TABLE paper_lots (
  paper_id BIGINT NOT NULL REFERENCES papers (id), position BIGINT NOT NULL,
  lot_id BIGINT NOT NULL, code TEXT NOT NULL, tested_on TEXT NOT NULL, germination_percent DOUBLE PRECISION NOT NULL, grams BIGINT NOT NULL,
  PRIMARY KEY (paper_id, position)
);
CREATE TRIGGER paper_lots_no_change BEFORE UPDATE OR DELETE ON paper_lots FOR EACH ROW EXECUTE FUNCTION only_added_to();
CREATE TRIGGER paper_lots_no_truncate BEFORE TRUNCATE ON paper_lots FOR EACH STATEMENT EXECUTE FUNCTION only_added_to();

-- +goose Down
DROP TABLE paper_lots;
ALTER TABLE acceptances DROP COLUMN options;
ALTER TABLE papers DROP COLUMN terms_deposit_percent;
ALTER TABLE papers DROP COLUMN terms_standby_free_h;
ALTER TABLE papers DROP COLUMN terms_guard_high_percent;
ALTER TABLE papers DROP COLUMN terms_guard_low_percent;
ALTER TABLE papers DROP COLUMN terms_minimum;
ALTER TABLE paper_lines DROP COLUMN optional;
ALTER TABLE rates DROP COLUMN optional;
DROP TABLE terms;
