-- What farmers ask by their links, and every word said since: rows are only added. The sown
-- record that an invoice or an adjustment note rests on, as it stood when it was issued.

-- +goose Up
CREATE TABLE questions (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  job_id BIGINT NOT NULL REFERENCES jobs (id),
  row BIGINT NOT NULL CHECK (row >= 0), paper_id BIGINT NOT NULL, line BIGINT NOT NULL CHECK (line >= 0),
  CHECK (row = 0 OR paper_id = 0), CHECK (line = 0 OR paper_id <> 0)
);
CREATE INDEX questions_job ON questions (job_id);

CREATE TABLE words (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  question_id BIGINT NOT NULL REFERENCES questions (id),
  kind TEXT NOT NULL CHECK (kind IN ('asks', 'answers', 'closes')),
  text TEXT NOT NULL, name TEXT NOT NULL CHECK (name <> ''),
  said_at DATETIME NOT NULL, person_id BIGINT NOT NULL, address TEXT NOT NULL,
  CHECK (text <> '' OR kind = 'closes')
);
CREATE INDEX words_question ON words (question_id);

CREATE TABLE paper_sown (
  paper_id BIGINT PRIMARY KEY NOT NULL REFERENCES papers (id),
  sheet TEXT NOT NULL CHECK (sheet <> '')
);

-- +goose StatementBegin
CREATE TRIGGER questions_no_update BEFORE UPDATE ON questions BEGIN SELECT RAISE(ABORT, 'questions: rows are only added'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER questions_no_delete BEFORE DELETE ON questions BEGIN SELECT RAISE(ABORT, 'questions: rows are only added'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER words_no_update BEFORE UPDATE ON words BEGIN SELECT RAISE(ABORT, 'words: rows are only added'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER words_no_delete BEFORE DELETE ON words BEGIN SELECT RAISE(ABORT, 'words: rows are only added'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER paper_sown_no_update BEFORE UPDATE ON paper_sown BEGIN SELECT RAISE(ABORT, 'paper_sown: rows are only added'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER paper_sown_no_delete BEFORE DELETE ON paper_sown BEGIN SELECT RAISE(ABORT, 'paper_sown: rows are only added'); END;
-- +goose StatementEnd

-- +goose Down
DROP TABLE paper_sown;
DROP TABLE words;
DROP TABLE questions;
