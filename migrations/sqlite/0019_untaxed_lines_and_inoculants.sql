-- Why a line is not taxed; what inoculants and the treatment of seed cost. Prices are decimal
-- text, without tax.

-- +goose Up
ALTER TABLE rates ADD COLUMN tax_reason TEXT NOT NULL DEFAULT '';
ALTER TABLE paper_lines ADD COLUMN tax_reason TEXT NOT NULL DEFAULT '';
ALTER TABLE adjusted_lines ADD COLUMN tax_reason TEXT NOT NULL DEFAULT '';
ALTER TABLE rate_card_lines ADD COLUMN tax_category TEXT NOT NULL DEFAULT 'S';
ALTER TABLE rate_card_lines ADD COLUMN tax_reason TEXT NOT NULL DEFAULT '';

ALTER TABLE lots ADD COLUMN treatment_per_kg TEXT NOT NULL DEFAULT '0';

CREATE TABLE inoculants (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  for_group TEXT NOT NULL UNIQUE, product TEXT NOT NULL,
  pack_g REAL NOT NULL CHECK (pack_g > 0), pack_price TEXT NOT NULL, keeps BOOLEAN NOT NULL
);

-- +goose Down
DROP TABLE inoculants;
ALTER TABLE lots DROP COLUMN treatment_per_kg;
ALTER TABLE rate_card_lines DROP COLUMN tax_reason;
ALTER TABLE rate_card_lines DROP COLUMN tax_category;
ALTER TABLE adjusted_lines DROP COLUMN tax_reason;
ALTER TABLE paper_lines DROP COLUMN tax_reason;
ALTER TABLE rates DROP COLUMN tax_reason;
