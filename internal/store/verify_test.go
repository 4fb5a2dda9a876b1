package store

import (
	"fmt"
	"testing"

	"rowtally/internal/bill"
	"rowtally/internal/job"
	"rowtally/internal/seed"
)

// fullYard is a yard with everything in it that a law speaks of.
func fullYard(t *testing.T, s *Store) yard {
	t.Helper()
	y := newYard(t, s)
	agreed := y.agree(y.job, claim(y.lot, 4_000))
	mixed := tub(y.job, y.lot, 400)
	mixed.ProductID, mixed.MediumML = y.medium, 156_000
	y.id(s.MixTub(y.ctx, y.act(), mixed))
	y.must(s.KeepPDF(y.ctx, agreed.ID, []byte("pdf"), hashOf([]byte("pdf"))))
	y.id(s.AddLog(y.ctx, y.act(), job.Log{JobID: y.job, Name: "day 1.gpx", Content: []byte("<gpx/>")}))
	other := y.newJob()
	p := invoice(other)
	p.AnswersID = y.agree(other).ID
	billed := y.issue(p)
	y.issue(adjusted(t, billed, "24.0"))
	first := y.id(s.Pay(y.ctx, y.act(), paid(y.farm, 100_00, bill.Placing{PaperID: billed.ID, Amount: 100_00})))
	back, err := y.account().Reversal(first)
	y.must(err)
	back.PaidOn = "2026-07-20"
	y.id(s.Pay(y.ctx, y.act(), back))
	y.must(s.KeepRecipe(y.ctx, y.act(), job.Recipe{JobID: y.job, ProductID: y.medium, Species: []job.RecipeSpecies{{Species: "x", LotIDs: []int64{y.lot}}}}))
	y.id(s.AddDocument(y.ctx, y.act(), seed.Document{LotID: y.lot, Title: "certificate", Content: []byte("%PDF-1.7")}))
	y.sound()
	return y
}

// Each law is broken by what no act would write; verify must say so.
func TestVerifyFindsEachBrokenLaw(t *testing.T) {
	paper := func(change string) string { return "UPDATE papers SET " + change + " WHERE number = 'Q2026-0001'" }
	cases := []struct{ breaks, says string }{
		{"UPDATE balances SET on_hand = on_hand + 1 WHERE kind = 'lot' AND place = 'shed'", "the balance of lot 1 in the shed is 9601, its movements add up to 9600"},
		{"DELETE FROM movements WHERE kind = 'received'", "the balance of medium 1 in the shed is 344000, its movements add up to -156000"},
		{"UPDATE held_back SET wanted = 9601, held = 9601", "lot 1 has 9601 held back and 9600 on hand"},
		{"DELETE FROM acceptances", "stock is held back for J-01, which no farmer has agreed to"},
		{"DELETE FROM papers WHERE number = 'Q2026-0001'", "the quote series of 2026 has 1 papers and stands at 2"},
		{"UPDATE series SET last = 3 WHERE kind = 'quote'", "the quote series of 2026 has 2 papers and stands at 3"},
		{"DELETE FROM series WHERE kind = 'invoice'", "the paper T2026-0001 is in no series"},
		{paper("number = 'Q2026-0009'"), "the paper Q2026-0009 is number 1 of its series and should be Q2026-0001"},
		{paper("issued_on = '2025-12-31'"), "the paper Q2026-0001 of 31 Dec 2025 is in the series of 2026"},
		{paper("revision = 2"), "the quotes of J-01 have a gap in their revisions"},
		{paper("total = total + 1"), "the paper Q2026-0001 does not add up: the total says 2864.41 and comes to 2864.40"},
		{paper("tax_total = 0, total = net_total"), "the paper Q2026-0001 does not add up: the tax says 0.00 and comes to 260.40"},
		{"UPDATE paper_lines SET quantity = '24.9' WHERE paper_id = 1", "the paper Q2026-0001 does not add up: line 1 says 2604.00 and comes to 2614.50"},
		{"DELETE FROM paper_lines WHERE paper_id = 1", "the paper Q2026-0001 does not add up"},
		{"UPDATE paper_files SET pdf = 'x'", "the PDF of the paper Q2026-0001 is not the one that was kept"},
		{"UPDATE logs SET sha256 = 'other'", "the log day 1.gpx is not the one that was loaded"},
		{paper("kind = 'invoice', serial = 2"), "the yes of A Farmer rests on Q2026-0001, which is no quote"},
		{"UPDATE acceptances SET alternative = 'B'", "the yes of A Farmer to Q2026-0001 names none of the alternatives that it offers"},
		{"INSERT INTO alternatives (job_id, letter, name, layout, recipe, rates) VALUES (1, 'C', 'x', '', '', '')", "J-01 has a gap in its alternatives"},
		{"UPDATE papers SET answers_id = 1 WHERE kind = 'invoice'", "the invoice T2026-0001 rests on no agreed quote of its job"},
		{"UPDATE placings SET amount = 10001 WHERE payment_id = 1", "payment 1 of 10000 cents has 10001 placed on invoices"},
		{"UPDATE placings SET paper_id = 1 WHERE payment_id = 1", "a placing of payment 1 is on Q2026-0001, which is no invoice of its farm"},
		{"UPDATE payments SET amount = -9999 WHERE kind = 'reversal'", "the reversal 2 does not take back payment 1 whole"},
		{"UPDATE papers SET answers_number = 'T2026-0009' WHERE kind = 'adjustment note'", "the adjustment note A2026-0001 does not stand on its invoice"},
		{"UPDATE adjusted_lines SET net = net + 1", "the paper A2026-0001 does not add up: line 1 says"},
		{"UPDATE tub_ingredients SET grams = 401", "tub 1 of J-01 and the movements of lot 1 are 1 apart"},
		{"UPDATE tubs SET medium_ml = 0", "tub 1 of J-01 and the movements of medium 1 are -156000 apart"},
		{"UPDATE tubs SET unmixed_at = mixed_at", "tub 1 of J-01 and the movements of lot 1 are -400 apart"},
		{"UPDATE lot_documents SET sha256 = 'other'", "the document certificate is not the one that was kept"},
		{"INSERT INTO lot_sources (lot_id, position, source_id, grams) VALUES (1, 0, 1, 10), (2, 0, 1, 10)", "the lot D1 was poured -10 g away from what its sources say"},
		{"INSERT INTO tests (lot_id, kind, certificate, tested_on, laboratory, reference, method, note, copied_from) VALUES (1, 'germination', '', '2026-01-01', '', '', '', '', 22)", "a row of tests names tests 22, which is not there"},
		{"UPDATE jobs SET paddock_id = 99 WHERE code = 'J-01'", "a row of jobs names paddocks 99, which is not there"},
		{"UPDATE movements SET tub_id = 77 WHERE tub_id <> 0", "a row of movements names tubs 77, which is not there"},
		{"UPDATE recipes SET product_id = 55", "a row of recipes names products 55, which is not there"},
		{"UPDATE papers SET person_id = 44", "a row of papers names people 44, which is not there"},
		{"UPDATE journal SET person_id = 44", "a row of journal names people 44, which is not there"},
		{"UPDATE held_back SET stock_id = 33", "a row of held_back names lots 33, which is not there"},
		{"DELETE FROM lots", "a row of balances names lots 1, which is not there"},
		{"DELETE FROM balances WHERE place = 'truck' AND kind = 'lot'", "the lot D1 has no balances"},
		{"DELETE FROM balances WHERE place = 'truck' AND kind = 'medium'", "the medium vermiculite has no balances"},
		{"DELETE FROM business", "there are people but no business"},
		{`UPDATE people SET "left" = true`, "no contractor can sign in"},
		{"UPDATE jobs SET farm_id = 66 WHERE code = 'J-02'", "the job J-02 is on a paddock of another farm"},
		{"DELETE FROM farms", "refers to a row of farms that is not there"},
		{"UPDATE recipe_lots SET species_position = 9", "refers to a row of recipe_species that is not there"},
		{"UPDATE movements SET place = 'barn' WHERE stock_kind = 'lot'", "refers to a row of balances that is not there"},
	}
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := fullYard(t, s)
		for _, c := range cases {
			if broken := brokenBy(t, s, c.breaks); !mention(broken, c.says) {
				t.Errorf("%s: verify says %q, not %q", c.breaks, broken, c.says)
			}
		}
		y.sound()
	})
}

func TestVerifyIsSilentOnASoundStore(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		if broken, err := s.Verify(t.Context()); err != nil || len(broken) != 0 {
			t.Errorf("an empty store: %v, %v", broken, err)
		}
		y := fullYard(t, s)
		y.must(s.UnmixTub(y.ctx, y.act(), 1))
		y.must(s.ReclaimStock(y.ctx, y.act(), y.job, []job.Held{claim(y.lot, 20_000)}))
		y.sound()
	})
}

// Verify reads the store of one moment: acts that go on meanwhile break no law.
func TestVerifyWhileTheStoreIsWritten(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		errs := crowd(6, func(i int) error {
			for n := range 15 {
				if i < 2 {
					broken, err := s.Verify(y.ctx)
					if err == nil && len(broken) > 0 {
						err = fmt.Errorf("broken: %v", broken)
					}
					if err != nil {
						return err
					}
					continue
				}
				if _, err := s.MixTub(y.ctx, y.act(), tub(y.job, y.lot, int64(n+1))); err != nil {
					return err
				}
			}
			return nil
		})
		for _, err := range errs {
			y.must(err)
		}
	})
}

// A variation is billed with its yes and no further.
func TestVerifyFollowsVariations(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		agreed := y.agree(y.job)
		v := quote(y.job)
		v.Kind, v.AnswersID, v.Lines[0].Description, v.Lines[0].Basis = bill.Variation, agreed.ID, "stumps", bill.Fixed
		v = y.issue(v)
		y.must(s.AcceptQuote(y.ctx, y.act(), bill.Acceptance{PaperID: v.ID, Name: "A Farmer"}, nil))
		billed := invoice(y.job)
		billed.AnswersID, billed.Lines[0].Description = agreed.ID, v.Varied(v.Lines[0])
		y.issue(billed)
		y.sound()
		for _, breaks := range []string{
			"UPDATE paper_lines SET quantity = '24.7' WHERE description = 'stumps'",
			"UPDATE paper_lines SET unit_price = '104' WHERE description = 'stumps'",
			"DELETE FROM acceptances WHERE paper_id = 2",
		} {
			if broken := brokenBy(t, s, breaks); !mention(broken, "the invoice T2026-0001 bills more of the variation V2026-0001 than was agreed") {
				t.Errorf("%s: verify says %q", breaks, broken)
			}
		}
	})
}
