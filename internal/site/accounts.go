package site

import (
	"context"
	"fmt"
	"slices"
	"strconv"

	"rowtally/internal/bill"
	"rowtally/internal/job"
	"rowtally/internal/money"
)

// accountBooks is what the pages about money owed and paid ask of the store.
type accountBooks interface {
	PaperHeads(ctx context.Context, year int) ([]bill.Paper, error)
	Issued(ctx context.Context) ([]bill.Issued, error)
	Offers(ctx context.Context, year int) ([]bill.OfferState, error)
	OpenLedgers(ctx context.Context) ([]job.Ledger, error)
	ToBill(ctx context.Context) ([]int64, error)
	Ledgers(ctx context.Context, farmID int64) ([]job.Ledger, error)
	Pay(ctx context.Context, act job.Act, p bill.Payment) (int64, error)
	BankKeys(ctx context.Context) (map[string]bool, error)
	PlaceCredit(ctx context.Context, act job.Act, farmID int64, parts []bill.Placing) error
}

func (s *site) accountRoutes() []route {
	return []route{
		office(get, "/accounts", s.accounts),
		office(get, "/accounts/bank", s.bankFile),
		office(post, "/accounts/bank", s.bankFile),
		office(get, "/accounts/bill", s.billSown),
		office(post, "/accounts/bill", s.billSown),
		office(get, "/accounts/bookkeeper", s.bookkeeper),
		office(get, "/accounts/bookkeeper/:file", s.leafFile),
		office(get, "/farms/:id/account", s.accountShow),
		office(get, "/farms/:id/payment", s.paymentNew),
		office(post, "/farms/:id/payment", s.paymentNew),
		office(get, "/farms/:id/payments/:payment/reversal", s.reversalNew),
		office(post, "/farms/:id/payments/:payment/reversal", s.reversalNew),
		office(get, "/farms/:id/refund", s.refundNew),
		office(post, "/farms/:id/refund", s.refundNew),
		office(post, "/farms/:id/credit", s.creditPlace),
		office(get, "/farms/:id/reminder", s.reminder),
		office(get, "/farms/:id/statement", s.statement),
		office(get, "/farms/:id/statement.pdf", s.statementPDF),
	}
}

// accountLine is one farm of the list of what is owed.
type accountLine struct {
	Farm   job.Farm
	Ages   bill.Ageing
	Credit money.Cents
	Owed   money.Cents // closing balance
}

type accountsPage struct {
	Frame
	Says   string
	Farms  []accountLine
	Ages   bill.Ageing // of all farms
	Credit money.Cents
	Owed   money.Cents
	Papers []bill.Paper
	Stands map[int64]string // how each paper stands, in words
	Issued string           // how many papers, in words
	Year   int              // that the papers are of
	Years  []int            // in which papers were issued
	Kinds  [5]string
}

// accounts says who owes how much and since when, and lists the papers of a year.
func (s *site) accounts(r *request) error {
	issued, err := s.Books.Issued(r.Context())
	if err != nil {
		return err
	}
	ledgers, err := s.Books.OpenLedgers(r.Context())
	if err != nil {
		return err
	}
	page := accountsPage{Frame: r.frame("accounts", "Accounts"), Kinds: bill.Ages, Issued: issuedSay(issued)}
	for _, l := range ledgers {
		ages, credit := l.Account.AgeingOf(r.today()), l.Account.Credit()
		line := accountLine{l.Farm, ages, credit, ages.Sum() - credit}
		page.Farms = append(page.Farms, line)
		page.Ages, page.Credit, page.Owed = page.Ages.Plus(line.Ages), page.Credit+line.Credit, page.Owed+line.Owed
	}
	page.Says = "No paper is issued yet. A quote is made on its job's page."
	if len(issued) > 0 {
		page.Says = job.AccountsSay(ledgers, r.business, r.today())
	}
	if page.Year, page.Years, err = yearOf(r, issued); err != nil {
		return err
	}
	if page.Papers, err = s.Books.PaperHeads(r.Context(), page.Year); err != nil {
		return err
	}
	offers, err := s.Books.Offers(r.Context(), page.Year)
	if err != nil {
		return err
	}
	page.Stands = bill.Stands(page.Papers, offers, openBills(ledgers), r.today())
	return r.show("accounts", page)
}

func openBills(ledgers []job.Ledger) (open []bill.OpenBill) {
	for _, l := range ledgers {
		open = append(open, l.Account.Bills()...)
	}
	return open
}

// yearOf is the year whose papers are asked for, else the newest with any.
func yearOf(r *request, issued []bill.Issued) (year int, years []int, err error) {
	for _, i := range issued {
		if len(years) == 0 || years[len(years)-1] != i.Year {
			years = append(years, i.Year)
		}
	}
	if len(years) > 0 {
		year = years[0]
	}
	if asked := r.Query("year"); asked != "" {
		if year, err = strconv.Atoi(asked); err != nil || !slices.Contains(years, year) {
			return 0, nil, noPage()
		}
	}
	return year, years, nil
}

func issuedSay(issued []bill.Issued) string {
	var papers, invoices int
	var billed money.Cents
	for _, i := range issued {
		papers += i.Papers
		if i.Kind == bill.Invoice {
			invoices += i.Papers
		}
		if i.Kind == bill.Invoice || i.Kind == bill.Adjustment {
			billed += i.Total
		}
	}
	return fmt.Sprintf("%d papers issued, %d of them invoices, %s billed in all with their adjustments.", papers, invoices, billed.Shown())
}

type accountPage struct {
	Frame
	job.Ledger
	Says     string
	Bills    []bill.OpenBill
	Payments []paymentLine
	Credit   money.Cents
	Balance  money.Cents
	PastDue  bool
	Places   bool // whether an open invoice can take the credit
}

// paymentLine is a payment with what became of it.
type paymentLine struct {
	bill.Payment
	On       []string // where it was placed, in words
	Unplaced money.Cents
	Reversed bool
}

func (s *site) accountShow(r *request) error {
	l, err := s.ledger(r)
	if err != nil {
		return err
	}
	a, today := l.Account, r.today()
	page := accountPage{Frame: r.frame("accounts", "Account of "+l.Farm.Name), Ledger: l, Says: l.Says(r.business, today), Bills: a.Bills(),
		Credit: a.Credit(), Balance: a.Balance(), PastDue: a.AgeingOf(today).PastDue() > 0, Places: len(a.CreditPlacings()) > 0}
	for _, p := range a.Payments {
		page.Payments = append(page.Payments, lineOfPayment(a, p, r.business))
	}
	return r.show("account", page)
}

func lineOfPayment(a bill.Account, p bill.Payment, b job.Business) paymentLine {
	line := paymentLine{Payment: p, Unplaced: p.Amount - p.Placed()}
	_, line.Reversed = a.ReversedBy(p.ID)
	numbers := map[int64]string{}
	for _, paper := range a.Papers {
		numbers[paper.ID] = paper.Number
	}
	for _, one := range p.Placings {
		line.On = append(line.On, b.Money(one.Amount)+" on "+numbers[one.PaperID]+", "+string(one.PlacedBy))
	}
	return line
}

// ledger reads the account of the farm that the path names.
func (s *site) ledger(r *request) (job.Ledger, error) {
	id, err := r.id("id")
	if err != nil {
		return job.Ledger{}, err
	}
	return s.ledgerOf(r, id)
}

func (s *site) ledgerOf(r *request, farmID int64) (job.Ledger, error) {
	ledgers, err := s.Books.Ledgers(r.Context(), farmID)
	if err == nil && len(ledgers) == 0 {
		err = noPage()
	}
	if err != nil {
		return job.Ledger{}, err
	}
	return ledgers[0], nil
}

// creditPlace sets the farm's credit against its open invoices, the oldest first.
func (s *site) creditPlace(r *request) error {
	l, err := s.ledger(r)
	if err != nil {
		return err
	}
	if err := s.Books.PlaceCredit(r.Context(), r.act(), l.Farm.ID, l.Account.CreditPlacings()); err != nil {
		return err
	}
	return r.see(accountPath(l.Farm.ID) + "?done=placed")
}

type reminderPage struct {
	Frame
	Farm   job.Farm
	Letter string
}

// reminder is a letter about what is past due, to copy or to print.
func (s *site) reminder(r *request) error {
	l, err := s.ledger(r)
	if err != nil {
		return err
	}
	letter, err := l.Reminder(r.business, r.today())
	if err != nil {
		return err
	}
	return r.show("reminder", reminderPage{r.frame("accounts", "A reminder to "+l.Farm.Name), l.Farm, letter})
}
