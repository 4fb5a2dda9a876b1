package job

import (
	"rowtally/internal/bill"
	"rowtally/internal/unit"
)

// StatementSheet is the statement of a farm's account as page and paper show it.
type StatementSheet struct {
	bill.Statement
	Issuer   bill.Party
	Farm     bill.Party
	Currency string
	PayTo    string
}

// StatementOf draws up the statement of a farm's account over some days; none of them lies
// after today.
func StatementOf(l Ledger, b Business, from, to, today unit.Date) (StatementSheet, error) {
	s, err := l.Account.StatementFor(from, min(to, today))
	return StatementSheet{Statement: s, Currency: b.Currency, PayTo: b.PayTo,
		Issuer: bill.Party{Name: b.Name, ABN: b.ABN, Address: b.Address, Phone: b.Phone, Email: b.Email},
		Farm:   bill.Party{Name: l.Farm.Name, ABN: l.Farm.ABN, Address: l.Farm.Address, Phone: l.Farm.Phone, Email: l.Farm.Email}}, err
}
