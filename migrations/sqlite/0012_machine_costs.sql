-- What a machine costs to own and to run, the dated prices and credits of fuel, service by
-- date and interval, what pulls a machine, and how fast it sows.

-- +goose Up
ALTER TABLE machines ADD COLUMN service_on TEXT NOT NULL DEFAULT '';
ALTER TABLE machines ADD COLUMN service_every_min BIGINT NOT NULL DEFAULT 0 CHECK (service_every_min >= 0);
ALTER TABLE machines ADD COLUMN service_every_months BIGINT NOT NULL DEFAULT 0 CHECK (service_every_months >= 0);
ALTER TABLE machines ADD COLUMN pulled_by_id BIGINT NOT NULL DEFAULT 0;
ALTER TABLE machines ADD COLUMN speed_kmh REAL NOT NULL DEFAULT 0;
ALTER TABLE machines ADD COLUMN turn_s REAL;
ALTER TABLE machines ADD COLUMN fill_min REAL;
ALTER TABLE machines ADD COLUMN efficiency_percent REAL;

CREATE TABLE owning (
  machine_id BIGINT PRIMARY KEY NOT NULL REFERENCES machines (id),
  purchase_price TEXT NOT NULL, list_price TEXT NOT NULL,
  age_years REAL NOT NULL, keep_years REAL NOT NULL CHECK (keep_years > 0), annual_hours REAL NOT NULL CHECK (annual_hours > 0),
  interest_percent REAL NOT NULL, tih_percent REAL NOT NULL,
  remaining_class TEXT NOT NULL, remaining_percent REAL,
  repair_class TEXT NOT NULL, rf1 REAL, rf2 REAL, worked_h REAL NOT NULL,
  fuel_l_per_h REAL, pto_kw REAL, l_per_kilowatt_hour REAL,
  lubrication_percent REAL, labour_per_h TEXT NOT NULL, labour_hours_per_machine_hour REAL,
  enough_h REAL NOT NULL
);

CREATE TABLE fuel_rates (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  kind TEXT NOT NULL CHECK (kind IN ('price', 'credit')), from_on TEXT NOT NULL, per_l TEXT NOT NULL, note TEXT NOT NULL
);
CREATE UNIQUE INDEX fuel_rates_day ON fuel_rates (kind, from_on);
CREATE INDEX day_sheets_day ON day_sheets (day);

-- +goose Down
DROP INDEX day_sheets_day;
DROP TABLE fuel_rates;
DROP TABLE owning;
ALTER TABLE machines DROP COLUMN efficiency_percent;
ALTER TABLE machines DROP COLUMN fill_min;
ALTER TABLE machines DROP COLUMN turn_s;
ALTER TABLE machines DROP COLUMN speed_kmh;
ALTER TABLE machines DROP COLUMN pulled_by_id;
ALTER TABLE machines DROP COLUMN service_every_months;
ALTER TABLE machines DROP COLUMN service_every_min;
ALTER TABLE machines DROP COLUMN service_on;
