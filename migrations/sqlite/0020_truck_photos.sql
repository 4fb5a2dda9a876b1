-- The photos that came with notes from the truck, and the share that each lot of an
-- understorey gives of its species' rate; 0 throughout for equal shares.

-- +goose Up
CREATE TABLE photos (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  job_id BIGINT NOT NULL REFERENCES jobs (id),
  entry_key TEXT NOT NULL UNIQUE,
  media_type TEXT NOT NULL CHECK (media_type IN ('image/jpeg', 'image/png')),
  bytes BIGINT NOT NULL, sha256 TEXT NOT NULL, content BLOB NOT NULL,
  added_at DATETIME NOT NULL, who TEXT NOT NULL
);
CREATE INDEX photos_job ON photos (job_id);

ALTER TABLE understorey_lots ADD COLUMN share_percent REAL NOT NULL DEFAULT 0;

-- +goose Down
ALTER TABLE understorey_lots DROP COLUMN share_percent;
DROP TABLE photos;
