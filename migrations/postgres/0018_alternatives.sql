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
CREATE TRIGGER paper_alternatives_no_change BEFORE UPDATE OR DELETE ON paper_alternatives FOR EACH ROW EXECUTE FUNCTION only_added_to();
CREATE TRIGGER paper_alternatives_no_truncate BEFORE TRUNCATE ON paper_alternatives FOR EACH STATEMENT EXECUTE FUNCTION only_added_to();

ALTER TABLE acceptances ADD COLUMN alternative TEXT NOT NULL DEFAULT '';

-- +goose Down
ALTER TABLE acceptances DROP COLUMN alternative;
DROP TABLE paper_alternatives;
DROP TABLE alternatives;
