package walk

import (
	"fmt"
	"strings"
)

// issueInvoice bills the row-km measured at the prices agreed.
func (w *walk) issueInvoice() {
	b := w.contractor
	w.billed = w.billOf(w.sownKm())
	b.open(w.job)
	b.press("Make the invoice")
	b.says("draft, not issued")
	w.pageBills(b, "", w.sownKm(), w.billed)
	b.press("Issue the invoice")
	b.says("Issued.")
	b.headed(w.invoiceHeading() + " " + w.invoiceNumber())
	w.pageBills(b, "", w.sownKm(), w.billed)
	b.draws("planned", "sown")
	w.invoicePDF(b.read("Open the PDF"))
	b.press("Accounts")
	w.same("billed in all", b.row(w.invoiceNumber())["total"], w.billed.Total)
}

func (w *walk) invoiceNumber() string { return fmt.Sprintf("T%d-0001", dayOf(w.t, 0).Year()) }

func (w *walk) invoiceHeading() string {
	if w.registered {
		return "Tax invoice"
	}
	return "Invoice"
}

func (w *walk) invoicePDF(p printed) {
	w.t.Helper()
	w.paperBills(p, w.sownKm(), w.billed)
	p.says(w.invoiceHeading(), w.invoiceNumber(), w.business, w.farm, w.paddock, dayShown(w.t, 0), dayShown(w.t, 14),
		fmt.Sprintf("%s of %s row-km covered", w.sownKm(), w.plannedKm()),
		fmt.Sprintf("Quote %s, revision 1, of %s, agreed by %s", w.quoteNumber(), dayShown(w.t, 0), farmerName),
		"Example Account, BSB", "000-000, 123456")
	if !w.registered {
		p.says("No GST")
		if strings.Contains(p.text, "Tax invoice") {
			w.t.Error("a business that is not registered has issued a tax invoice")
		}
	}
}

// seasonIsOver finds nothing left to do.
func (w *walk) seasonIsOver() {
	b := w.contractor
	b.open("/")
	if due := ask[[]string](b, "due"); len(due) != 0 {
		w.t.Errorf("the season page still has %q", due)
	}
	b.open("/jobs")
	b.says("Nothing is open: every job is billed or declined.")
	w.same("stage", b.row("J-01")["stage"], "billed")
	b.press("Sign out")
	b.open(w.job)
	b.headed("Sign in")
}
