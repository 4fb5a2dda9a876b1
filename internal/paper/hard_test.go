package paper_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"rowtally/internal/bill"
	"rowtally/internal/job"
	"rowtally/internal/money"
	"rowtally/internal/paper"
)

// hard are papers that a layout finds hard, each looked at as a picture; the figures are
// invented.
var hard = map[string]func(*paper.Press) ([]byte, error){
	"inclusive":  func(pr *paper.Press) ([]byte, error) { return pr.Invoice(inclusive()) },
	"deposit":    func(pr *paper.Press) ([]byte, error) { return pr.Invoice(deposit()) },
	"claim":      func(pr *paper.Press) ([]byte, error) { return pr.Invoice(claim()) },
	"scripts":    func(pr *paper.Press) ([]byte, error) { return pr.Invoice(scripts()) },
	"unbroken":   func(pr *paper.Press) ([]byte, error) { return pr.Invoice(unbroken()) },
	"mixing-six": func(pr *paper.Press) ([]byte, error) { return pr.Mixing(sixLots(1)) },
	"mixing-two": func(pr *paper.Press) ([]byte, error) { return pr.Mixing(sixLots(4)) },
	"sown":       func(pr *paper.Press) ([]byte, error) { return pr.Sown(sownSheet(74)) },
}

func init() {
	for name, print := range hard {
		printings[name] = print
	}
}

// inclusive is an invoice whose prices hold the tax.
func inclusive() bill.Paper {
	p := invoice()
	p.Inclusive = true
	p.Total = p.NetTotal
	p.TaxTotal = p.Total.Factor().Times(money.MustFactor("0.0909090909")).Cents()
	p.NetTotal = p.Total - p.TaxTotal
	return p
}

// deposit asks for a share of the agreed price before the work.
func deposit() bill.Paper {
	p := invoice()
	p.Part, p.RowM, p.Basis, p.Map = bill.Deposit, 0, "", ""
	p.Particulars = []bill.Particular{{Heading: "Agreed", Text: "Quote Q2026-0012, revision 2, of 20 Jul 2026, agreed by the owner on 22 Jul 2026."}}
	return totalled(p, priced("Deposit, 20 % of the agreed price", "each", "1", "883.80"))
}

// claim bills what is done so far and takes off two earlier invoices, one at two rates.
func claim() bill.Paper {
	p := invoice()
	p.Part = bill.Progress
	off := func(number, net string, id int64) bill.PaperLine {
		line := priced("Less billed on "+number, "each", "-1", net)
		line.LessID = id
		return line
	}
	free := off("T2026-0006 of 10 Jul 2026", "165.00", 6)
	free.TaxCategory, free.TaxPercent = "Z", money.Whole(0)
	p = totalled(p, append(sowingLines("12.4"), off("T2026-0005 of 2 Jul 2026", "883.80", 5), off("T2026-0006 of 10 Jul 2026", "1234.56", 6), free)...)
	p.TaxTotal = (p.NetTotal - free.Net).Factor().Times(money.MustFactor("0.1")).Cents()
	p.Total = p.NetTotal + p.TaxTotal
	return p
}

// scripts is an invoice with names of several scripts, and of one that no typeface has.
func scripts() bill.Paper {
	p := invoice()
	p.Buyer = bill.Party{Name: "Αλμυρό Χωράφι Ο.Ε.", Address: "Οδός Παραδείγματος 9\nСолончакова вул. 3, Приклад"}
	p.Farm, p.Paddock = "Солончак Їжакевич", "Łąka Żółć Ñandú Şırınğa"
	p.Lines[0].Description = "Налаштування, калібрування і чищення бункера; ρύθμιση και καθαρισμός"
	p.Lines[1].Description = "Příjezd a odjezd, Øvre Å – 漢字"
	return p
}

// unbroken is an invoice of a farm with a name of 200 characters, and descriptions of 200,
// without a space in them.
func unbroken() bill.Paper {
	p := invoice()
	p.Farm = strings.Repeat("Limestonegutter", 14)[:200]
	p.Buyer.Name, p.Paddock = p.Farm, strings.Repeat("Paddock", 29)[:200]
	for i := range p.Lines {
		p.Lines[i].Description = strings.Repeat(fmt.Sprintf("unbroken%d", i), 23)[:200]
	}
	return p
}

// sixLots is a mixing sheet of four species in six lots, one of them treated, with so many
// tubs.
func sixLots(tubs int) job.MixingSheet {
	s := sheet(0)
	s.Lots = nil
	for i, name := range []string{"old man saltbush, fruit, bracts on", "old man saltbush, fruit, bracts on", "wavy leaf saltbush, seed, bracts removed",
		"wavy leaf saltbush, seed, bracts removed", "river saltbush, fruit, bracts on", "small leaf bluebush, winged fruit"} {
		species := []string{"Atriplex nummularia", "Atriplex nummularia", "Atriplex undulata", "Atriplex undulata", "Atriplex amnicola", "Maireana brevifolia"}[i]
		s.Lots = append(s.Lots, job.SheetLot{LotID: int64(i + 1), Code: fmt.Sprintf("D26-%02d", i+1), Name: name, Species: species, Grams: 3390 + 1000*float64(i),
			Live: "tested 10 Feb 2026 at 34 %: 26.1 live per g (95 %: 22.5 to 29.8)"})
	}
	s.Lots[3].Treated = "insecticide of 3 Mar 2026"
	s.Cautions = append(slices.Clone(s.Cautions), "Treated seed in this mix: gloves, read its label, never feed, keep it from stock and birds.")
	s.Tubs = nil
	for i := range tubs {
		s.Tubs = append(s.Tubs, job.SheetTub{Number: i + 1, MixL: 160, MediumL: 151.4, RowM: 10666.7, Grams: []float64{4092, 1308, 308.5, 226, 1995, 87}})
	}
	return s
}

// Six lots of four species are one page, and more tubs run over in whole: the last page has
// a tub beside its catch test. The digits are larger than 11 pt.
func TestSixLotsAreOnePage(t *testing.T) {
	pr := press(t)
	for _, c := range []struct{ tubs, pages int }{{1, 1}, {2, 1}, {4, 2}} {
		pdf, err := pr.Mixing(sixLots(c.tubs))
		pages := pagesOf(t, printed(t, pdf, err))
		if len(pages) != c.pages {
			t.Errorf("%d tubs of six lots take %d pages, not %d", c.tubs, len(pages), c.pages)
		}
		if last := pages[len(pages)-1]; !strings.Contains(last, "Catch test") || !strings.Contains(last, fmt.Sprintf("Tub %d of", c.tubs)) {
			t.Errorf("%d tubs: the last page holds no tub with its catch test", c.tubs)
		}
		for _, w := range words(t, pdf) {
			if slices.Contains([]string{"308.5", "226", "87", "151.4"}, w.text) && w.pt() <= 11 {
				t.Errorf("%d tubs: %s is set at %.1f pt", c.tubs, w.text, w.pt())
			}
		}
	}
}

// A record's last page is worth its paper: as many rows as are kept together, or more.
func TestNoPageOfASownRecordIsNearlyEmpty(t *testing.T) {
	for rows := 1; rows <= 160; rows += 3 {
		pdf, err := press(t).Sown(sownSheet(rows))
		pages := pagesOf(t, printed(t, pdf, err))
		if got := strings.Count(pages[len(pages)-1], "310.4"); got < min(rows, 6) {
			t.Errorf("%d rows: the last of %d pages holds %d", rows, len(pages), got)
		}
	}
}

// What no typeface of the papers has is a question mark, and the paper says so.
func TestAPaperSaysThatACharacterIsLacking(t *testing.T) {
	pr := press(t)
	pdf, err := pr.Invoice(scripts())
	text := textOf(t, printed(t, pdf, err))
	holds(t, text, "Αλμυρό Χωράφι Ο.Ε.", "Солончак Їжакевич", "Łąka Żółć Ñandú Şırınğa", "Øvre Å – ??", lackingSays)
	pdf, err = pr.Invoice(invoice())
	lacks(t, textOf(t, printed(t, pdf, err)), lackingSays)
}

const lackingSays = "? stands for a character that the typeface lacks"

// The words come out of the file in the order in which a person reads them.
func TestAPaperIsReadInItsOrder(t *testing.T) {
	pdf, err := press(t).Invoice(claim())
	text := run(t, printed(t, pdf, err), "pdftotext", "-raw", "PAPER", "-")
	at := 0
	for _, next := range []string{"Samphire Row Seeding", "Tax invoice", "T2026-0007", "progress claim", "Brackwater Flat", "Lagoon", "Set-up: calibration",
		"Less billed on T2026-0005", "Less billed on T2026-0006", "total ex GST", "Total incl. GST", "How it was measured", "To pay"} {
		found := strings.Index(text[at:], next)
		if found < 0 {
			t.Fatalf("%q does not come after what stands before it:\n%s", next, text)
		}
		at += found
	}
}
