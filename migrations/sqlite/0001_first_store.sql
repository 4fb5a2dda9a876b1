-- Units stand in the names: _g, _ml, _min and the quantities of stock (g of a lot, mL of a
-- medium) are whole numbers, money is whole cents, prices and factors are decimal text.
-- Days are text (2026-07-20), '' when not set. A number that refers to another row and may
-- be absent is 0 then, and `rowtally verify` checks it; every other one is a foreign key.

-- +goose Up
PRAGMA application_id = 1383036788; -- "Rowt": how restore knows a store

CREATE TABLE business (
  one BIGINT NOT NULL DEFAULT 1 PRIMARY KEY CHECK (one = 1),
  name TEXT NOT NULL, abn TEXT NOT NULL, address TEXT NOT NULL, phone TEXT NOT NULL, email TEXT NOT NULL,
  registered BOOLEAN NOT NULL, registered_on TEXT NOT NULL, currency TEXT NOT NULL,
  tax_label TEXT NOT NULL, tax_percent TEXT NOT NULL, pay_to TEXT NOT NULL,
  terms_days BIGINT NOT NULL, valid_days BIGINT NOT NULL, zone TEXT NOT NULL, demo_day TEXT NOT NULL
);

CREATE TABLE people (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  name TEXT NOT NULL, role TEXT NOT NULL CHECK (role IN ('contractor', 'operator')),
  password_hash TEXT NOT NULL, "left" BOOLEAN NOT NULL
);
CREATE UNIQUE INDEX people_name ON people (lower(name));

CREATE TABLE sessions (
  token_hash TEXT PRIMARY KEY NOT NULL,
  person_id BIGINT NOT NULL REFERENCES people (id),
  opened_at DATETIME NOT NULL, until DATETIME NOT NULL
);
CREATE INDEX sessions_person ON sessions (person_id);

CREATE TABLE keys (
  key TEXT PRIMARY KEY NOT NULL,
  act TEXT NOT NULL, answer BIGINT NOT NULL, at DATETIME NOT NULL
);

CREATE TABLE journal (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  at DATETIME NOT NULL, person_id BIGINT NOT NULL, who TEXT NOT NULL, what TEXT NOT NULL,
  noun TEXT NOT NULL, noun_id BIGINT NOT NULL
);
CREATE INDEX journal_noun ON journal (noun, noun_id);

CREATE TABLE series (
  kind TEXT NOT NULL, year BIGINT NOT NULL, last BIGINT NOT NULL CHECK (last > 0),
  PRIMARY KEY (kind, year)
);

CREATE TABLE farms (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  name TEXT NOT NULL, contact TEXT NOT NULL, abn TEXT NOT NULL, address TEXT NOT NULL,
  phone TEXT NOT NULL, email TEXT NOT NULL, note TEXT NOT NULL
);
CREATE UNIQUE INDEX farms_name ON farms (lower(name));

CREATE TABLE links (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  farm_id BIGINT NOT NULL REFERENCES farms (id),
  token TEXT NOT NULL UNIQUE, made_at DATETIME NOT NULL, withdrawn_at DATETIME
);
CREATE INDEX links_farm ON links (farm_id);

CREATE TABLE paddocks (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  farm_id BIGINT NOT NULL REFERENCES farms (id),
  name TEXT NOT NULL, boundary TEXT NOT NULL, no_go TEXT NOT NULL, source TEXT NOT NULL, read_on TEXT NOT NULL
);
CREATE UNIQUE INDEX paddocks_name ON paddocks (farm_id, lower(name));

CREATE TABLE jobs (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  code TEXT NOT NULL UNIQUE,
  farm_id BIGINT NOT NULL REFERENCES farms (id),
  paddock_id BIGINT NOT NULL,
  name TEXT NOT NULL, season BIGINT NOT NULL, asked_on TEXT NOT NULL,
  visited_on TEXT NOT NULL, visit_note TEXT NOT NULL, window_from TEXT NOT NULL, window_to TEXT NOT NULL,
  declined_on TEXT NOT NULL, declined_why TEXT NOT NULL, note TEXT NOT NULL
);
CREATE INDEX jobs_season ON jobs (season);
CREATE INDEX jobs_farm ON jobs (farm_id);

CREATE TABLE layouts (
  job_id BIGINT PRIMARY KEY NOT NULL REFERENCES jobs (id),
  bearing_deg REAL NOT NULL, rows_per_belt BIGINT NOT NULL, row_gap_m REAL NOT NULL,
  alley_m REAL NOT NULL, headland_m REAL NOT NULL, no_go_margin_m REAL NOT NULL,
  spacing_m REAL NOT NULL, least_row_m REAL NOT NULL
);

CREATE TABLE lots (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  code TEXT NOT NULL UNIQUE,
  species TEXT NOT NULL, common_name TEXT NOT NULL, form TEXT NOT NULL, unit TEXT NOT NULL, layer TEXT NOT NULL,
  origin TEXT NOT NULL, supplier TEXT NOT NULL, supplier_lot TEXT NOT NULL, treatment TEXT NOT NULL,
  received_on TEXT NOT NULL, purity_percent REAL NOT NULL, units_per_kg REAL NOT NULL,
  bulk_density_kg_per_l REAL NOT NULL, cost_per_kg TEXT NOT NULL,
  count_hard BOOLEAN NOT NULL, retest_months BIGINT NOT NULL,
  hold_reason TEXT NOT NULL, held_on TEXT NOT NULL, note TEXT NOT NULL
);

CREATE TABLE tests (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  lot_id BIGINT NOT NULL REFERENCES lots (id),
  tested_on TEXT NOT NULL, laboratory TEXT NOT NULL, reference TEXT NOT NULL, method TEXT NOT NULL, note TEXT NOT NULL
);
CREATE INDEX tests_lot ON tests (lot_id, tested_on);

CREATE TABLE replicates (
  test_id BIGINT NOT NULL REFERENCES tests (id), position BIGINT NOT NULL,
  seeds BIGINT NOT NULL, normal BIGINT NOT NULL, abnormal BIGINT, hard BIGINT, fresh BIGINT, dead BIGINT,
  PRIMARY KEY (test_id, position)
);

CREATE TABLE products (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  name TEXT NOT NULL, bulk_density_kg_per_m3 REAL NOT NULL, bag_l REAL NOT NULL,
  cost_per_bag TEXT NOT NULL, charge_per_l TEXT NOT NULL, note TEXT NOT NULL
);
CREATE UNIQUE INDEX products_name ON products (lower(name));

CREATE TABLE balances (
  kind TEXT NOT NULL CHECK (kind IN ('lot', 'medium')), id BIGINT NOT NULL,
  place TEXT NOT NULL CHECK (place IN ('shed', 'truck')),
  on_hand BIGINT NOT NULL CHECK (on_hand >= 0),
  PRIMARY KEY (kind, id, place)
);

CREATE TABLE movements (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  at DATETIME NOT NULL, who TEXT NOT NULL,
  kind TEXT NOT NULL CHECK (kind IN ('received', 'drawn', 'returned', 'written off', 'counted', 'moved')),
  stock_kind TEXT NOT NULL, stock_id BIGINT NOT NULL, place TEXT NOT NULL,
  quantity BIGINT NOT NULL, job_id BIGINT NOT NULL, tub_id BIGINT NOT NULL, note TEXT NOT NULL,
  FOREIGN KEY (stock_kind, stock_id, place) REFERENCES balances (kind, id, place)
);
CREATE INDEX movements_stock ON movements (stock_kind, stock_id, place);
CREATE INDEX movements_tub ON movements (tub_id);

CREATE TABLE held_back (
  job_id BIGINT NOT NULL REFERENCES jobs (id),
  stock_kind TEXT NOT NULL CHECK (stock_kind IN ('lot', 'medium')), stock_id BIGINT NOT NULL,
  wanted BIGINT NOT NULL CHECK (wanted >= 0), held BIGINT NOT NULL CHECK (held >= 0 AND held <= wanted),
  PRIMARY KEY (job_id, stock_kind, stock_id)
);
CREATE INDEX held_back_stock ON held_back (stock_kind, stock_id);

CREATE TABLE recipes (
  job_id BIGINT PRIMARY KEY NOT NULL REFERENCES jobs (id),
  placement_ml REAL NOT NULL, tub_l REAL NOT NULL, spare_percent REAL NOT NULL,
  product_id BIGINT NOT NULL, scale_step_g REAL NOT NULL
);

CREATE TABLE recipe_species (
  job_id BIGINT NOT NULL REFERENCES recipes (job_id), position BIGINT NOT NULL,
  species TEXT NOT NULL, emergence_percent REAL NOT NULL,
  live_per_placement REAL NOT NULL, target_filled_percent REAL NOT NULL,
  PRIMARY KEY (job_id, position)
);

CREATE TABLE recipe_lots (
  job_id BIGINT NOT NULL, species_position BIGINT NOT NULL, position BIGINT NOT NULL,
  lot_id BIGINT NOT NULL REFERENCES lots (id),
  PRIMARY KEY (job_id, species_position, position),
  FOREIGN KEY (job_id, species_position) REFERENCES recipe_species (job_id, position)
);

CREATE TABLE rates (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  job_id BIGINT NOT NULL REFERENCES jobs (id), position BIGINT NOT NULL,
  description TEXT NOT NULL, unit TEXT NOT NULL, basis TEXT NOT NULL, quantity TEXT NOT NULL,
  unit_price TEXT NOT NULL, tax_category TEXT NOT NULL, tax_percent TEXT NOT NULL
);
CREATE UNIQUE INDEX rates_job ON rates (job_id, position);

CREATE TABLE machines (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  name TEXT NOT NULL, kind TEXT NOT NULL, "rows" BIGINT NOT NULL, row_gap_m REAL NOT NULL,
  hopper_usable_l REAL NOT NULL, wheel_m REAL NOT NULL,
  meter_min BIGINT NOT NULL CHECK (meter_min >= 0), meter_on TEXT NOT NULL, service_due_min BIGINT NOT NULL, note TEXT NOT NULL
);
CREATE UNIQUE INDEX machines_name ON machines (lower(name));

CREATE TABLE day_sheets (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  job_id BIGINT NOT NULL REFERENCES jobs (id), machine_id BIGINT NOT NULL REFERENCES machines (id),
  day TEXT NOT NULL, meter_from_min BIGINT NOT NULL, meter_to_min BIGINT NOT NULL CHECK (meter_to_min >= meter_from_min),
  row_m REAL NOT NULL, fuel_ml BIGINT NOT NULL, standby_min BIGINT NOT NULL, note TEXT NOT NULL,
  entered_at DATETIME NOT NULL, person_id BIGINT NOT NULL REFERENCES people (id)
);
CREATE INDEX day_sheets_job ON day_sheets (job_id);

CREATE TABLE catches (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  job_id BIGINT NOT NULL REFERENCES jobs (id),
  caught_ml REAL NOT NULL, run_m REAL NOT NULL, outlets BIGINT NOT NULL,
  spacing_m REAL NOT NULL, caught_at DATETIME NOT NULL,
  person_id BIGINT NOT NULL REFERENCES people (id), withdrawn BOOLEAN NOT NULL
);
CREATE INDEX catches_job ON catches (job_id);

CREATE TABLE tubs (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  job_id BIGINT NOT NULL REFERENCES jobs (id), number BIGINT NOT NULL CHECK (number > 0),
  mix_ml BIGINT NOT NULL, medium_ml BIGINT NOT NULL, product_id BIGINT NOT NULL, row_m REAL NOT NULL,
  mixed_at DATETIME NOT NULL, person_id BIGINT NOT NULL REFERENCES people (id), unmixed_at DATETIME
);
CREATE UNIQUE INDEX tubs_number ON tubs (job_id, number) WHERE unmixed_at IS NULL;

CREATE TABLE tub_ingredients (
  tub_id BIGINT NOT NULL REFERENCES tubs (id), lot_id BIGINT NOT NULL REFERENCES lots (id),
  position BIGINT NOT NULL, grams BIGINT NOT NULL CHECK (grams > 0),
  PRIMARY KEY (tub_id, lot_id)
);
CREATE INDEX tub_ingredients_lot ON tub_ingredients (lot_id);

CREATE TABLE papers (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  kind TEXT NOT NULL, job_id BIGINT NOT NULL REFERENCES jobs (id),
  year BIGINT NOT NULL, serial BIGINT NOT NULL, number TEXT NOT NULL UNIQUE, revision BIGINT NOT NULL,
  answers_id BIGINT NOT NULL, issued_on TEXT NOT NULL, issued_at DATETIME NOT NULL, until_on TEXT NOT NULL,
  person_id BIGINT NOT NULL, person_name TEXT NOT NULL,
  issuer_name TEXT NOT NULL, issuer_abn TEXT NOT NULL, issuer_address TEXT NOT NULL, issuer_phone TEXT NOT NULL, issuer_email TEXT NOT NULL,
  buyer_name TEXT NOT NULL, buyer_abn TEXT NOT NULL, buyer_address TEXT NOT NULL, buyer_phone TEXT NOT NULL, buyer_email TEXT NOT NULL,
  registered BOOLEAN NOT NULL, tax_label TEXT NOT NULL, currency TEXT NOT NULL, pay_to TEXT NOT NULL, reference TEXT NOT NULL,
  farm TEXT NOT NULL, paddock TEXT NOT NULL, season BIGINT NOT NULL, row_m REAL NOT NULL, basis TEXT NOT NULL, map TEXT NOT NULL,
  net_total BIGINT NOT NULL, tax_total BIGINT NOT NULL, total BIGINT NOT NULL,
  UNIQUE (kind, year, serial)
);
CREATE INDEX papers_job ON papers (job_id);
CREATE UNIQUE INDEX papers_revision ON papers (job_id, revision) WHERE kind = 'quote';

CREATE TABLE paper_lines (
  paper_id BIGINT NOT NULL REFERENCES papers (id), position BIGINT NOT NULL,
  description TEXT NOT NULL, unit TEXT NOT NULL, basis TEXT NOT NULL, quantity TEXT NOT NULL,
  unit_price TEXT NOT NULL, tax_category TEXT NOT NULL, tax_percent TEXT NOT NULL, net BIGINT NOT NULL,
  PRIMARY KEY (paper_id, position)
);

CREATE TABLE paper_particulars (
  paper_id BIGINT NOT NULL REFERENCES papers (id), position BIGINT NOT NULL,
  heading TEXT NOT NULL, text TEXT NOT NULL,
  PRIMARY KEY (paper_id, position)
);

CREATE TABLE paper_files (
  paper_id BIGINT PRIMARY KEY NOT NULL REFERENCES papers (id),
  sha256 TEXT NOT NULL, pdf BLOB NOT NULL
);

CREATE TABLE acceptances (
  paper_id BIGINT PRIMARY KEY NOT NULL REFERENCES papers (id),
  name TEXT NOT NULL, accepted_at DATETIME NOT NULL, address TEXT NOT NULL
);

CREATE TABLE logs (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  job_id BIGINT NOT NULL REFERENCES jobs (id),
  name TEXT NOT NULL, format TEXT NOT NULL, sha256 TEXT NOT NULL, content BLOB NOT NULL,
  pass_rows BIGINT NOT NULL, row_gap_m REAL NOT NULL, offset_right_m REAL NOT NULL,
  loaded_at DATETIME NOT NULL, person_id BIGINT NOT NULL REFERENCES people (id),
  UNIQUE (job_id, sha256)
);

CREATE TABLE sown (
  job_id BIGINT PRIMARY KEY NOT NULL REFERENCES jobs (id), made_at DATETIME NOT NULL,
  planned_m REAL NOT NULL, covered_m REAL NOT NULL, missed_m REAL NOT NULL,
  doubled_m REAL NOT NULL, overrun_m REAL NOT NULL, unplanned_m REAL NOT NULL,
  sown_m REAL NOT NULL, fixes BIGINT NOT NULL, passes BIGINT NOT NULL, detail TEXT NOT NULL
);

-- What is only added to: the journal, the stock ledger, issued papers with all that is on
-- them, and the farmer's yes.
-- +goose StatementBegin
CREATE TRIGGER journal_no_update BEFORE UPDATE ON journal BEGIN SELECT RAISE(ABORT, 'journal: rows are only added'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER journal_no_delete BEFORE DELETE ON journal BEGIN SELECT RAISE(ABORT, 'journal: rows are only added'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER movements_no_update BEFORE UPDATE ON movements BEGIN SELECT RAISE(ABORT, 'movements: rows are only added'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER movements_no_delete BEFORE DELETE ON movements BEGIN SELECT RAISE(ABORT, 'movements: rows are only added'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER papers_no_update BEFORE UPDATE ON papers BEGIN SELECT RAISE(ABORT, 'papers: rows are only added'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER papers_no_delete BEFORE DELETE ON papers BEGIN SELECT RAISE(ABORT, 'papers: rows are only added'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER paper_lines_no_update BEFORE UPDATE ON paper_lines BEGIN SELECT RAISE(ABORT, 'paper_lines: rows are only added'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER paper_lines_no_delete BEFORE DELETE ON paper_lines BEGIN SELECT RAISE(ABORT, 'paper_lines: rows are only added'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER paper_particulars_no_update BEFORE UPDATE ON paper_particulars BEGIN SELECT RAISE(ABORT, 'paper_particulars: rows are only added'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER paper_particulars_no_delete BEFORE DELETE ON paper_particulars BEGIN SELECT RAISE(ABORT, 'paper_particulars: rows are only added'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER paper_files_no_update BEFORE UPDATE ON paper_files BEGIN SELECT RAISE(ABORT, 'paper_files: rows are only added'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER paper_files_no_delete BEFORE DELETE ON paper_files BEGIN SELECT RAISE(ABORT, 'paper_files: rows are only added'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER acceptances_no_update BEFORE UPDATE ON acceptances BEGIN SELECT RAISE(ABORT, 'acceptances: rows are only added'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER acceptances_no_delete BEFORE DELETE ON acceptances BEGIN SELECT RAISE(ABORT, 'acceptances: rows are only added'); END;
-- +goose StatementEnd

-- +goose Down
DROP TABLE sown;
DROP TABLE logs;
DROP TABLE acceptances;
DROP TABLE paper_files;
DROP TABLE paper_particulars;
DROP TABLE paper_lines;
DROP TABLE papers;
DROP TABLE tub_ingredients;
DROP TABLE tubs;
DROP TABLE catches;
DROP TABLE day_sheets;
DROP TABLE machines;
DROP TABLE rates;
DROP TABLE recipe_lots;
DROP TABLE recipe_species;
DROP TABLE recipes;
DROP TABLE held_back;
DROP TABLE movements;
DROP TABLE balances;
DROP TABLE products;
DROP TABLE replicates;
DROP TABLE tests;
DROP TABLE lots;
DROP TABLE layouts;
DROP TABLE jobs;
DROP TABLE paddocks;
DROP TABLE links;
DROP TABLE farms;
DROP TABLE series;
DROP TABLE journal;
DROP TABLE keys;
DROP TABLE sessions;
DROP TABLE people;
DROP TABLE business;
PRAGMA application_id = 0;
