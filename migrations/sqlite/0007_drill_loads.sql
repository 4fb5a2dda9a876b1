-- What of the understorey's seed went into the drill, lot by lot. A load that was undone
-- stays, since the ledger speaks of it.

-- +goose Up
CREATE TABLE drill_loads (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  job_id BIGINT NOT NULL REFERENCES jobs (id),
  ha REAL NOT NULL CHECK (ha > 0), note TEXT NOT NULL,
  made_at DATETIME NOT NULL, person_id BIGINT NOT NULL REFERENCES people (id), undone_at DATETIME
);
CREATE INDEX drill_loads_job ON drill_loads (job_id);

CREATE TABLE drill_load_lots (
  drill_load_id BIGINT NOT NULL REFERENCES drill_loads (id), position BIGINT NOT NULL,
  lot_id BIGINT NOT NULL REFERENCES lots (id), grams BIGINT NOT NULL CHECK (grams > 0),
  PRIMARY KEY (drill_load_id, lot_id)
);
CREATE INDEX drill_load_lots_lot ON drill_load_lots (lot_id);

ALTER TABLE movements ADD COLUMN drill_load_id BIGINT NOT NULL DEFAULT 0;
CREATE INDEX movements_drill_load ON movements (drill_load_id);

-- +goose Down
DROP INDEX movements_drill_load;
ALTER TABLE movements DROP COLUMN drill_load_id;
DROP TABLE drill_load_lots;
DROP TABLE drill_loads;
