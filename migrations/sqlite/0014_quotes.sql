-- What a quote states beside its prices, of the business (job_id 0) and of jobs with terms of
-- their own; lines that are done only if the farmer says so; the figures of its terms that an
-- issued quote's invoice is worked out by.

-- +goose Up
CREATE TABLE terms (
  job_id BIGINT PRIMARY KEY NOT NULL,
  minimum_charge TEXT NOT NULL, guard_low_percent REAL NOT NULL, guard_high_percent REAL NOT NULL,
  standby_free_h REAL NOT NULL, standby_per_h TEXT NOT NULL, extra_per_h TEXT NOT NULL, deposit_percent TEXT NOT NULL,
  work_days REAL NOT NULL, supplies TEXT NOT NULL, access TEXT NOT NULL, weather TEXT NOT NULL, clean_down TEXT NOT NULL,
  newer_test TEXT NOT NULL, plants TEXT NOT NULL, estimate_rests_on TEXT NOT NULL, other TEXT NOT NULL
);

ALTER TABLE rates ADD COLUMN optional BOOLEAN NOT NULL DEFAULT FALSE;
ALTER TABLE paper_lines ADD COLUMN optional BOOLEAN NOT NULL DEFAULT FALSE;

ALTER TABLE papers ADD COLUMN terms_minimum TEXT NOT NULL DEFAULT '0';
ALTER TABLE papers ADD COLUMN terms_guard_low_percent REAL NOT NULL DEFAULT 0;
ALTER TABLE papers ADD COLUMN terms_guard_high_percent REAL NOT NULL DEFAULT 0;
ALTER TABLE papers ADD COLUMN terms_standby_free_h REAL NOT NULL DEFAULT 0;
ALTER TABLE papers ADD COLUMN terms_deposit_percent TEXT NOT NULL DEFAULT '0';
ALTER TABLE acceptances ADD COLUMN options TEXT NOT NULL DEFAULT '';

-- The seed that an issued quote's price rests on.
CREATE TABLE paper_lots (
  paper_id BIGINT NOT NULL REFERENCES papers (id), position BIGINT NOT NULL,
  lot_id BIGINT NOT NULL, code TEXT NOT NULL, tested_on TEXT NOT NULL, germination_percent REAL NOT NULL, grams BIGINT NOT NULL,
  PRIMARY KEY (paper_id, position)
);
-- +goose StatementBegin
CREATE TRIGGER paper_lots_no_update BEFORE UPDATE ON paper_lots BEGIN SELECT RAISE(ABORT, 'paper_lots: rows are only added'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER paper_lots_no_delete BEFORE DELETE ON paper_lots BEGIN SELECT RAISE(ABORT, 'paper_lots: rows are only added'); END;
-- +goose StatementEnd

-- The contractor's rate cards: lines that a job's rates may begin from.
CREATE TABLE rate_cards (
  id INTEGER PRIMARY KEY AUTOINCREMENT, name TEXT NOT NULL, note TEXT NOT NULL
);
CREATE UNIQUE INDEX rate_cards_name ON rate_cards (lower(name));

CREATE TABLE rate_card_lines (
  card_id BIGINT NOT NULL REFERENCES rate_cards (id), position BIGINT NOT NULL,
  description TEXT NOT NULL, unit TEXT NOT NULL, basis TEXT NOT NULL, quantity TEXT NOT NULL,
  unit_price TEXT NOT NULL, optional BOOLEAN NOT NULL,
  PRIMARY KEY (card_id, position)
);

-- +goose Down
DROP TABLE rate_card_lines;
DROP TABLE rate_cards;
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
