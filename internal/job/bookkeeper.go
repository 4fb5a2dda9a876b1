package job

import (
	"slices"
	"strconv"
	"strings"

	"rowtally/internal/bill"
	"rowtally/internal/money"
	"rowtally/internal/unit"
)

// SalesTable lists the invoices and adjustment notes issued from one day to another.
func SalesTable(all []Ledger, from, to unit.Date) Table {
	t := Table{Name: "sales", Heads: []string{"issued", "number", "kind", "adjusts", "farm", "paddock", "season", "currency", "net", "tax", "total", "due"}}
	for _, l := range all {
		for _, p := range l.Account.Papers {
			if p.IssuedOn >= from && p.IssuedOn <= to {
				t.Rows = append(t.Rows, []Cell{onDay(p.IssuedOn), said(p.Number), said(string(p.Kind)), said(p.AnswersNumber), said(p.Buyer.Name), said(p.Paddock),
					said(strconv.Itoa(p.Season)), said(p.Currency), amounted(p.NetTotal), amounted(p.TaxTotal), amounted(p.Total), onDay(p.UntilOn)})
			}
		}
	}
	return t.byDay()
}

// PaymentsTable lists the payments, reversals and refunds of some days.
func PaymentsTable(all []Ledger, from, to unit.Date) Table {
	t := Table{Name: "payments", Heads: []string{"came", "farm", "kind", "way", "reference", "amount", "placed on invoices", "not placed", "note"}}
	for _, l := range all {
		for _, p := range l.Account.Payments {
			if p.PaidOn >= from && p.PaidOn <= to {
				t.Rows = append(t.Rows, []Cell{onDay(p.PaidOn), said(l.Farm.Name), said(string(p.Kind)), said(p.Way), said(p.Reference),
					amounted(p.Amount), amounted(p.Placed()), amounted(p.Amount - p.Placed()), said(p.Note)})
			}
		}
	}
	return t.byDay()
}

// byDay sorts the rows by their first cell, a day.
func (t Table) byDay() Table {
	slices.SortStableFunc(t.Rows, func(x, y []Cell) int { return strings.Compare(x[0].Text, y[0].Text) })
	return t
}

// TaxBasis tells when tax counts: when it is billed, or when it is paid.
type TaxBasis string

const (
	Accrual TaxBasis = "accrual"
	Cash    TaxBasis = "cash"
)

// TaxTable sums sales and their tax by calendar month, by the day of issue or by the day on
// which the money came. On the cash basis each payment carries its share of its invoice's
// tax, reckoned on everything paid so far, so that the shares of an invoice paid in full add
// up to its tax. What stands against no invoice bears none yet.
func TaxTable(all []Ledger, basis TaxBasis, from, to unit.Date) Table {
	months := map[string]*[2]money.Cents{}
	count := func(on unit.Date, total, tax money.Cents) {
		if on < from || on > to {
			return
		}
		month := string(on)[:7]
		if months[month] == nil {
			months[month] = &[2]money.Cents{}
		}
		months[month][0] += total
		months[month][1] += tax
	}
	for _, l := range all {
		if basis == Cash {
			taxPaid(l.Account, count)
			continue
		}
		for _, p := range l.Account.Papers {
			count(p.IssuedOn, p.Total, p.TaxTotal)
		}
	}
	t := Table{Name: "tax by month, " + string(basis), Heads: []string{"month", "sales with tax", "tax", "sales without tax"}}
	for month, sums := range months {
		t.Rows = append(t.Rows, []Cell{said(month), amounted(sums[0]), amounted(sums[1]), amounted(sums[0] - sums[1])})
	}
	return t.byDay()
}

// taxPaid counts what was paid on each invoice with its share of the tax, in the order of
// the days.
func taxPaid(a bill.Account, count func(on unit.Date, total, tax money.Cents)) {
	bills, paid := map[int64]bill.OpenBill{}, map[int64]money.Cents{}
	for _, b := range a.Bills() {
		bills[b.Invoice.ID] = b
	}
	payments := slices.Clone(a.Payments)
	slices.SortStableFunc(payments, func(x, y bill.Payment) int { return strings.Compare(string(x.PaidOn), string(y.PaidOn)) })
	for _, p := range payments {
		for _, one := range p.Placings {
			b, before := bills[one.PaperID], paid[one.PaperID]
			paid[one.PaperID] = before + one.Amount
			count(p.PaidOn, one.Amount, taxWithin(b.Standing, before+one.Amount)-taxWithin(b.Standing, before))
		}
	}
}

// taxWithin is the tax in so much of an invoice's total, to the nearest cent.
func taxWithin(s bill.Standing, paid money.Cents) money.Cents {
	if s.Total == 0 {
		return 0
	}
	return paid.Factor().Times(s.TaxTotal.Factor()).Over(s.Total.Factor(), 2).Cents()
}

// StockTable values what lies in the shed and on the truck: seed by lot at what the lot
// cost, a medium at what its ledger carries, the moving average of its deliveries.
func StockTable(s Shelf) Table {
	t := Table{Name: "stock value", Heads: []string{"kind", "code or name", "what", "on hand", "unit", "cost a unit", "value"}}
	for _, lot := range s.Lots {
		kg := thousandths(s.OnHand(LotStock, lot.ID))
		t.Rows = append(t.Rows, []Cell{said("seed lot"), said(lot.Code), said(lot.Species), numbered(kg), said("kg"), numbered(lot.ReadyPerKg()), amounted(kg.Times(lot.ReadyPerKg()).Cents())})
	}
	for _, p := range s.Products {
		each, _ := s.MediumPrice(p.ID)
		t.Rows = append(t.Rows, []Cell{said("medium"), said(p.Name), said(""), numbered(thousandths(s.OnHand(MediumStock, p.ID))), said("L"), numbered(each), amounted(s.Worth(p.ID))})
	}
	return t
}
