package paper

import "rowtally/internal/bill"

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
	b.add(b.lines()...)
	b.add(b.sums(), gap(2))
	b.add(b.told("How it was measured", b.measured())...)
	b.add(b.told("What stands behind it", p.Particulars)...)
	if !b.draft() {
		b.add(b.payment())
	}
	return b.print()
}

func (b *billing) measured() []bill.Particular {
	if b.paper.Basis == "" {
		return nil
	}
	return []bill.Particular{{Heading: b.rowKm(), Text: b.paper.Basis}}
}

// payment says how much, until when, where to, and under which reference.
func (b *billing) payment() piece {
	const eachMM = 54.0
	head := b.section("To pay", true)
	var what, where, under column
	what.put(b.soft, "amount", eachMM, 0)
	what.put(b.strong.at(11), b.amount(b.paper.Total), eachMM, 0)
	if b.paper.UntilOn != "" {
		what.put(b.strong, "by "+b.paper.UntilOn.String(), eachMM, 0)
	}
	where.put(b.soft, "to", eachMM, 0)
	where.put(b.text, b.paper.PayTo, eachMM, 0)
	under.put(b.soft, "reference", eachMM, 0)
	under.put(b.strong.at(11), b.paper.PayReference(), eachMM, 0)
	columns := []column{what, where, under}
	mm := 0.0
	for _, c := range columns {
		mm = max(mm, c.mm())
	}
	return piece{mm: sectionMM + mm + 2, draw: func(p *pen, y float64) {
		head.draw(p, y)
		for i, c := range columns {
			c.draw(p, leftMM+float64(i)*(eachMM+2), y+sectionMM)
		}
	}}
}
