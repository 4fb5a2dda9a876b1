package site

import (
	"strings"
	"testing"

	"rowtally/internal/bill"
	"rowtally/internal/job"
)

// billedTown is a job lived through to its invoice, which is given.
func billedTown(t testing.TB) (town, bill.Paper) {
	t.Helper()
	w := sownOver(t)
	w.contractor.post("/jobs/1/invoice").mustLead(t, "/papers/2?done=issued")
	return w, w.papers(t)[1]
}

func (w town) account(t testing.TB) bill.Account {
	t.Helper()
	ledgers, err := w.store.Ledgers(t.Context(), 1)
	if err != nil || len(ledgers) != 1 {
		t.Fatal(ledgers, err)
	}
	return ledgers[0].Account
}

func payment(amount string, more ...string) []string {
	return append([]string{"amount", amount, "paid_on", "2026-07-20", "way", "transfer"}, more...)
}

func TestAnInvoiceIsPaidInPartsUntilItIsSettled(t *testing.T) {
	w, invoice := billedTown(t)
	w.contractor.get("/papers/2").mustShow(t, 200, "Pay under the reference", invoice.Reference)
	w.contractor.get("/accounts").mustShow(t, 200, "$"+invoice.Total.Shown()+" owed by 1 farm, none of it past due.")
	w.contractor.post("/farms/1/payment", payment("100.00", "note", "first part")...).mustLead(t, "/farms/1/account?done=paid")
	w.contractor.get("/farms/1/account").mustShow(t, 200, "100.00", "$100.00 on T2026-0001, oldest first", (invoice.Total - 100_00).Shown(), invoice.Reference)
	if job.StageOf(w.facts(t, 1)) != job.Billed {
		t.Error("the job is not billed any more")
	}
	w.contractor.post("/farms/1/payment", payment((invoice.Total-100_00).String(), "reference", strings.ToLower(invoice.Reference))...).mustLead(t, "/farms/1/account?done=paid")
	if a := w.account(t); a.Payments[1].Placings[0].PlacedBy != bill.ByPayer || a.Balance() != 0 {
		t.Errorf("the account is %+v", a.Payments)
	}
	if job.StageOf(w.facts(t, 1)) != job.Settled {
		t.Error("the job is not settled")
	}
	w.contractor.get("/jobs").mustShow(t, 200, "settled")
	w.sound(t)
}

func TestMoreThanEverythingOwedStaysAsCredit(t *testing.T) {
	w, invoice := billedTown(t)
	over := invoice.Total + 139_30
	w.contractor.post("/farms/1/payment", payment(over.String())...).mustLead(t, "/farms/1/account?done=over")
	w.contractor.get("/farms/1/account?done=over").mustShow(t, 200, "More came than was owed: the rest is credit", "$139.30 of credit stands for the next invoice.")
	w.contractor.get("/accounts").mustShow(t, 200, "Nobody owes anything.", "139.30", "−139.30")
	w.contractor.post("/farms/1/refund", "amount", "139.31", "paid_on", "2026-07-20", "note", "x").mustRefuse(t, "amount", "credit is 139.30")
	w.contractor.post("/farms/1/refund", "amount", "139.30", "paid_on", "2026-07-20", "note", "paid back").mustLead(t, "/farms/1/account?done=kept")
	if a := w.account(t); a.Credit() != 0 || a.Balance() != 0 {
		t.Errorf("credit %s, balance %s", a.Credit(), a.Balance())
	}
	w.sound(t)
}

func TestAPaymentIsReversedByARowOfItsOwn(t *testing.T) {
	w, invoice := billedTown(t)
	w.contractor.post("/farms/1/payment", payment(invoice.Total.String())...).mustLead(t, "/farms/1/account?done=paid")
	w.contractor.get("/farms/1/payments/1/reversal").mustShow(t, 200, "Reverse the payment of $"+invoice.Total.Shown())
	w.contractor.post("/farms/1/payments/1/reversal", "paid_on", "2026-07-20", "note", "").mustRefuse(t, "note", "Say why")
	w.contractor.post("/farms/1/payments/1/reversal", "paid_on", "2026-07-19", "note", "x").mustRefuse(t, "paid_on", "cannot lie before it")
	w.contractor.post("/farms/1/payments/1/reversal", "paid_on", "2026-07-20", "note", "cheque came back").mustLead(t, "/farms/1/account?done=kept")
	w.contractor.get("/farms/1/account").mustShow(t, 200, "reversed", "cheque came back", "−"+invoice.Total.Shown())
	w.contractor.get("/farms/1/payments/1/reversal").mustShow(t, 409, "reversed on 20 Jul 2026 already")
	w.contractor.get("/farms/1/payments/9/reversal").mustShow(t, 404, "no such payment")
	if a := w.account(t); a.Owed() != invoice.Total {
		t.Errorf("%s owed again, want %s", a.Owed(), invoice.Total)
	}
	if job.StageOf(w.facts(t, 1)) != job.Billed {
		t.Error("the job is still settled")
	}
	w.sound(t)
}

func TestAPaymentFormSaysWhatToChangeAndKeepsTheRest(t *testing.T) {
	w, invoice := billedTown(t)
	for _, c := range []struct {
		field, says string
		form        []string
	}{
		{"amount", "is not an amount", payment("")},
		{"amount", "below zero", payment("-5")},
		{"amount", "above 0.00", payment("0")},
		{"amount", "whole cents", payment("1.005")},
		{"amount", "is not an amount", payment("lots")},
		{"amount", "up to 100,000,000.00", payment("100000001")},
		{"paid_on", "still to come", []string{"amount", "5", "paid_on", "2026-07-21", "way", "transfer"}},
		{"paid_on", "Enter a day", []string{"amount", "5", "paid_on", "", "way", "transfer"}},
		{"paid_on", "check the year", []string{"amount", "5", "paid_on", "0026-07-20", "way", "transfer"}},
		{"way", "Choose", []string{"amount", "5", "paid_on", "2026-07-20", "way", "barter"}},
		{"direction", "choose one of the list", payment("5", "direction", "77")},
		{"direction", "hoose one of the list", payment("5", "direction", "the last one")},
		{"direction", "leave the amounts by hand empty", payment("5", "direction", "2", "invoice_2", "5")},
		{"invoice_2", "are left for T2026-0001", payment("5", "invoice_2", "6")},
		{"invoice_2", "open, enter that or less", payment("900000", "invoice_2", (invoice.Total + 1).String())},
		{"invoice_2", "below zero", payment("5", "invoice_2", "-6")},
	} {
		p := w.contractor.post("/farms/1/payment", c.form...)
		p.mustRefuse(t, c.field, c.says)
		p.mustKeep(t, c.form[0:2]...)
	}
	w.contractor.get("/farms/9/payment").mustShow(t, 404)
	w.contractor.post("/farms/9/payment", payment("5")...).mustShow(t, 404)
	if n := len(w.account(t).Payments); n != 0 {
		t.Errorf("%d payments were kept", n)
	}
	same := payment("5", "key", "once")
	w.contractor.post("/farms/1/payment", same...).mustLead(t, "/farms/1/account?done=paid")
	w.contractor.post("/farms/1/payment", same...)
	if n := len(w.account(t).Payments); n != 1 {
		t.Errorf("a form sent twice kept %d payments", n)
	}
}

// The demo's Lagoon was billed by 13 Jul 2026: on 20 Jul it is 7 days past due.
func TestAReminderIsALetterToCopy(t *testing.T) {
	w, _ := demoTown(t)
	w.contractor.get("/farms/1/reminder").mustShow(t, 200, "Nothing is sent.", "T2026-0001 of 29 Jun 2026, due 13 Jul 2026, 7 days past due: $4,860.70",
		"Reference "+bill.PaymentReference("T2026-0001"), "To the owner,")
	w.contractor.get("/farms/1/account").mustShow(t, 200, "A reminder", "settled", "the payer&#39;s direction")
	w.contractor.get("/farms/2/reminder").mustShow(t, 409, "Nothing of Three Soaks is past due")
	if job.StageOf(w.facts(t, 1)) != job.Settled {
		t.Error("last season's job is not settled")
	}
}

func TestAStatementAsPageAndPaper(t *testing.T) {
	w, _ := demoTown(t)
	w.contractor.get("/farms/1/statement?from=2026-06-01&to=2026-07-20").mustShow(t, 200, "This statement is not a tax invoice.",
		"opening balance", "tax invoice T2026-0001, due 13 Jul 2026", bill.PaymentReference("T2026-0001"), "4,860.70", "closing balance")
	w.contractor.get("/farms/1/statement").mustShow(t, 200, "payment, transfer", "tax invoice T2025-0001")
	w.contractor.get("/farms/1/statement?from=2026-07-02&to=2026-07-01").mustRefuse(t, "to", "begins on 2 Jul 2026")
	w.contractor.get("/farms/1/statement?from=2026-07-02&to=2026-07-21").mustRefuse(t, "to", "still to come")
	w.contractor.get("/farms/1/statement?from=never").mustRefuse(t, "from", "is not a day")
	const pdf = "/farms/1/statement.pdf?from=2026-06-01&to=2026-07-20"
	first := w.contractor.get(pdf)
	if first.status != 200 || !strings.HasPrefix(first.text, "%PDF") || first.text != w.contractor.get(pdf).text {
		t.Errorf("the PDF: %d, %d bytes", first.status, len(first.text))
	}
	w.contractor.get("/farms/1/statement.pdf?from=never").mustShow(t, 404)
}
