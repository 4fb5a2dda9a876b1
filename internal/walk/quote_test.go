package walk

import (
	"fmt"
)

func (w *walk) enterRates() {
	b := w.contractor
	b.open(w.job)
	b.press("Enter the rates")
	for i, r := range w.rates {
		line := fmt.Sprintf(" #%d", i+1)
		b.fill(fmt.Sprintf("Line %d", i+1), r.what, "Price a unit"+line, r.price)
		b.choose("Unit"+line, r.unit)
		if r.quantity == "" {
			b.choose("Quantity follows"+line, "the row-km sown")
		} else {
			b.choose("Quantity follows"+line, "as entered")
			b.typeIn("Quantity"+line, r.quantity)
		}
	}
	b.press("Keep the rates")
	quoted := w.billOf(w.plannedKm())
	b.shows("$" + quoted.Total + " " + w.inclTax() + "not quoted yet")
	w.next("Looked at", "Make the quote")
}

func (w *walk) plannedKm() string { return fixed(w.plan.RowM/1000, 2) }

// inclTax is what stands behind a total.
func (w *walk) inclTax() string {
	if w.registered {
		return "incl. GST, "
	}
	return ""
}

// issueQuote holds draft, paper and PDF against calc.
func (w *walk) issueQuote() {
	b, want := w.contractor, w.billOf(w.plannedKm())
	b.open(w.job)
	b.press("Make the quote")
	b.says("draft, not issued")
	w.pageBills(b, "", w.plannedKm(), want)
	b.press("Issue the quote")
	b.says("Issued.")
	b.headed(w.quoteNumber())
	w.pageBills(b, "", w.plannedKm(), want)
	b.draws("planned")
	w.quotePDF(b.read("Open the PDF"), want)
	w.next("Quoted", "The farmer's link")
}

func (w *walk) quoteNumber() string { return fmt.Sprintf("Q%d-0001", dayOf(w.t, 0).Year()) }

func (w *walk) quotePDF(p printed, want bill) {
	w.t.Helper()
	w.paperBills(p, w.plannedKm(), want)
	p.says("Quote", w.quoteNumber(), w.business, w.farm, w.paddock, dayShown(w.t, 0), "provisional",
		fmt.Sprintf("headland of %s m", w.layout.headlandM), fmt.Sprintf("alley %s m", w.layout.alleyM))
	if w.registered {
		p.says(exampleABN)
	}
	for _, l := range w.lots {
		p.says(fmt.Sprintf("%s %s, tested %s at %d %%", l.code, l.common, dayShown(w.t, -60), l.germination(w.t).Percent))
	}
}

// makeLink makes the farmer's link and copies it off the page.
func (w *walk) makeLink() {
	b := w.contractor
	b.open(w.farmPage)
	b.press("Make a link")
	b.says("The link is ready to copy.")
	w.link = ask[string](b, "value", "The farmer's link")
}
