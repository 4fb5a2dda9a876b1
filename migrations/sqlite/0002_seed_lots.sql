-- What a lot's certificate, label and store say beyond the first tables: harvest, permit,
-- the three parts of purity, where it lay and how, its papers, and the lots that it came
-- from. Tests tell their kind; a recipe tells by which live seed it is mixed, and under
-- which limits its lots were chosen.

-- +goose Up
ALTER TABLE lots ADD COLUMN harvest TEXT NOT NULL DEFAULT '';
ALTER TABLE lots ADD COLUMN permit TEXT NOT NULL DEFAULT '';
ALTER TABLE lots ADD COLUMN inert_percent REAL;
ALTER TABLE lots ADD COLUMN other_seed_percent REAL;
ALTER TABLE lots ADD COLUMN treated_on TEXT NOT NULL DEFAULT '';

ALTER TABLE tests ADD COLUMN kind TEXT NOT NULL DEFAULT 'germination' CHECK (kind IN ('germination', 'tetrazolium', 'cut test'));
ALTER TABLE tests ADD COLUMN certificate TEXT NOT NULL DEFAULT '' CHECK (certificate IN ('', 'lot', 'sample'));
ALTER TABLE tests ADD COLUMN copied_from BIGINT NOT NULL DEFAULT 0;

CREATE TABLE storage_conditions (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  lot_id BIGINT NOT NULL REFERENCES lots (id),
  since TEXT NOT NULL, place TEXT NOT NULL, moisture_percent REAL, temperature_c REAL, note TEXT NOT NULL
);
CREATE UNIQUE INDEX storage_conditions_lot ON storage_conditions (lot_id, since);

CREATE TABLE species_retests (
  species TEXT PRIMARY KEY NOT NULL, months BIGINT NOT NULL CHECK (months > 0)
);

CREATE TABLE lot_documents (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  lot_id BIGINT NOT NULL REFERENCES lots (id),
  title TEXT NOT NULL, name TEXT NOT NULL,
  media_type TEXT NOT NULL CHECK (media_type IN ('application/pdf', 'image/jpeg', 'image/png')),
  bytes BIGINT NOT NULL, sha256 TEXT NOT NULL, content BLOB NOT NULL,
  added_at DATETIME NOT NULL, who TEXT NOT NULL,
  UNIQUE (lot_id, sha256)
);

CREATE TABLE lot_sources (
  lot_id BIGINT NOT NULL REFERENCES lots (id), position BIGINT NOT NULL,
  source_id BIGINT NOT NULL REFERENCES lots (id), grams BIGINT NOT NULL CHECK (grams > 0),
  PRIMARY KEY (lot_id, position)
);
CREATE INDEX lot_sources_source ON lot_sources (source_id);

ALTER TABLE recipes ADD COLUMN live_by TEXT NOT NULL DEFAULT '' CHECK (live_by IN ('', 'predicted', 'safe side'));
ALTER TABLE recipes ADD COLUMN least_germination_percent REAL NOT NULL DEFAULT 0;
ALTER TABLE recipes ADD COLUMN largest_share_percent REAL NOT NULL DEFAULT 0;
ALTER TABLE recipes ADD COLUMN origin_contains TEXT NOT NULL DEFAULT '';
ALTER TABLE recipes ADD COLUMN oldest_first BOOLEAN NOT NULL DEFAULT false;
ALTER TABLE recipe_lots ADD COLUMN share_percent REAL NOT NULL DEFAULT 0;

-- +goose StatementBegin
CREATE TRIGGER lot_sources_no_update BEFORE UPDATE ON lot_sources BEGIN SELECT RAISE(ABORT, 'lot_sources: rows are only added'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER lot_sources_no_delete BEFORE DELETE ON lot_sources BEGIN SELECT RAISE(ABORT, 'lot_sources: rows are only added'); END;
-- +goose StatementEnd

-- +goose Down
ALTER TABLE recipe_lots DROP COLUMN share_percent;
ALTER TABLE recipes DROP COLUMN oldest_first;
ALTER TABLE recipes DROP COLUMN origin_contains;
ALTER TABLE recipes DROP COLUMN largest_share_percent;
ALTER TABLE recipes DROP COLUMN least_germination_percent;
ALTER TABLE recipes DROP COLUMN live_by;
DROP TABLE lot_sources;
DROP TABLE lot_documents;
DROP TABLE species_retests;
DROP TABLE storage_conditions;
ALTER TABLE tests DROP COLUMN copied_from;
ALTER TABLE tests DROP COLUMN certificate;
ALTER TABLE tests DROP COLUMN kind;
ALTER TABLE lots DROP COLUMN treated_on;
ALTER TABLE lots DROP COLUMN other_seed_percent;
ALTER TABLE lots DROP COLUMN inert_percent;
ALTER TABLE lots DROP COLUMN permit;
ALTER TABLE lots DROP COLUMN harvest;
