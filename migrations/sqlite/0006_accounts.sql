-- Adjustment notes: which invoice they correct and why, and each line as it stood beside the
-- line as it stands. Payments and where their money was placed; amounts are whole cents,
-- negative where money goes back. What was paid too much stays unplaced.

-- +goose Up
ALTER TABLE papers ADD COLUMN answers_number TEXT NOT NULL DEFAULT '';
ALTER TABLE papers ADD COLUMN answers_on TEXT NOT NULL DEFAULT '';
ALTER TABLE papers ADD COLUMN reason TEXT NOT NULL DEFAULT '';

CREATE TABLE adjusted_lines (
  paper_id BIGINT NOT NULL REFERENCES papers (id), position BIGINT NOT NULL,
  description TEXT NOT NULL, unit TEXT NOT NULL, basis TEXT NOT NULL,
  tax_category TEXT NOT NULL, tax_percent TEXT NOT NULL,
  was_quantity TEXT NOT NULL, was_unit_price TEXT NOT NULL, was_net BIGINT NOT NULL,
  quantity TEXT NOT NULL, unit_price TEXT NOT NULL, net BIGINT NOT NULL,
  PRIMARY KEY (paper_id, position)
);

CREATE TABLE payments (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  farm_id BIGINT NOT NULL REFERENCES farms (id),
  kind TEXT NOT NULL CHECK (kind IN ('payment', 'reversal', 'refund')),
  paid_on TEXT NOT NULL, amount BIGINT NOT NULL CHECK (amount <> 0),
  way TEXT NOT NULL, reference TEXT NOT NULL, note TEXT NOT NULL,
  reverses_id BIGINT NOT NULL, entered_at DATETIME NOT NULL,
  person_id BIGINT NOT NULL REFERENCES people (id), who TEXT NOT NULL
);
CREATE INDEX payments_farm ON payments (farm_id);
CREATE UNIQUE INDEX payments_reversed ON payments (reverses_id) WHERE kind = 'reversal';

CREATE TABLE placings (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  payment_id BIGINT NOT NULL REFERENCES payments (id), paper_id BIGINT NOT NULL REFERENCES papers (id),
  amount BIGINT NOT NULL CHECK (amount <> 0), placed_by TEXT NOT NULL, placed_at DATETIME NOT NULL
);
CREATE INDEX placings_payment ON placings (payment_id);
CREATE INDEX placings_paper ON placings (paper_id);

-- +goose StatementBegin
CREATE TRIGGER adjusted_lines_no_update BEFORE UPDATE ON adjusted_lines BEGIN SELECT RAISE(ABORT, 'adjusted_lines: rows are only added'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER adjusted_lines_no_delete BEFORE DELETE ON adjusted_lines BEGIN SELECT RAISE(ABORT, 'adjusted_lines: rows are only added'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER payments_no_update BEFORE UPDATE ON payments BEGIN SELECT RAISE(ABORT, 'payments: rows are only added'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER payments_no_delete BEFORE DELETE ON payments BEGIN SELECT RAISE(ABORT, 'payments: rows are only added'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER placings_no_update BEFORE UPDATE ON placings BEGIN SELECT RAISE(ABORT, 'placings: rows are only added'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER placings_no_delete BEFORE DELETE ON placings BEGIN SELECT RAISE(ABORT, 'placings: rows are only added'); END;
-- +goose StatementEnd

-- +goose Down
DROP TABLE placings;
DROP TABLE payments;
DROP TABLE adjusted_lines;
ALTER TABLE papers DROP COLUMN reason;
ALTER TABLE papers DROP COLUMN answers_on;
ALTER TABLE papers DROP COLUMN answers_number;
