-- The rate of the tax from a day on; whether prices include it; invoices for a part of a job
-- (deposits and progress claims), and the lines that take off what an earlier one billed.

-- +goose Up
ALTER TABLE business ADD COLUMN prices_include BOOLEAN NOT NULL DEFAULT FALSE;
ALTER TABLE papers ADD COLUMN inclusive BOOLEAN NOT NULL DEFAULT FALSE;
ALTER TABLE papers ADD COLUMN part TEXT NOT NULL DEFAULT '' CHECK (part IN ('', 'deposit', 'progress claim'));
ALTER TABLE paper_lines ADD COLUMN less_id BIGINT NOT NULL DEFAULT 0;

CREATE TABLE tax_rates (
  from_on TEXT PRIMARY KEY NOT NULL, percent TEXT NOT NULL, note TEXT NOT NULL
);

-- +goose Down
DROP TABLE tax_rates;
ALTER TABLE paper_lines DROP COLUMN less_id;
ALTER TABLE papers DROP COLUMN part;
ALTER TABLE papers DROP COLUMN inclusive;
ALTER TABLE business DROP COLUMN prices_include;
