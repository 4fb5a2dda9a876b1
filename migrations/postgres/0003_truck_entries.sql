-- What was entered at the truck, as it came in: the phone's time and the office's, what was
-- said, and what became of it. A key is there once.

-- +goose Up
CREATE TABLE truck_entries (
  key TEXT PRIMARY KEY NOT NULL,
  kind TEXT NOT NULL, job_id BIGINT NOT NULL, person_id BIGINT NOT NULL REFERENCES people (id),
  phone_at TIMESTAMPTZ NOT NULL, office_at TIMESTAMPTZ NOT NULL,
  payload TEXT NOT NULL, outcome TEXT NOT NULL, answer BIGINT NOT NULL, undone_at TIMESTAMPTZ
);
CREATE INDEX truck_entries_job ON truck_entries (job_id, office_at);

-- +goose Down
DROP TABLE truck_entries;
