package walk

const farmerName = "Dune Farmer"

// farmerSaysYes opens the link in a browser that has no session, reads the quote, and
// says yes to it.
func (w *walk) farmerSaysYes() {
	b := newBrowser(w.t, w.site, laptop, w.scripts)
	w.farmer = b
	b.open(w.link)
	b.headed(w.paddock)
	want := w.billOf(w.plannedKm())
	w.pageBills(b, "", w.plannedKm(), want)
	b.draws("planned")
	for _, l := range w.lots {
		cells := b.row("Seed and its tests: " + l.code)
		w.same(l.code+" purity", cells["purity %"], fixed(amount(w.t, l.purityPercent), 1))
		w.same(l.code+" germination", cells["germination %"], fixed(l.germination(w.t).Exact, 0))
	}
	w.quotePDF(b.read("Open the PDF"), want)
	b.press("Yes to " + w.quoteNumber())
	if b.status != 422 {
		w.t.Errorf("a yes without a name was answered %d", b.status)
	}
	b.says("Type your name")
	b.typeIn("Your name", farmerName)
	b.press("Yes to " + w.quoteNumber())
	b.says("Thank you. Your yes is kept with its time.", "You said yes to "+w.quoteNumber(), "as "+farmerName)
	if cookies := b.cookies(); len(cookies) > 0 {
		w.t.Errorf("the farmer's browser was given %v", cookies)
	}
	w.next("Agreed", "At the truck")
}

// stockIsHeldBack finds in the shed what the farmer's yes has claimed.
func (w *walk) stockIsHeldBack() {
	b := w.contractor
	b.open("/shed")
	for _, s := range w.worked.Species {
		for _, l := range s.Lots {
			kept := b.stock(w.t, l.Code, "kg")
			w.close(l.Code+" held back", kept.held, l.WeighedKg)
			w.close(l.Code+" free", kept.free, kept.onHand-l.WeighedKg)
		}
	}
	w.close("medium held back", b.stock(w.t, w.medium.name, "L").held, w.worked.MediumL)
	b.press(w.lots[0].code)
	b.says("Held back for", w.paddock)
}

// close holds a figure of the shed, which shows tenths, against what it should be.
func (w *walk) close(what string, shown, want float64) {
	w.t.Helper()
	if !near(shown, want, 0.0501) {
		w.t.Errorf("%s: the shed shows %.1f, want %.3f", what, shown, want)
	}
}

// farmerChecksInvoice opens the link again once the work is billed.
func (w *walk) farmerChecksInvoice() {
	b := w.farmer
	b.open(w.link)
	b.says("Invoice "+w.invoiceNumber(), "billed")
	w.pageBills(b, "Invoice", w.sownKm(), w.billed)
	w.invoicePDF(b.read("Invoice: Open the PDF"))
	w.pageBills(b, "Quote", w.plannedKm(), w.billOf(w.plannedKm()))
	b.draws("planned", "sown")
	b.shows(w.plannedKm()+" row-km planned", w.sownKm()+" sown")
	b.unfold("The rows behind the row-km lines")
	w.rowsMatch(b)
	if covered := w.coveredOf(b); !near(covered, 1000*amount(w.t, w.sownKm()), 5+0.05*float64(len(w.sown.Rows))) {
		w.t.Errorf("the rows behind the invoice add up to %.1f m, its row-km are %s", covered, w.sownKm())
	}
}
