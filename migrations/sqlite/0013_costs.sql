-- What stock of a medium cost, carried as whole cents: each movement with the value that it
-- brought in (+) or took along (-), and what is on hand worth now, the sum of them. Seed has
-- none: each lot costs what its certificate page says a kg. What a job costs beyond its other
-- facts, and the business's own rates for it; quantities and rates are decimal text.

-- +goose Up
ALTER TABLE movements ADD COLUMN value BIGINT NOT NULL DEFAULT 0;

-- movements from before are valued at what a bag costs now: the running stock times the price,
-- so that the values add up to what is on hand and to nothing when nothing is
DROP TRIGGER movements_no_update;
UPDATE movements SET value = (
  SELECT CAST(round(r.after * p.cost_per_bag / p.bag_l / 10.0) - round((r.after - r.quantity) * p.cost_per_bag / p.bag_l / 10.0) AS INTEGER) FROM (
    SELECT m.id, m.stock_id, m.quantity, m.kind,
      sum(CASE WHEN m.kind = 'moved' THEN 0 ELSE m.quantity END) OVER (PARTITION BY m.stock_id ORDER BY m.id) AS after
    FROM movements m WHERE m.stock_kind = 'medium'
  ) r JOIN products p ON p.id = r.stock_id WHERE r.id = movements.id
) WHERE stock_kind = 'medium' AND kind <> 'moved' AND stock_id IN (SELECT id FROM products WHERE bag_l > 0);
-- +goose StatementBegin
CREATE TRIGGER movements_no_update BEFORE UPDATE ON movements BEGIN SELECT RAISE(ABORT, 'movements: rows are only added'); END;
-- +goose StatementEnd

CREATE TABLE stock_worths (
  kind TEXT NOT NULL CHECK (kind = 'medium'), id BIGINT NOT NULL,
  value BIGINT NOT NULL CHECK (value >= 0),
  PRIMARY KEY (kind, id)
);
INSERT INTO stock_worths (kind, id, value)
SELECT 'medium', p.id, coalesce((SELECT sum(m.value) FROM movements m WHERE m.stock_kind = 'medium' AND m.stock_id = p.id), 0) FROM products p;

CREATE TABLE cost_rates (
  one BIGINT NOT NULL DEFAULT 1 PRIMARY KEY CHECK (one = 1),
  labour_per_h TEXT NOT NULL, float_per_km TEXT NOT NULL, overhead_percent TEXT NOT NULL, overhead_per_row_km TEXT NOT NULL
);

CREATE TABLE costings (
  job_id BIGINT PRIMARY KEY NOT NULL REFERENCES jobs (id),
  hand_h TEXT NOT NULL, hand_done_h TEXT, float_km TEXT NOT NULL, float_done_km TEXT,
  float_share_percent TEXT NOT NULL, float_share_why TEXT NOT NULL, resow_percent TEXT NOT NULL, resow_why TEXT NOT NULL
);

CREATE TABLE costing_machines (
  job_id BIGINT NOT NULL REFERENCES costings (job_id), position BIGINT NOT NULL,
  machine_id BIGINT NOT NULL REFERENCES machines (id), hours TEXT NOT NULL,
  PRIMARY KEY (job_id, position)
);

CREATE TABLE costing_others (
  job_id BIGINT NOT NULL REFERENCES costings (job_id), position BIGINT NOT NULL,
  what TEXT NOT NULL, quantity TEXT NOT NULL, unit TEXT NOT NULL, unit_price TEXT NOT NULL, billed TEXT,
  PRIMARY KEY (job_id, position)
);

-- the cost as it was planned when a quote was issued: what a job is measured by afterwards
CREATE TABLE cost_plans (
  paper_id BIGINT PRIMARY KEY NOT NULL REFERENCES papers (id),
  job_id BIGINT NOT NULL REFERENCES jobs (id), row_m REAL NOT NULL, gross_m2 REAL NOT NULL
);
CREATE INDEX cost_plans_job ON cost_plans (job_id);

CREATE TABLE cost_plan_lines (
  paper_id BIGINT NOT NULL REFERENCES cost_plans (paper_id), position BIGINT NOT NULL,
  kind TEXT NOT NULL, of_id BIGINT NOT NULL, what TEXT NOT NULL, quantity TEXT NOT NULL, unit TEXT NOT NULL,
  price TEXT NOT NULL, amount BIGINT NOT NULL, source TEXT NOT NULL,
  PRIMARY KEY (paper_id, position)
);

-- +goose Down
DROP TABLE cost_plan_lines;
DROP TABLE cost_plans;
DROP TABLE costing_others;
DROP TABLE costing_machines;
DROP TABLE costings;
DROP TABLE cost_rates;
DROP TABLE stock_worths;
ALTER TABLE movements DROP COLUMN value;
