package site

import (
	"strconv"

	"rowtally/internal/bill"
	"rowtally/internal/job"
	"rowtally/internal/money"
)

func accountPath(farmID int64) string { return "/farms/" + strconv.FormatInt(farmID, 10) + "/account" }

var wayOptions = optionsOf(bill.Ways)

func optionsOf(words []string) []Option {
	out := make([]Option, len(words))
	for i, w := range words {
		out[i] = Option{w, w}
	}
	return out
}

// paymentNew enters a payment of a farm and says where its money goes.
func (s *site) paymentNew(r *request) error {
	l, err := s.ledger(r)
	if err != nil {
		return err
	}
	f := blank(map[string]string{"paid_on": string(r.today()), "way": bill.Ways[0]})
	if r.isPost() {
		f = readForm(r)
		p, err := paymentFrom(f, l)
		if err := f.take(err); err != nil {
			return err
		}
		if f.ok() {
			if _, err := s.Books.Pay(r.Context(), r.act(), p); err == nil {
				return r.see(accountPath(l.Farm.ID) + "?done=" + paidNotice(l.Account, p))
			} else if err := f.take(err); err != nil {
				return err
			}
		}
	}
	return r.draw(f, formPage{
		Frame: r.frame("accounts", "A payment of "+l.Farm.Name), Button: "Keep the payment", Back: accountPath(l.Farm.ID),
		Lead:   l.Says(r.business, r.today()),
		Groups: paymentGroups(f, l, r.business),
	})
}

// paidNotice tells afterwards when more came than was owed.
func paidNotice(a bill.Account, p bill.Payment) string {
	if p.Amount > a.Owed() {
		return "over"
	}
	return "paid"
}

func paymentGroups(f *form, l job.Ledger, b job.Business) []group {
	directions := []Option{{"", "nothing was said"}}
	var hand []Field
	for _, open := range l.Account.Bills() {
		if open.Open <= 0 {
			continue
		}
		id := strconv.FormatInt(open.Invoice.ID, 10)
		says := open.Invoice.Number + ", " + b.Money(open.Open) + " open"
		directions = append(directions, Option{id, says})
		hand = append(hand, Field{Name: bill.InvoiceField(open.Invoice.ID), Label: says, Kind: "number", Unit: b.Currency})
	}
	groups := []group{{Fields: f.fields(
		Field{Name: "amount", Label: "Amount", Kind: "number", Unit: b.Currency, Required: true},
		Field{Name: "paid_on", Label: "Day it came", Kind: "date", Required: true},
		Field{Name: "way", Label: "How", Kind: "select", Options: wayOptions, Required: true},
		Field{Name: "reference", Label: "What the payer wrote", Hint: "An invoice that is named here is paid first."},
		Field{Name: "direction", Label: "The payer says it is for", Kind: "select", Options: directions},
		Field{Name: "note", Label: "Note"},
	)}}
	if len(hand) > 0 {
		groups = append(groups, group{Heading: "By hand", Lead: "Left empty, the money goes where the payer said, then to the oldest invoice. What is left over stays as credit.", Fields: f.fields(hand...)})
	}
	return groups
}

// paymentFrom reads a payment and where it goes: by the payer's direction, which may stand in
// the payer's own words, else by hand, else oldest first.
func paymentFrom(f *form, l job.Ledger) (bill.Payment, error) {
	p := bill.Payment{FarmID: l.Farm.ID, Kind: bill.Paid, PaidOn: f.day("paid_on", true), Way: f.oneOf("way", wayOptions),
		Reference: f.text("reference"), Note: f.text("note"), Amount: f.cents("amount", true)}
	hand := map[int64]money.Cents{}
	for _, open := range l.Account.Bills() {
		name := bill.InvoiceField(open.Invoice.ID)
		if f.typed[name] != "" {
			hand[open.Invoice.ID] = f.cents(name, false)
		}
	}
	directed := f.direction(l.Account, len(hand) > 0)
	if !f.ok() {
		return p, nil
	}
	var err error
	p.Placings, err = l.Account.PlaceBy(p.Amount, directed, hand)
	return p, err
}

// direction is the invoice that the payer named: of the list, else in the payer's words
// where nothing was chosen by hand; 0 for none.
func (f *form) direction(a bill.Account, byHand bool) int64 {
	if typed := f.typed["direction"]; typed != "" {
		id, err := strconv.ParseInt(typed, 10, 64)
		if err != nil || id < 1 {
			f.refuse("direction", "There is no such invoice on this farm's account: choose one of the list.")
		}
		return id
	}
	if named, ok := a.Directed(f.typed["reference"]); ok && !byHand {
		return named.Invoice.ID
	}
	return 0
}

// cents reads an amount of whole cents, from 0 up; above 0 where it is required.
func (f *form) cents(name string, required bool) money.Cents {
	v := f.price(name, required)
	switch {
	case f.wrong[name] != "":
		return 0
	case required && v.Sign() == 0:
		f.refuse(name, "Enter an amount above 0.00.")
	case v.Compare(v.Cents().Factor()) != 0:
		f.refuse(name, "%s has parts of a cent: enter whole cents.", f.typed[name])
	}
	return v.Cents()
}

// reversalNew takes a payment back whole, as a row of its own.
func (s *site) reversalNew(r *request) error {
	l, err := s.ledger(r)
	if err != nil {
		return err
	}
	id, err := r.id("payment")
	if err != nil {
		return err
	}
	back, err := l.Account.Reversal(id)
	if err != nil {
		return err
	}
	return s.giveBack(r, l, back, "Reverse the payment of "+r.business.Money(-back.Amount), "Reverse it",
		"The payment stays in the account, and a row of the same amount takes it back: what it paid is owed again.", nil)
}

// refundNew pays credit back to the farm.
func (s *site) refundNew(r *request) error {
	l, err := s.ledger(r)
	if err != nil {
		return err
	}
	amount := Field{Name: "amount", Label: "Amount paid back", Kind: "number", Unit: r.business.Currency, Required: true}
	return s.giveBack(r, l, bill.Payment{FarmID: l.Farm.ID, Kind: bill.Refunded, Way: bill.Ways[0]}, "A refund to "+l.Farm.Name, "Keep the refund",
		"The farm's credit is "+r.business.Money(l.Account.Credit())+".", &amount)
}

// giveBack is the form of a reversal and of a refund.
func (s *site) giveBack(r *request, l job.Ledger, p bill.Payment, title, button, lead string, amount *Field) error {
	f := blank(map[string]string{"paid_on": string(r.today())})
	if r.isPost() {
		f = readForm(r)
		p.PaidOn, p.Note = f.day("paid_on", true), f.must("note", "Say why: it stands in the account.")
		if amount != nil {
			p.Amount = -f.cents("amount", true)
		}
		if f.ok() {
			if _, err := s.Books.Pay(r.Context(), r.act(), p); err == nil {
				return r.see(accountPath(l.Farm.ID) + "?done=kept")
			} else if err := f.take(err); err != nil {
				return err
			}
		}
	}
	fields := []Field{{Name: "paid_on", Label: "Day", Kind: "date", Required: true}, {Name: "note", Label: "Why", Required: true}}
	if amount != nil {
		fields = append([]Field{*amount}, fields...)
	}
	return r.draw(f, formPage{Frame: r.frame("accounts", title), Button: button, Back: accountPath(l.Farm.ID), Lead: lead, Groups: []group{{Fields: f.fields(fields...)}}})
}
