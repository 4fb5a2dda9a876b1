package job

import (
	"fmt"
	"strings"
	"testing"

	"rowtally/internal/bill"
	"rowtally/internal/fault"
	"rowtally/internal/machine"
)

// rowless is a job of understorey alone: hectares and kilograms, and no row.
func rowless(t *testing.T) Facts {
	f := sceneOf(t, 24)
	f.Layout, f.Recipe = nil, nil
	f.Rates = []bill.Rate{
		rate("Drilling understorey, net hectares", "ha", "22.0", "46.00"),
		rate("Puccinellia, 3 kg/ha", "kg", "66", "16.24"),
	}
	return f
}

// Worked by hand: 22.0 x 46.00 and 66 x 16.24 are 1,012.00 and 1,071.84.
func TestAJobWithoutRowsIsQuotedWithoutRowKm(t *testing.T) {
	quote, err := QuoteDraft(rowless(t))
	if err != nil {
		t.Fatal(err)
	}
	sameText(t, "lines", nets(quote), "1,012.00", "1,071.84")
	sameText(t, "sums", []string{quote.NetTotal.Shown(), quote.TaxTotal.Shown(), quote.Total.Shown()}, "2,083.84", "208.38", "2,292.22")
	if quote.RowM != 0 || quote.Map != "" || strings.Contains(quote.Basis, "row") || strings.Contains(fmt.Sprint(quote.Particulars), "row") {
		t.Errorf("the quote speaks of rows: %v m, %q, %+v", quote.RowM, quote.Basis, quote.Particulars)
	}
}

// Its day sheets are what shows that it was done; then it is billed as agreed.
func TestAJobWithoutRowsIsBilledAfterItsDaySheet(t *testing.T) {
	f := rowless(t).quoted(t, 1, "2026-07-01").agreed(1, "2026-07-03")
	if _, err := InvoiceDraft(f); fault.KindOf(err) != fault.Clash || !strings.Contains(err.Error(), "Enter its day sheet") {
		t.Errorf("before any work: %v", err)
	}
	f.DaySheets = []machine.DaySheet{{Day: "2026-07-18", MeterToMin: 480}}
	invoice, err := InvoiceDraft(f)
	if err != nil {
		t.Fatal(err)
	}
	sameText(t, "lines", nets(invoice), "1,012.00", "1,071.84")
	if invoice.RowM != 0 || invoice.Map != "" || invoice.Basis != "" || invoice.AnswersID != 1 || invoice.Total.Shown() != "2,292.22" {
		t.Errorf("the invoice is %+v", invoice)
	}
}

func TestTheChainOfAJobWithoutRowsLeadsToItsInvoice(t *testing.T) {
	f := rowless(t)
	for _, c := range []struct {
		act   func(Facts) Facts
		stage Stage
		next  Next
	}{
		{func(f Facts) Facts { return f }, Asked, Next{"Make the quote", "/jobs/3/quote"}},
		{func(f Facts) Facts { return f.quoted(t, 1, "2026-07-01") }, Quoted, Next{"The farmer's link", "/farms/1#link"}},
		{func(f Facts) Facts { return f.agreed(1, "2026-07-03") }, Agreed, Next{"Day sheet", "/truck/3/day"}},
		{func(f Facts) Facts { f.DaySheets = []machine.DaySheet{{Day: "2026-07-18", MeterToMin: 480}}; return f }, Sowing, Next{"Make the invoice", "/jobs/3/invoice"}},
	} {
		f = c.act(f)
		chain := ChainOf(f)
		if chain.Stage != c.stage || chain.Next != c.next || len(chain.Trouble) != 0 {
			t.Errorf("%s: next %+v, trouble %q; want %s and %+v", chain.Stage, chain.Next, chain.Trouble, c.stage, c.next)
		}
		for _, link := range chain.Links {
			if strings.Contains(link.Says, "After the rows") || strings.Contains(link.Says, "row-km") {
				t.Errorf("%s, %s: %q", chain.Stage, link.Name, link.Says)
			}
		}
	}
	f.Papers = append(f.Papers, bill.Paper{ID: 2, Kind: bill.Invoice, Number: "T2026-0001", IssuedOn: today, UntilOn: today.Plus(14), Total: 229_222})
	if says := ChainOf(f).Links[7].Says; says != "T2026-0001 of 20 Jul 2026, due 3 Aug 2026." {
		t.Errorf("billed, the chain says %q", says)
	}
}

func TestNoTubIsMixedForAJobWithoutRows(t *testing.T) {
	if _, err := MixingSheetOf(rowless(t)); fault.KindOf(err) != fault.Clash || err.Error() != "Bore is priced without rows, so there is no tub to mix for it." {
		t.Errorf("the sheet says %v", err)
	}
	if claims, err := Claims(rowless(t)); err != nil || len(claims) != 0 {
		t.Errorf("claims %v, %v", claims, err)
	}
}
