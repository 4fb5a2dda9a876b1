package store

import (
	"testing"

	"rowtally/internal/bill"
	"rowtally/internal/fault"
	"rowtally/internal/job"
)

// What is only added to refuses every change, even past the store's own methods.
func TestWhatIsOnlyAddedToRefusesChange(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		full := quote(y.job)
		full.SownSheet = "{}"
		full.Particulars = append(full.Particulars, filledParticular)
		full.Lots = []bill.PaperLot{{LotID: y.lot, Code: "D1"}}
		full.Alternatives = alternativesOf(full)
		p := y.issue(full)
		y.must(s.KeepPDF(y.ctx, p.ID, []byte("pdf"), hashOf([]byte("pdf"))))
		y.agree(y.job)
		y.id(y.Ask(y.ctx, job.Act{Who: "the owner", Now: morning}, job.Question{JobID: y.job}, job.Word{Name: "the owner", Text: "when?"}))
		for table, column := range map[string]string{
			"journal": "what", "movements": "quantity", "papers": "total", "paper_lines": "net",
			"paper_particulars": "text", "paper_files": "pdf", "acceptances": "name", "paper_lots": "code", "paper_alternatives": "frozen",
			"questions": "line", "words": "text", "paper_sown": "sheet",
		} {
			before := rowsIn(t, s, table)
			if before == 0 {
				t.Errorf("%s is empty, nothing is tried", table)
			}
			for _, statement := range []string{"UPDATE " + table + " SET " + column + " = " + column, "DELETE FROM " + table} {
				if err := raw(t, s, statement); err == nil || !mention([]string{err.Error()}, "rows are only added") {
					t.Errorf("%s: %v", statement, err)
				}
			}
			if s.engine == onPostgres {
				if err := raw(t, s, "TRUNCATE "+table+" CASCADE"); err == nil {
					t.Errorf("%s was emptied", table)
				}
			}
			if after := rowsIn(t, s, table); after != before {
				t.Errorf("%s has %d rows, had %d", table, after, before)
			}
		}
	})
}

func TestTheJournalSaysWhatWasDoneAndByWhom(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		farmer := job.Act{Who: "farmer: A Farmer", Now: morning}
		p := y.quote(y.job)
		y.must(s.AcceptQuote(y.ctx, farmer, yesTo(p.ID), nil))
		refused(t, s.WriteOff(y.ctx, y.act(), job.LotStock, y.lot, 99_999, "mice"), fault.Refused, "quantity", "only")
		y.must(s.WriteOff(y.ctx, y.act(), job.LotStock, y.lot, 1_500, "mice"))
		lines, err := s.Journal(y.ctx, 3)
		y.must(err)
		want := []job.Entry{
			{Who: "Contractor One", What: "wrote off 1.500 kg of D1: mice", Noun: "lot", NounID: y.lot},
			{Who: "farmer: A Farmer", What: "accepted the quote Q2026-0001 for J-01 as A Farmer", Noun: "paper", NounID: p.ID},
			{Who: "Contractor One", What: "issued the quote Q2026-0001 for J-01, AUD 2,864.40", Noun: "paper", NounID: p.ID},
		}
		for i := range want {
			want[i].At, want[i].ID = morning.UTC(), lines[i].ID
		}
		same(t, lines, want)
		all, err := s.Journal(y.ctx, 0)
		y.must(err)
		if first := all[len(all)-1]; first.What != "set up The Seeders with Contractor One as its contractor" {
			t.Errorf("the journal begins with %+v", first)
		}
	})
}

// Each writing method leaves exactly one line, each refused one none.
func TestEveryActLeavesOneLine(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		for name, act := range everyAct(y) {
			before := rowsIn(t, s, "journal")
			y.must(act(y.act()))
			if n := rowsIn(t, s, "journal") - before; n != 1 {
				t.Errorf("to %s left %d lines in the journal, want 1", name, n)
			}
		}
		y.sound()
	})
}
