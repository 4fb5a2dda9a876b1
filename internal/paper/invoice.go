package paper

import (
	"slices"

	"rowtally/internal/bill"
)

// Invoice prints an invoice as issued: a tax invoice when the issuer is registered for
// the tax, else a plain invoice that says no tax has been charged. One without a number
// is plainly a draft and asks for nothing.
func (pr *Press) Invoice(p bill.Paper) ([]byte, error) {
	heading := "Invoice"
	if p.Registered {
		heading = "Tax invoice"
	}
	b, err := pr.newBilling(p, bill.Invoice, heading)
	if err != nil {
		return nil, err
	}
	b.add(b.parties(), gap(5), b.section("The work", false))
	told := slices.Concat(b.told("How it was measured", b.measured()), b.told("What stands behind it", p.Particulars))
	if !b.draft() {
		told = append(withNext(told), b.payment())
	}
	b.bill(slices.Concat([]piece{b.sums(), gap(2)}, told)...)
	return b.print()
}

// withNext keeps the last section of a paper, or the end of a long one, with what follows:
// what is to be paid does not stand on a page alone.
func withNext(pieces []piece) []piece {
	if n := len(pieces); n > 1 {
		pieces[n-1].glued, pieces[n-2].glued = true, true
	}
	return pieces
}

func (b *billing) measured() []bill.Particular {
	if b.paper.Basis == "" {
		return nil
	}
	return []bill.Particular{{Heading: b.rowKm(), Text: b.paper.Basis}}
}

// payment says how much, until when, where to, and under which reference.
func (b *billing) payment() piece {
	const (
		amountMM, toMM, underMM = 38.0, 76.0, 43.0
		betweenMM               = (rightMM - leftMM - amountMM - toMM - underMM) / 2
	)
	head := b.section("To pay", true)
	var what, where, under column
	what.put(b.soft, "amount", amountMM, 0)
	what.put(b.strong.at(11), b.amount(b.paper.Total), amountMM, 0)
	if b.paper.UntilOn != "" {
		what.put(b.strong, "by "+b.paper.UntilOn.String(), amountMM, 0)
	}
	where.put(b.soft, "to", toMM, 0)
	where.put(b.text, b.paper.PayTo, toMM, 0)
	under.put(b.soft, "reference", underMM, 0)
	under.put(b.strong.at(11), b.paper.PayReference(), underMM, 0)
	columns := []column{what, where, under}
	at := []float64{leftMM, leftMM + amountMM + betweenMM, rightMM - underMM}
	mm := 0.0
	for _, c := range columns {
		mm = max(mm, c.mm())
	}
	return piece{mm: sectionMM + mm + 2, draw: func(p *pen, y float64) {
		head.draw(p, y)
		for i, c := range columns {
			c.draw(p, at[i], y+sectionMM)
		}
	}}
}
