package store

import (
	"fmt"
	"testing"

	"rowtally/internal/bill"
	"rowtally/internal/fault"
	"rowtally/internal/money"
	"rowtally/internal/unit"
)

func TestEachKindHasItsOwnNumbersInEachYear(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		other, third := y.newJob(), y.newJob()
		for _, c := range []struct {
			paper    bill.Paper
			on       unit.Date
			number   string
			revision int
		}{
			{quote(y.job), "", "Q2026-0001", 1},
			{quote(y.job), "2026-12-31", "Q2026-0002", 2},
			{invoice(y.job), "2026-12-31", "T2026-0001", 0},
			{quote(other), "2027-01-01", "Q2027-0001", 1},
			{quote(y.job), "2027-01-01", "Q2027-0002", 3},
			{invoice(third), "2026-12-31", "T2026-0002", 0},
		} {
			c.paper.IssuedOn = c.on
			p := y.issue(c.paper)
			if p.Number != c.number || p.Revision != c.revision {
				t.Errorf("the paper is %s, revision %d, want %s, %d", p.Number, p.Revision, c.number, c.revision)
			}
			if c.on == "" && p.IssuedOn != "2026-07-20" {
				t.Errorf("the paper was issued on %s, want the day of the act", p.IssuedOn)
			}
		}
		y.sound()
	})
}

func TestAPaperThatDoesNotAddUpIsNotIssued(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		for says, spoil := range map[string]func(*bill.Paper){
			"line 1 says 2604.01":    func(p *bill.Paper) { p.Lines[0].Net++; p.NetTotal++; p.Total++ },
			"the tax says 260.41":    func(p *bill.Paper) { p.TaxTotal++; p.Total++ },
			"the total says 2864.41": func(p *bill.Paper) { p.Total++ },
			"without tax says":       func(p *bill.Paper) { p.NetTotal++ },
		} {
			p := quote(y.job)
			spoil(&p)
			_, err := s.IssuePaper(y.ctx, y.act(), p)
			refused(t, err, fault.Internal, "", says)
		}
		empty := quote(y.job)
		empty.Lines = nil
		refused(t, second(s.IssuePaper(y.ctx, y.act(), empty)), fault.Refused, "lines", "at least one")
		odd := quote(y.job)
		odd.Kind = "receipt"
		refused(t, second(s.IssuePaper(y.ctx, y.act(), odd)), fault.Refused, "kind", "choose quote, estimate, variation, invoice or adjustment note")
		if p := y.quote(y.job); p.Number != "Q2026-0001" {
			t.Errorf("papers that were refused used up numbers: the first one is %s", p.Number)
		}
	})
}

func TestLinesKeepTheirOrderAndEveryDigit(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		p := quote(y.job)
		p.Lines, p.NetTotal = nil, 0
		for i := range 12 {
			line := bill.PaperLine{Description: fmt.Sprint("line ", i), Quantity: money.Whole(1), TaxCategory: "Z", TaxPercent: money.Whole(0),
				UnitPrice: money.MustFactor(fmt.Sprintf("0.%d39680000000000001", i%10))}
			line.Net = line.UnitPrice.Cents()
			p.NetTotal += line.Net
			p.Lines = append(p.Lines, line)
		}
		p.TaxTotal, p.Total = 0, p.NetTotal
		issued := y.issue(p)
		for i, line := range issued.Lines {
			if line.Description != fmt.Sprint("line ", i) || line.UnitPrice.String() != p.Lines[i].UnitPrice.String() {
				t.Errorf("line %d came back as %s at %s", i, line.Description, line.UnitPrice)
			}
		}
	})
}

func TestAPDFIsKeptOnce(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		p := y.quote(y.job)
		pdf, other := []byte("%PDF-1.3 one"), []byte("%PDF-1.3 two")
		refused(t, pdfOf(s, y, p.ID), fault.Missing, "", "no PDF of this paper is kept yet")
		refused(t, s.KeepPDF(y.ctx, p.ID, pdf, hashOf(other)), fault.Internal, "", "its hash is")
		y.must(s.KeepPDF(y.ctx, p.ID, pdf, hashOf(pdf)))
		y.must(s.KeepPDF(y.ctx, p.ID, pdf, hashOf(pdf)))
		refused(t, s.KeepPDF(y.ctx, p.ID, other, hashOf(other)), fault.Clash, "", "an issued paper never changes")
		refused(t, s.KeepPDF(y.ctx, 99, pdf, hashOf(pdf)), fault.Missing, "", "no paper")
		got, hash, err := s.PDF(y.ctx, p.ID)
		y.must(err)
		if string(got) != string(pdf) || hash != hashOf(pdf) {
			t.Errorf("the PDF is %q with the hash %s", got, hash)
		}
		after, err := s.Paper(y.ctx, p.ID)
		y.must(err)
		if after.SHA256 != hash {
			t.Errorf("the paper says its hash is %q", after.SHA256)
		}
		y.sound()
	})
}

func pdfOf(s *Store, y yard, id int64) error {
	_, _, err := s.PDF(y.ctx, id)
	return err
}
