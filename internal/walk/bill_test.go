package walk

import (
	"strconv"
	"testing"
)

// bill is calc's answer to a bill, amounts as text.
type bill struct {
	Lines []struct {
		Net string `json:"net"`
	} `json:"lines"`
	Net   string `json:"total_excl"`
	Tax   string `json:"total_tax"`
	Total string `json:"total_incl"`
}

// billOf is calc's bill of the season's rates over some row-km, to the ten metres that
// papers state.
func (w *walk) billOf(rowKm string) bill {
	w.t.Helper()
	category, percent := "O", "0"
	if w.registered {
		category, percent = "S", "10"
	}
	var lines []map[string]string
	for _, r := range w.rates {
		lines = append(lines, map[string]string{"quantity": r.over(rowKm), "unit_price": r.price, "tax_category": category, "tax_percent": percent})
	}
	out := calc[bill](w.t, "bill-totals", map[string]any{"lines": lines})
	w.addsUp(out)
	return out
}

// over is a line's quantity: its own, or the row-km.
func (r rate) over(rowKm string) string {
	if r.quantity == "" {
		return rowKm
	}
	return r.quantity
}

// addsUp does a bill's sums again in whole cents.
func (w *walk) addsUp(b bill) {
	w.t.Helper()
	sum := 0
	for _, l := range b.Lines {
		sum += cents(w.t, l.Net)
	}
	tax := 0
	if w.registered {
		tax = (sum + 5) / 10 // a tenth, halves up
	}
	if cents(w.t, b.Net) != sum || cents(w.t, b.Tax) != tax || cents(w.t, b.Total) != sum+tax {
		w.t.Errorf("lines of %d cents with %d of tax, calc says %+v", sum, tax, b)
	}
}

func cents(t *testing.T, amountText string) int {
	t.Helper()
	v, err := strconv.ParseFloat(amountText, 64)
	if err != nil {
		t.Fatal(err)
	}
	if v < 0 {
		return int(v*100 - 0.5)
	}
	return int(v*100 + 0.5)
}

// pageBills holds a bill on a page, under a heading, against calc's.
func (w *walk) pageBills(b *browser, heading, rowKm string, want bill) {
	w.t.Helper()
	under := ""
	if heading != "" {
		under = heading + ": "
	}
	const amountHeading = "amount ex GST"
	for i, r := range w.rates {
		cells := b.row(under + r.what)
		w.same(r.what+" quantity", cells["quantity"], r.over(rowKm))
		w.same(r.what+" unit", cells["unit"], r.unit)
		w.same(r.what+" price", cells["price a unit"], r.price)
		w.same(r.what+" amount", cells[amountHeading], want.Lines[i].Net)
	}
	sums := map[string]string{"Total": want.Total}
	if w.registered {
		sums["Sum ex GST"], sums["GST"] = want.Net, want.Tax
	}
	for name, total := range sums {
		w.same(name, b.row(under + name)[amountHeading], total)
	}
	if !w.registered {
		b.says("No GST has been charged.")
	}
}

// paperBills holds a bill in a PDF against calc's.
func (w *walk) paperBills(p printed, rowKm string, want bill) {
	w.t.Helper()
	for i, r := range w.rates {
		p.line(r.what, r.over(rowKm), r.price, want.Lines[i].Net)
	}
	p.says(want.Total)
	if w.registered {
		p.line("total ex GST", want.Net)
		p.line("GST", want.Tax)
	}
}
