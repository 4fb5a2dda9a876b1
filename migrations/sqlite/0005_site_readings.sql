-- Readings of soil and water in a paddock, each with depth, month, method and who said it;
-- one that was wrong is withdrawn with its reason and stays. A paddock's heights, from
-- which its fall is fitted.

-- +goose Up
CREATE TABLE readings (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  paddock_id BIGINT NOT NULL REFERENCES paddocks (id),
  kind TEXT NOT NULL CHECK (kind IN ('ECe', 'EC1:5', 'EM38 horizontal', 'winter watertable', 'summer watertable')),
  texture TEXT NOT NULL CHECK (texture IN ('', 'sand', 'loam', 'clay')),
  value REAL NOT NULL CHECK (value >= 0), unit TEXT NOT NULL CHECK (unit IN ('dS/m', 'mS/m', 'm')),
  from_cm REAL NOT NULL, to_cm REAL NOT NULL,
  taken_on TEXT NOT NULL, method TEXT NOT NULL, said_by TEXT NOT NULL,
  lat REAL, lon REAL, note TEXT NOT NULL,
  withdrawn_on TEXT NOT NULL, withdrawn_why TEXT NOT NULL,
  CHECK ((lat IS NULL) = (lon IS NULL)),
  CHECK ((withdrawn_on = '') = (withdrawn_why = ''))
);
CREATE INDEX readings_paddock ON readings (paddock_id);

ALTER TABLE paddocks ADD COLUMN heights TEXT NOT NULL DEFAULT '';
ALTER TABLE paddocks ADD COLUMN heights_source TEXT NOT NULL DEFAULT '';

-- +goose Down
ALTER TABLE paddocks DROP COLUMN heights_source;
ALTER TABLE paddocks DROP COLUMN heights;
DROP TABLE readings;
