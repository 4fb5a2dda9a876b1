package store

import (
	"fmt"

	"gorm.io/gorm"
)

// laws are statements that a sound store answers with nothing. Each row of an answer is a
// sentence; quantities are in g of a lot and mL of a medium.
var laws = []string{
	`SELECT 'the balance of ' || b.kind || ' ' || b.id || ' in the ' || b.place || ' is ' || b.on_hand
		|| ', its movements add up to ' || coalesce(sum(m.quantity), 0)
	FROM balances b LEFT JOIN movements m ON m.stock_kind = b.kind AND m.stock_id = b.id AND m.place = b.place
	GROUP BY b.kind, b.id, b.place, b.on_hand HAVING b.on_hand <> coalesce(sum(m.quantity), 0)`,

	`SELECT h.stock_kind || ' ' || h.stock_id || ' has ' || sum(h.held) || ' held back and '
		|| (SELECT coalesce(sum(on_hand), 0) FROM balances b WHERE b.kind = h.stock_kind AND b.id = h.stock_id) || ' on hand'
	FROM held_back h GROUP BY h.stock_kind, h.stock_id
	HAVING sum(h.held) > (SELECT coalesce(sum(on_hand), 0) FROM balances b WHERE b.kind = h.stock_kind AND b.id = h.stock_id)`,

	`SELECT 'stock is held back for ' || j.code || ', which no farmer has agreed to'
	FROM jobs j WHERE EXISTS (SELECT 1 FROM held_back h WHERE h.job_id = j.id)
	AND NOT EXISTS (SELECT 1 FROM acceptances a JOIN papers p ON p.id = a.paper_id WHERE p.job_id = j.id)`,

	`SELECT 'the ' || s.kind || ' series of ' || s.year || ' has ' || count(p.id) || ' papers and stands at ' || s.last
		|| ', its numbers have a gap'
	FROM series s LEFT JOIN papers p ON p.kind = s.kind AND p.year = s.year WHERE s.kind <> 'job'
	GROUP BY s.kind, s.year, s.last HAVING count(p.id) <> s.last OR min(p.serial) <> 1 OR max(p.serial) <> s.last`,

	`SELECT 'the paper ' || p.number || ' is in no series'
	FROM papers p WHERE NOT EXISTS (SELECT 1 FROM series s WHERE s.kind = p.kind AND s.year = p.year)`,

	`SELECT 'the quotes of ' || j.code || ' have a gap in their revisions'
	FROM papers p JOIN jobs j ON j.id = p.job_id WHERE p.kind = 'quote'
	GROUP BY j.code HAVING count(*) <> max(p.revision) OR min(p.revision) <> 1`,

	`SELECT 'the yes of ' || a.name || ' rests on ' || p.number || ', which is no quote'
	FROM acceptances a JOIN papers p ON p.id = a.paper_id WHERE p.kind NOT IN ('quote', 'variation')`,

	`SELECT 'the yes of ' || a.name || ' to ' || p.number || ' names none of the alternatives that it offers'
	FROM acceptances a JOIN papers p ON p.id = a.paper_id
	WHERE CASE WHEN a.alternative = '' THEN EXISTS (SELECT 1 FROM paper_alternatives o WHERE o.paper_id = p.id)
		ELSE NOT EXISTS (SELECT 1 FROM paper_alternatives o WHERE o.paper_id = p.id AND o.letter = a.alternative) END`,

	`SELECT j.code || ' has a gap in its alternatives'
	FROM alternatives a JOIN jobs j ON j.id = a.job_id GROUP BY j.code
	HAVING count(*) = 1 OR min(a.letter) <> 'A' OR (count(*) = 2 AND max(a.letter) <> 'B')`,

	`SELECT 'the invoice ' || p.number || ' rests on no agreed quote of its job'
	FROM papers p WHERE p.kind = 'invoice' AND p.answers_id <> 0 AND NOT EXISTS (
		SELECT 1 FROM papers q JOIN acceptances a ON a.paper_id = q.id WHERE q.id = p.answers_id AND q.job_id = p.job_id)`,

	`SELECT 'payment ' || p.id || ' of ' || p.amount || ' cents has ' || sum(g.amount) || ' placed on invoices'
	FROM payments p JOIN placings g ON g.payment_id = p.id GROUP BY p.id, p.amount, p.kind
	HAVING (p.kind = 'payment' AND (sum(g.amount) < 0 OR sum(g.amount) > p.amount))
		OR (p.kind = 'reversal' AND (sum(g.amount) > 0 OR sum(g.amount) < p.amount)) OR p.kind = 'refund'`,

	`SELECT 'a placing of payment ' || g.payment_id || ' is on ' || i.number || ', which is no invoice of its farm'
	FROM placings g JOIN payments p ON p.id = g.payment_id JOIN papers i ON i.id = g.paper_id JOIN jobs j ON j.id = i.job_id
	WHERE i.kind <> 'invoice' OR j.farm_id <> p.farm_id`,

	`SELECT 'the reversal ' || r.id || ' does not take back payment ' || r.reverses_id || ' whole'
	FROM payments r LEFT JOIN payments p ON p.id = r.reverses_id
	WHERE r.kind = 'reversal' AND (p.id IS NULL OR p.farm_id <> r.farm_id OR p.amount + r.amount <> 0)`,

	`SELECT 'tub ' || t.number || ' of ' || j.code || ' and the movements of ' || d.kind || ' ' || d.id || ' are ' || sum(d.quantity) || ' apart'
	FROM (
		SELECT i.tub_id, 'lot' AS kind, i.lot_id AS id, i.grams AS quantity
			FROM tub_ingredients i JOIN tubs t ON t.id = i.tub_id WHERE t.unmixed_at IS NULL
		UNION ALL SELECT id, 'medium', product_id, medium_ml FROM tubs WHERE unmixed_at IS NULL AND medium_ml > 0
		UNION ALL SELECT tub_id, stock_kind, stock_id, quantity FROM movements WHERE tub_id <> 0
	) d JOIN tubs t ON t.id = d.tub_id JOIN jobs j ON j.id = t.job_id
	GROUP BY t.id, t.number, j.code, d.kind, d.id HAVING sum(d.quantity) <> 0`,

	`SELECT 'the clean-outs of ' || j.code || ' and the movements of ' || d.kind || ' ' || d.id || ' are ' || sum(d.quantity) || ' apart'
	FROM (
		SELECT c.job_id, 'lot' AS kind, l.lot_id AS id, l.grams AS quantity
			FROM clean_out_lots l JOIN clean_outs c ON c.id = l.clean_out_id WHERE c.undone_at IS NULL AND c.kept
		UNION ALL SELECT job_id, 'medium', product_id, medium_ml FROM clean_outs WHERE undone_at IS NULL AND kept
		UNION ALL SELECT job_id, stock_kind, stock_id, -quantity FROM movements WHERE job_id <> 0 AND tub_id = 0 AND drill_load_id = 0
	) d JOIN jobs j ON j.id = d.job_id
	GROUP BY j.code, d.kind, d.id HAVING sum(d.quantity) <> 0`,

	`SELECT 'a drill load of ' || j.code || ' and the movements of ' || d.kind || ' ' || d.id || ' are ' || sum(d.quantity) || ' apart'
	FROM (
		SELECT i.drill_load_id AS load_id, 'lot' AS kind, i.lot_id AS id, i.grams AS quantity
			FROM drill_load_lots i JOIN drill_loads l ON l.id = i.drill_load_id WHERE l.undone_at IS NULL
		UNION ALL SELECT drill_load_id, stock_kind, stock_id, quantity FROM movements WHERE drill_load_id <> 0
	) d JOIN drill_loads l ON l.id = d.load_id JOIN jobs j ON j.id = l.job_id
	GROUP BY l.id, j.code, d.kind, d.id HAVING sum(d.quantity) <> 0`,

	`SELECT 'the job ' || j.code || ' is on a paddock of another farm'
	FROM jobs j JOIN paddocks p ON p.id = j.paddock_id WHERE p.farm_id <> j.farm_id`,

	`SELECT 'the lot ' || code || ' has no balances' FROM lots l
	WHERE (SELECT count(*) FROM balances b WHERE b.kind = 'lot' AND b.id = l.id) <> 2`,

	`SELECT 'the lot ' || l.code || ' was poured ' || coalesce(sum(d.quantity), 0) || ' g away from what its sources say'
	FROM lots l JOIN (
		SELECT lot_id AS id, grams AS quantity FROM lot_sources
		UNION ALL SELECT source_id, -grams FROM lot_sources
		UNION ALL SELECT stock_id, -quantity FROM movements WHERE stock_kind = 'lot' AND kind = 'moved'
	) d ON d.id = l.id GROUP BY l.id, l.code HAVING sum(d.quantity) <> 0`,

	`SELECT 'the medium ' || name || ' has no balances' FROM products p
	WHERE (SELECT count(*) FROM balances b WHERE b.kind = 'medium' AND b.id = p.id) <> 2`,

	`SELECT 'the medium ' || p.name || ' is kept at ' || coalesce(w.value, 0) || ' cents, its movements add up to ' || coalesce(m.value, 0)
	FROM products p LEFT JOIN stock_worths w ON w.kind = 'medium' AND w.id = p.id
	LEFT JOIN (SELECT stock_id, sum(value) AS value FROM movements WHERE stock_kind = 'medium' GROUP BY stock_id) m ON m.stock_id = p.id
	WHERE w.id IS NULL OR w.value <> coalesce(m.value, 0)`,

	`SELECT 'nothing is on hand of the medium ' || p.name || ', and it is kept at ' || w.value || ' cents'
	FROM products p JOIN stock_worths w ON w.kind = 'medium' AND w.id = p.id
	WHERE w.value <> 0 AND (SELECT sum(on_hand) FROM balances b WHERE b.kind = 'medium' AND b.id = p.id) = 0`,

	`SELECT 'there are people but no business' FROM (SELECT count(*) AS n FROM people) p WHERE n > 0 AND NOT EXISTS (SELECT 1 FROM business)`,

	`SELECT 'no contractor can sign in' FROM business WHERE NOT EXISTS (SELECT 1 FROM people WHERE role = 'contractor' AND NOT "left")`,
}

// pointer is a column that names a row of another table, or none while it is 0; the
// engines cannot keep such a one as a foreign key.
type pointer struct{ table, column, to, only string }

var pointers = []pointer{
	{"jobs", "paddock_id", "paddocks", ""},
	{"recipes", "product_id", "products", ""},
	{"recipes", "sower_id", "machines", ""},
	{"machines", "pulled_by_id", "machines", ""},
	{"tubs", "product_id", "products", ""},
	{"clean_outs", "product_id", "products", ""},
	{"tests", "copied_from", "tests", ""},
	{"movements", "job_id", "jobs", ""},
	{"movements", "tub_id", "tubs", ""},
	{"movements", "drill_load_id", "drill_loads", ""},
	{"papers", "person_id", "people", ""},
	{"papers", "answers_id", "papers", ""},
	{"journal", "person_id", "people", ""},
	{"balances", "id", "lots", "kind = 'lot'"},
	{"balances", "id", "products", "kind = 'medium'"},
	{"stock_worths", "id", "products", ""},
	{"held_back", "stock_id", "lots", "stock_kind = 'lot'"},
	{"held_back", "stock_id", "products", "stock_kind = 'medium'"},
}

// absentOnes finds the pointers to rows that are not there.
func absentOnes(db *gorm.DB) ([]string, error) {
	var broken []string
	for _, p := range pointers {
		only := p.only
		if only == "" {
			only = "1 = 1"
		}
		found, err := sentences(db, fmt.Sprintf(
			`SELECT 'a row of %[1]s names %[3]s ' || c.%[2]s || ', which is not there' FROM %[1]s c
			WHERE c.%[2]s <> 0 AND %[4]s AND NOT EXISTS (SELECT 1 FROM %[3]s p WHERE p.id = c.%[2]s)`,
			p.table, p.column, p.to, only))
		if err != nil {
			return nil, err
		}
		broken = append(broken, found...)
	}
	return broken, nil
}
