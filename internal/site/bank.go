package site

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"

	"rowtally/internal/bank"
	"rowtally/internal/bill"
	"rowtally/internal/fault"
	"rowtally/internal/ground"
	"rowtally/internal/job"
)

// bankPage reads a bank's file in three steps: the file, what its columns are (of CSV), and
// what each movement pays.
type bankPage struct {
	Frame
	Head    string
	Text    string // the file as it was read, handed on from step to step
	Note    string // what was noticed while reading it
	File    []Field
	Columns []Field
	Sample  [][]string // first rows of a CSV file
	Read    bool       // whether the movements are shown
	Says    string
	Lines   []bankLine
	Quiet   int // movements that cannot be a payment: money out, and what is entered already
	Skipped []bank.Skipped

	currency string // that accounts are kept in
}

// bankLine is a movement that may be a payment, and what it is entered as.
type bankLine struct {
	bank.Proposal
	Pays   Field
	Failed string
}

func (s *site) bankFile(r *request) error {
	f := blank(nil)
	page := bankPage{Frame: r.frame("accounts", "Payments from the bank's file"), currency: r.business.Currency}
	if !r.isPost() {
		return r.drawBank(f, page)
	}
	f = readForm(r)
	if _, handedOn := f.typed["text"]; !handedOn {
		name, content, ok := f.file(r, "file")
		if !ok {
			if f.ok() {
				f.refuse("file", "Choose the file that the bank gave you.")
			}
			return r.drawBank(f, page)
		}
		f.typed = map[string]string{"file_name": name}
		var err error
		if f.typed["text"], page.Note, err = readable(content); err != nil {
			f.heed(err)
			f.typed["text"] = ""
			return r.drawBank(f, page)
		}
	}
	page.Text = f.typed["text"]
	lines, err := s.bankLines(f, &page)
	if err := f.take(err); err != nil {
		return err
	}
	if !f.ok() || !page.Read {
		return r.drawBank(f, page)
	}
	return s.bankPays(r, f, page, lines)
}

// readable is a file's text, and a word where it came in an older writing. What holds other
// than text is refused ("file").
func readable(content []byte) (text, note string, err error) {
	content = ground.UTF8(content)
	if kind := notText(content); kind != "" {
		return "", "", fault.Refuse("file", "this is %s, not text: ask the bank for the CSV file or the camt.053 statement of the account", kind)
	}
	if utf8.Valid(content) {
		return string(content), "", nil
	}
	plain, err := charmap.Windows1252.NewDecoder().Bytes(content)
	if err != nil {
		return strings.ToValidUTF8(string(content), "?"), "", nil
	}
	return string(plain), "The file is not written in UTF-8: it was read as Western European text. Look at names with accents.", nil
}

// notText says what a file is that holds no text; "" for text.
func notText(content []byte) string {
	switch {
	case bytes.HasPrefix(content, []byte("%PDF-")):
		return "a PDF"
	case bytes.HasPrefix(content, []byte("PK\x03\x04")):
		return "a spreadsheet or a zip file"
	case bytes.HasPrefix(content, []byte("\xd0\xcf\x11\xe0")):
		return "a spreadsheet of the older kind"
	case bytes.ContainsFunc(content[:min(len(content), 8000)], func(c rune) bool { return c < ' ' && !strings.ContainsRune("\t\r\n\f\x1a", c) }):
		return "a file of another kind"
	}
	return ""
}

// bankLines reads the movements of the file that the form hands on: of a statement at once,
// of CSV when its columns are named.
func (s *site) bankLines(f *form, page *bankPage) (lines []bank.Line, err error) {
	if bank.IsCAMT([]byte(page.Text)) {
		page.Read = true
		lines, page.Skipped, err = bank.ReadCAMT([]byte(page.Text), page.currency)
		return lines, err
	}
	table, err := bank.Table(page.Text)
	if err != nil {
		return nil, err
	}
	page.Sample = table[:min(len(table), 4)]
	if f.typed["columns"] == "" {
		f.beginColumns(bank.Guess(table))
		return nil, nil
	}
	page.Read = true
	lines, page.Skipped, err = bank.ReadCSV(table, f.columns())
	return lines, err
}

func (f *form) beginColumns(c bank.Columns) {
	for name, at := range map[string]int{"day": c.Day, "amount": c.Amount, "in": c.In, "out": c.Out, "who": c.Who, "text": c.Text} {
		f.typed["c_"+name] = strconv.Itoa(at)
	}
	f.typed["head"], f.typed["order"] = yesNo(c.Head), "day"
}

// columns reads what each column was said to hold.
func (f *form) columns() bank.Columns {
	at := func(name string) int {
		n, err := strconv.Atoi(f.typed["c_"+name])
		if err != nil {
			return bank.None
		}
		return n
	}
	return bank.Columns{Day: at("day"), Amount: at("amount"), In: at("in"), Out: at("out"), Who: at("who"), Text: at("text"),
		MonthFirst: f.typed["order"] == "month", Head: f.typed["head"] == "yes"}
}

// bankPays shows what each movement seems to pay, or enters what was chosen.
func (s *site) bankPays(r *request, f *form, page bankPage, lines []bank.Line) error {
	ledgers, err := s.Books.Ledgers(r.Context(), 0)
	if err != nil {
		return err
	}
	entered, err := s.Books.BankKeys(r.Context())
	if err != nil {
		return err
	}
	payers := make([]bank.Payer, len(ledgers))
	for i, l := range ledgers {
		payers[i] = bank.Payer{FarmID: l.Farm.ID, Name: l.Farm.Name, Account: l.Account}
	}
	proposals := bank.Propose(lines, payers, entered)
	failed := map[string]string{}
	if f.typed["act"] == "enter" {
		took, err := s.bankEnter(r, f, proposals, failed)
		if err != nil {
			return err
		}
		if len(failed) == 0 && took > 0 {
			return r.see("/accounts?done=bank")
		}
		if took == 0 && len(failed) == 0 {
			f.refuse("", "Nothing is chosen: say of a movement what it pays.")
		}
		r.Status(422)
	}
	options := payOptions(ledgers, r.business)
	for _, p := range proposals {
		if p.Amount <= 0 || p.Entered || entered[p.Key] {
			page.Quiet++
			continue
		}
		name := "pays_" + p.Key
		if _, chosen := f.typed[name]; !chosen && p.FarmID != 0 {
			f.typed[name] = payChoice(p.FarmID, p.InvoiceID)
		}
		page.Lines = append(page.Lines, bankLine{p, f.field(Field{Name: name, Label: "It pays", Kind: "select", Options: options}), failed[p.Key]})
	}
	page.Says = fmt.Sprintf("Movements that may be payments: %d. Nothing is entered until you say so.", len(page.Lines))
	return r.drawBank(f, page)
}

// bankEnter enters what was chosen, each movement as a payment of its own.
func (s *site) bankEnter(r *request, f *form, proposals []bank.Proposal, failed map[string]string) (took int, err error) {
	for _, p := range proposals {
		chosen := f.typed["pays_"+p.Key]
		if chosen == "" || p.Amount <= 0 || p.Entered {
			continue
		}
		err := s.bankPayment(r, p, chosen)
		switch {
		case err == nil:
			took++
		case fault.KindOf(err) == fault.Internal:
			return took, err
		default:
			failed[p.Key] = sentence(err.Error())
		}
	}
	return took, nil
}

// bankPayment enters one movement, placed on the account as it stands now.
func (s *site) bankPayment(r *request, p bank.Proposal, chosen string) error {
	farm, invoice, ok := strings.Cut(chosen, ":")
	farmID, errFarm := strconv.ParseInt(farm, 10, 64)
	invoiceID, errInvoice := strconv.ParseInt(invoice, 10, 64)
	if !ok || errFarm != nil || errInvoice != nil {
		return fault.Refuse("pays", "choose one of the list")
	}
	l, err := s.ledgerOf(r, farmID)
	if err != nil {
		return err
	}
	pay := bill.Payment{FarmID: farmID, Kind: bill.Paid, PaidOn: p.Day, Amount: p.Amount, Way: bill.Ways[0], Reference: p.Words(), Note: "from the bank's file", BankKey: p.Key}
	if pay.Placings, err = l.Account.PlaceBy(p.Amount, invoiceID, nil); err != nil {
		return err
	}
	act := r.act()
	if act.Key != "" {
		act.Key += " " + p.Key
	}
	_, err = s.Books.Pay(r.Context(), act, pay)
	return err
}

func payChoice(farmID, invoiceID int64) string { return fmt.Sprintf("%d:%d", farmID, invoiceID) }

// payOptions is every farm with each of its open invoices.
func payOptions(ledgers []job.Ledger, b job.Business) []Option {
	options := []Option{{"", "leave it out"}}
	for _, l := range ledgers {
		for _, open := range l.Account.Bills() {
			if open.Open > 0 {
				options = append(options, Option{payChoice(l.Farm.ID, open.Invoice.ID), l.Farm.Name + ", " + open.Invoice.Number + ", " + b.Money(open.Open) + " open"})
			}
		}
		options = append(options, Option{payChoice(l.Farm.ID, 0), l.Farm.Name + ", oldest first, the rest as credit"})
	}
	return options
}

func (r *request) drawBank(f *form, page bankPage) error {
	if !f.ok() {
		r.Status(422)
	}
	if f.wrong["file"] != "" {
		page.Text = "" // another file is asked for
	}
	page.File = f.fields(Field{Name: "file", Label: "The bank's file", Kind: "file", Required: page.Text == "", Hint: "A camt.053 statement (XML) or CSV."})
	if len(page.Sample) > 0 {
		page.Columns = f.fields(columnFields(page.Sample)...)
	}
	page.Head = f.head()
	return r.show("bank", page)
}

// columnFields ask which column holds what, by the words of the file's first row.
func columnFields(sample [][]string) []Field {
	columns := []Option{{strconv.Itoa(bank.None), "there is none"}}
	for i, head := range sample[0] {
		columns = append(columns, Option{strconv.Itoa(i), fmt.Sprintf("column %d, “%s”", i+1, head)})
	}
	var fields []Field
	for _, one := range [][2]string{{"day", "Day"}, {"amount", "Amount, in above 0"}, {"in", "Money in"}, {"out", "Money out"}, {"who", "Who"}, {"text", "What was written"}} {
		fields = append(fields, Field{Name: "c_" + one[0], Label: one[1], Kind: "select", Options: columns})
	}
	return append(fields,
		Field{Name: "order", Label: "Days are written", Kind: "select", Options: []Option{{"day", "day first"}, {"month", "month first"}}},
		Field{Name: "head", Label: "The first row", Kind: "select", Options: []Option{{"yes", "names the columns"}, {"no", "is a movement"}}})
}
