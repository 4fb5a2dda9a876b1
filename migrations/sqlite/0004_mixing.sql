-- What a tub and a clean-out show: the machine that sows with its hoppers, the range of the
-- share that becomes plants, voids measured with the first tub, what remained in the hoppers
-- when they were cleaned out; and the understorey of a job.

-- +goose Up
ALTER TABLE machines ADD COLUMN hoppers BIGINT NOT NULL DEFAULT 0 CHECK (hoppers >= 0);
ALTER TABLE recipes ADD COLUMN sower_id BIGINT NOT NULL DEFAULT 0;
ALTER TABLE recipes ADD COLUMN voids_fraction REAL NOT NULL DEFAULT 0;
ALTER TABLE recipes ADD COLUMN first_tub_medium_l REAL NOT NULL DEFAULT 0;
ALTER TABLE recipe_species ADD COLUMN emergence_low_percent REAL NOT NULL DEFAULT 0;
ALTER TABLE recipe_species ADD COLUMN emergence_high_percent REAL NOT NULL DEFAULT 0;

CREATE TABLE clean_outs (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  job_id BIGINT NOT NULL REFERENCES jobs (id),
  mix_ml BIGINT NOT NULL CHECK (mix_ml > 0), medium_ml BIGINT NOT NULL CHECK (medium_ml >= 0), product_id BIGINT NOT NULL,
  kept BOOLEAN NOT NULL, note TEXT NOT NULL,
  made_at DATETIME NOT NULL, person_id BIGINT NOT NULL REFERENCES people (id), undone_at DATETIME
);
CREATE INDEX clean_outs_job ON clean_outs (job_id);

CREATE TABLE clean_out_lots (
  clean_out_id BIGINT NOT NULL REFERENCES clean_outs (id), position BIGINT NOT NULL,
  lot_id BIGINT NOT NULL REFERENCES lots (id), grams BIGINT NOT NULL CHECK (grams > 0),
  PRIMARY KEY (clean_out_id, lot_id)
);
CREATE INDEX clean_out_lots_lot ON clean_out_lots (lot_id);
CREATE INDEX movements_job ON movements (job_id);

CREATE TABLE understoreys (
  job_id BIGINT PRIMARY KEY NOT NULL REFERENCES jobs (id),
  hectares_of TEXT NOT NULL CHECK (hectares_of IN ('gross', 'alley'))
);

CREATE TABLE understorey_species (
  job_id BIGINT NOT NULL REFERENCES understoreys (job_id), position BIGINT NOT NULL,
  species TEXT NOT NULL, rate_kg_per_ha REAL NOT NULL, rate_is_live BOOLEAN NOT NULL, count_hard BOOLEAN NOT NULL,
  inoculant_group TEXT NOT NULL, inoculant_g_per_kg REAL NOT NULL, inoculant_hours REAL NOT NULL,
  PRIMARY KEY (job_id, position)
);

CREATE TABLE understorey_lots (
  job_id BIGINT NOT NULL, species_position BIGINT NOT NULL, position BIGINT NOT NULL,
  lot_id BIGINT NOT NULL REFERENCES lots (id),
  PRIMARY KEY (job_id, species_position, position),
  FOREIGN KEY (job_id, species_position) REFERENCES understorey_species (job_id, position)
);

-- +goose Down
DROP TABLE understorey_lots;
DROP TABLE understorey_species;
DROP TABLE understoreys;
DROP INDEX movements_job;
DROP TABLE clean_out_lots;
DROP TABLE clean_outs;
ALTER TABLE recipe_species DROP COLUMN emergence_high_percent;
ALTER TABLE recipe_species DROP COLUMN emergence_low_percent;
ALTER TABLE recipes DROP COLUMN first_tub_medium_l;
ALTER TABLE recipes DROP COLUMN voids_fraction;
ALTER TABLE recipes DROP COLUMN sower_id;
ALTER TABLE machines DROP COLUMN hoppers;
