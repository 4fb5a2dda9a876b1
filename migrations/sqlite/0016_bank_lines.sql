-- The line of a bank's file that a payment was entered from, so that no line is entered twice.

-- +goose Up
ALTER TABLE payments ADD COLUMN bank_key TEXT NOT NULL DEFAULT '';
CREATE UNIQUE INDEX payments_bank_key ON payments (bank_key) WHERE bank_key <> '';

-- +goose Down
DROP INDEX payments_bank_key;
ALTER TABLE payments DROP COLUMN bank_key;
