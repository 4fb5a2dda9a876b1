-- A job may be offered in up to three alternatives before its yes: A is the job as it stands,
-- B and C hold what of layout, mix and rates is not as in A, as JSON ('' where it is). A quote
-- freezes them whole; the yes names one of them.

-- +goose Up
CREATE TABLE alternatives (
  job_id BIGINT NOT NULL REFERENCES jobs (id), letter TEXT NOT NULL CHECK (letter IN ('A', 'B', 'C')), name TEXT NOT NULL,
  layout TEXT NOT NULL, recipe TEXT NOT NULL, rates TEXT NOT NULL,
  PRIMARY KEY (job_id, letter)
);

CREATE TABLE paper_alternatives (
  paper_id BIGINT NOT NULL REFERENCES papers (id), letter TEXT NOT NULL CHECK (letter IN ('A', 'B', 'C')), frozen TEXT NOT NULL,
  PRIMARY KEY (paper_id, letter)
);
-- +goose StatementBegin
CREATE TRIGGER paper_alternatives_no_update BEFORE UPDATE ON paper_alternatives BEGIN SELECT RAISE(ABORT, 'paper_alternatives: rows are only added'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER paper_alternatives_no_delete BEFORE DELETE ON paper_alternatives BEGIN SELECT RAISE(ABORT, 'paper_alternatives: rows are only added'); END;
-- +goose StatementEnd

ALTER TABLE acceptances ADD COLUMN alternative TEXT NOT NULL DEFAULT '';

-- +goose Down
ALTER TABLE acceptances DROP COLUMN alternative;
DROP TABLE paper_alternatives;
DROP TABLE alternatives;
