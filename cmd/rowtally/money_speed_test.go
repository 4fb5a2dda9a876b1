package main

import (
	"context"
	"database/sql"
	"net/http"
	"path/filepath"
	"testing"
	"time"

	"rowtally/internal/demo"
	"rowtally/internal/job"
	"rowtally/internal/site"
	"rowtally/internal/store"
)

// The size of a store after ten years: 200 jobs a season, 30 movements each.
const (
	bigYears, bigJobs, bigMovements, bigFarms = 10, 2_000, 60_000, 120
	bigPassword                               = "ten years of rows sown"
)

// counting counts from 1 to a limit, as a table n(i) for what follows.
const counting = `WITH RECURSIVE n(i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n WHERE i < `

// bigRows fills a store in bulk: farms, jobs, four papers' worth of money to a job (quote
// and yes, invoice, payment), day sheets, row-km, costs entered and the stock ledger. The
// figures are invented; the jobs of the last season are not paid, a tenth of them past due.
var bigRows = []string{
	`INSERT INTO farms (name, contact, abn, address, phone, email, note) ` + counting + `120)
		SELECT 'Farm ' || i, '', '', '1 Example Road', '', '', '' FROM n`,
	`INSERT INTO paddocks (farm_id, name, boundary, no_go, source, read_on) ` + counting + `120) SELECT i, 'Paddock', '', '', '', '' FROM n`,
	`INSERT INTO jobs (code, farm_id, paddock_id, name, season, asked_on, visited_on, visit_note, window_from, window_to, declined_on, declined_why, note) ` + counting + `2000)
		SELECT 'B-' || i, 1 + i % 120, 1 + i % 120, 'Paddock ' || i, 2017 + (i - 1) / 200, '2017-01-01', '2017-01-01', '', '', '', '', '', '' FROM n`,
	`INSERT INTO lots (code, species, common_name, form, unit, layer, origin, supplier, supplier_lot, treatment, received_on, purity_percent, units_per_kg, bulk_density_kg_per_l, cost_per_kg, count_hard, retest_months, hold_reason, held_on, note) ` + counting + `200)
		SELECT 'L-' || i, 'Atriplex nummularia', 'old man saltbush', 'fruit', 'fruit', 'shrub', '', '', '', '', '2017-01-01', 92, 83333, 0.2, '48.00', 0, 12, '', '', '' FROM n`,
	`INSERT INTO products (name, bulk_density_kg_per_m3, bag_l, cost_per_bag, charge_per_l, note) VALUES ('vermiculite, big', 96, 100, '38.00', '0.62', '')`,
	`INSERT INTO balances (kind, id, place, on_hand) SELECT 'lot', id, 'shed', 1000000 FROM lots WHERE code LIKE 'L-%'`,
	`INSERT INTO balances (kind, id, place, on_hand) SELECT 'medium', id, 'shed', 1000000 FROM products WHERE name LIKE '%big'`,
	`INSERT INTO stock_worths (kind, id, value) SELECT 'medium', id, 38000 FROM products WHERE name LIKE '%big'`,
	`INSERT INTO movements (at, who, kind, stock_kind, stock_id, place, quantity, job_id, tub_id, note, value) ` + counting + `60000)
		SELECT '2020-01-01 00:00:00+00:00', 'Operator', 'drawn', CASE i % 3 WHEN 0 THEN 'medium' ELSE 'lot' END,
			CASE i % 3 WHEN 0 THEN (SELECT max(id) FROM products) ELSE (SELECT max(id) FROM lots) - (i / 30) % 200 END, 'shed',
			CASE i % 3 WHEN 0 THEN -150000 ELSE -4000 END, (SELECT max(id) FROM jobs) - 2000 + 1 + (i - 1) / 30, 0, '', CASE i % 3 WHEN 0 THEN -5700 ELSE 0 END FROM n`,
	`INSERT INTO machines (name, kind, "rows", row_gap_m, hopper_usable_l, wheel_m, meter_min, meter_on, service_due_min, note) VALUES ('big tractor', 'tractor', 0, 0, 0, 0, 600000, '2017-01-01', 0, '')`,
	`INSERT INTO owning (machine_id, purchase_price, list_price, age_years, keep_years, annual_hours, interest_percent, tih_percent, remaining_class, remaining_percent,
		repair_class, rf1, rf2, worked_h, fuel_l_per_h, labour_per_h, enough_h) SELECT max(id), '96000', '158000', 6, 10, 450, 7.5, 1.5, '', 30, '', 0.007, 2, 0, 18, '46', 60 FROM machines`,
	`INSERT INTO fuel_rates (kind, from_on, per_l, note) VALUES ('price', '2016-01-01', '1.90', ''), ('credit', '2016-01-01', '0.40', '')`,
	`INSERT INTO day_sheets (job_id, machine_id, day, meter_from_min, meter_to_min, row_m, fuel_ml, standby_min, note, entered_at, person_id) ` + counting + `4000)
		SELECT j.id, (SELECT max(id) FROM machines), j.season || '-07-' || substr('0' || (1 + i % 28), -2), 0, 480, 17000, 90000, 0, '', '2020-01-01 00:00:00+00:00', 1
		FROM n JOIN jobs j ON j.id = (SELECT max(id) FROM jobs) - (i - 1) / 2`,
	`INSERT INTO sown (job_id, made_at, planned_m, covered_m, missed_m, doubled_m, overrun_m, unplanned_m, sown_m, fixes, passes, detail)
		SELECT id, '2020-01-01 00:00:00+00:00', 35000, 34000, 1000, 0, 0, 0, 34000, 9, 2, '' FROM jobs WHERE code LIKE 'B-%'`,
	`INSERT INTO costings (job_id, hand_h, float_km, float_share_percent, float_share_why, resow_percent, resow_why)
		SELECT id, '8', '160', '100', '', '0', '' FROM jobs WHERE code LIKE 'B-%'`,
	paperRows("quote", "Q", "5000000"), paperRows("invoice", "T", "4900000"),
	`INSERT INTO acceptances (paper_id, name, accepted_at, address) SELECT id, 'the owner', issued_at, '' FROM papers WHERE kind = 'quote' AND number LIKE 'BQ%'`,
	`INSERT INTO paper_lines (paper_id, position, description, unit, basis, quantity, unit_price, tax_category, tax_percent, net)
		SELECT p.id, k.i, 'Seeding rows on mounds', 'row-km', 'row-km', '34.00', '105.00', 'S', '10', 357000 FROM papers p JOIN (` + counting + `6) SELECT i FROM n) k WHERE p.number LIKE 'B%'`,
	`INSERT INTO payments (farm_id, kind, paid_on, amount, way, reference, note, reverses_id, entered_at, person_id, who)
		SELECT j.farm_id, 'payment', p.until_on, p.total, 'transfer', p.number, '', 0, p.issued_at, 1, 'Contractor'
		FROM papers p JOIN jobs j ON j.id = p.job_id WHERE p.number LIKE 'BT%' AND j.season < 2026`,
	`INSERT INTO placings (payment_id, paper_id, amount, placed_by, placed_at)
		SELECT y.id, p.id, p.total, 'reference', p.issued_at FROM payments y JOIN papers p ON p.number = y.reference WHERE p.number LIKE 'BT%'`,
}

// paperRows issues one paper of a kind for every job.
func paperRows(kind, letter, net string) string {
	return `INSERT INTO papers (kind, job_id, year, serial, number, revision, answers_id, issued_on, issued_at, until_on, person_id, person_name,
		issuer_name, issuer_abn, issuer_address, issuer_phone, issuer_email, buyer_name, buyer_abn, buyer_address, buyer_phone, buyer_email,
		registered, tax_label, currency, pay_to, reference, farm, paddock, season, row_m, basis, map, net_total, tax_total, total)
	SELECT '` + kind + `', j.id, j.season, 10000 + j.id, 'B` + letter + `' || j.id, 1, 0, j.season || '-07-02', j.season || '-07-02 00:00:00+00:00', j.season || '-07-10', 1, 'Contractor',
		'The Seeders', '', '', '', '', f.name, '', '', '', '', 1, 'GST', 'AUD', '', '', f.name, j.name, j.season, 34000, 'Measured from the log.', '',
		` + net + `, ` + net + ` / 10, ` + net + ` + ` + net + ` / 10
	FROM jobs j JOIN farms f ON f.id = j.farm_id WHERE j.code LIKE 'B-%'`
}

// bigStore is a store of ten years on disk, closed again, and who may sign in.
func bigStore(b testing.TB) (dir string, contractor demo.Login) {
	b.Helper()
	dir = b.TempDir()
	books, err := store.Open(context.Background(), store.Options{Dir: dir})
	if err != nil {
		b.Fatal(err)
	}
	hashed, err := site.HashPassword(bigPassword)
	if err != nil {
		b.Fatal(err)
	}
	_, err = books.Begin(context.Background(), job.Act{Who: "Contractor", Now: time.Now()},
		job.Business{Name: "The Seeders", Currency: "AUD", TaxLabel: "GST", TaxPercent: "10", Zone: "Australia/Adelaide", DemoDay: "2026-07-20"},
		job.Person{Name: "Contractor", Role: job.Contractor, PasswordHash: hashed})
	if err != nil {
		b.Fatal(err)
	}
	if err := books.Close(); err != nil {
		b.Fatal(err)
	}
	db, err := sql.Open("sqlite3", filepath.Join(dir, store.File))
	if err != nil {
		b.Fatal(err)
	}
	defer db.Close()
	for _, statement := range bigRows {
		if _, err := db.Exec(statement); err != nil {
			b.Fatalf("%v: %s", err, statement)
		}
	}
	return dir, demo.Login{Name: "Contractor", Password: bigPassword}
}

// BenchmarkMoney is each page of money at ten years of data, client included.
func BenchmarkMoney(b *testing.B) {
	dir, contractor := bigStore(b)
	base, stop := started(b, program(b), dir)
	defer stop()
	client := signedIn(b, base, contractor)
	for _, path := range []string{"/accounts", "/accounts/season", "/accounts/season?season=2020", "/jobs/2000/cost", "/farms/7/account", "/accounts/bookkeeper/job-results.csv"} {
		b.Run(path, func(b *testing.B) { measure(b, client, base+path) })
	}
}

// measure asks for one page again and again and reports the median and the quickest.
func measure(b *testing.B, client *http.Client, address string) {
	b.Helper()
	var took []float64
	for b.Loop() {
		began := time.Now()
		read(b, client, address)
		took = append(took, ms(time.Since(began)))
	}
	b.ReportMetric(median(took), "ms-median") // sorts them
	b.ReportMetric(took[0], "ms-best")
}
