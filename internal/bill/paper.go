package bill

import (
	"slices"
	"time"

	"rowtally/internal/money"
	"rowtally/internal/unit"
)

// Kind names a numbered paper; each kind has its own gapless series in each year.
type Kind string

const (
	Quote      Kind = "quote"
	Invoice    Kind = "invoice"
	Adjustment Kind = "adjustment note" // of an issued invoice
	Estimate   Kind = "estimate"        // binds nobody
	Variation  Kind = "variation"       // of an agreed quote, with a yes of its own
)

// Part tells which part of its job an invoice bills.
type Part string

const (
	Whole    Part = ""               // all of it; nothing is billed after
	Deposit  Part = "deposit"        // a share of the agreed price, before the work
	Progress Part = "progress claim" // what is done so far, less what was billed before
)

// Offers are the kinds by which nobody owes anything.
var Offers = []Kind{Quote, Estimate, Variation}

// Offer tells whether nobody owes anything by a paper of the kind.
func (k Kind) Offer() bool { return slices.Contains(Offers, k) }

// Measured tells whether a paper of the kind bills what was measured, not what is foreseen.
func (k Kind) Measured() bool { return k == Invoice || k == Adjustment }

// Rate is one line of a job's price: what is charged, by which unit, at what price.
type Rate struct {
	ID          int64
	JobID       int64
	Position    int
	Description string
	Unit        string // "row-km", "driven km", "h", "ha", "kg", "L", "each"
	Basis       Basis
	Quantity    money.Factor // as entered; of a basis that follows the job's figures, 0
	UnitPrice   money.Factor // without tax, or with it where the business prices so
	TaxCategory string       // S, Z, E, O or G
	TaxPercent  money.Factor
	TaxReason   string // why it is not taxed; "" in category S
	Optional    bool   // only done if the farmer says so; not in the total
}

// PaperLine is one line as issued.
type PaperLine struct {
	PaperID     int64
	Position    int
	Description string
	Unit        string
	Basis       Basis
	Quantity    money.Factor
	UnitPrice   money.Factor
	TaxCategory string
	TaxPercent  money.Factor
	TaxReason   string // why it is not taxed; "" in category S, and where no tax is charged at all
	Net         money.Cents
	LessID      int64 // the earlier invoice whose amount this line takes off; 0 for none
	Optional    bool  // of a quote: not in its totals unless the yes includes it
}

// PaperLot is a seed lot that a quote's price rests on, as it stood on the day of issue.
type PaperLot struct {
	PaperID            int64
	Position           int
	LotID              int64
	Code               string
	TestedOn           unit.Date // of the test that counted; "" where none did
	GerminationPercent float64   // by that test
	Grams              int64     // that the job takes; 0 where the mix could not be worked out
}

// Conditions are the figures of a quote's terms that its invoice is worked out by.
type Conditions struct {
	Minimum money.Factor // least charge of the job, priced as its lines are; 0 for none

	// the band of a provisional quantity, in % of what was quoted, within which its price stands; 0 and 0 for none
	GuardLowPercent, GuardHighPercent float64

	StandbyFreeH   float64      // hours of standby that are not charged
	DepositPercent money.Factor // of the total with tax, 0 to 100
}

// Party is a business or farm as it stood when the paper was issued.
type Party struct {
	Name    string
	ABN     string // digits; "" when none is known
	Address string
	Phone   string
	Email   string
}

// Paper is a numbered paper as issued. It never changes; what is written later about it
// (an acceptance, a payment) stands beside it.
type Paper struct {
	ID         int64
	Kind       Kind
	JobID      int64
	Year       int
	Serial     int64  // 1, 2, 3 … without a gap within kind and year
	Number     string // "Q2026-0001", "T2026-0001", "A2026-0001"
	Revision   int    // of a job's quotes, from 1
	AnswersID  int64  // the paper this one rests on: an invoice's agreed quote, an adjustment's invoice; 0 for none
	IssuedOn   unit.Date
	IssuedAt   time.Time
	UntilOn    unit.Date // a quote's last day, an invoice's due day
	Part       Part      // of an invoice: what part of the job it bills
	PersonID   int64
	PersonName string

	Issuer     Party
	Buyer      Party
	Registered bool   // issuer registered for the tax on that day
	Inclusive  bool   // whether the prices of its lines include the tax
	TaxLabel   string // "GST"
	Currency   string // "AUD"
	PayTo      string // bank line as issued
	Reference  string // farmer's payment reference

	Farm        string
	Paddock     string
	Season      int
	RowM        float64      // row-metres that the row-km lines rest on
	Basis       string       // one sentence: how the row-km were measured
	Map         string       // JSON of the plan picture as issued; "" for none
	SownSheet   string       // JSON of the sown record that the row-km rest on, kept at issue and read by itself; "" for none
	Particulars []Particular // what the paper states beside its lines
	Lines       []PaperLine

	// An adjustment note has no lines of its own: it names the invoice, says why, and sets
	// each line as it stood beside the line as it stands now.
	AnswersNumber string
	AnswersOn     unit.Date
	Reason        string
	Adjusted      []AdjustedLine

	Conditions Conditions // of a quote
	Lots       []PaperLot // of a quote: the seed that its price rests on

	Alternatives []Alternative // of a quote that offers several: A first, whose lines are the paper's own
	Alternative  string        // of a paper in one of its alternatives: which, "B, wider alleys"; never stored

	// Of an adjustment note these are the differences, negative where less is owed.
	NetTotal money.Cents
	TaxTotal money.Cents
	Total    money.Cents

	SHA256 string // of the PDF bytes; "" until they are kept
}

// Issued is how many papers of one kind were issued in one year, and what they come to.
type Issued struct {
	Year   int
	Kind   Kind
	Papers int
	Total  money.Cents
}

// Particular is a heading and its sentence on a paper: layout, seed and tests, terms.
type Particular struct {
	Heading string
	Text    string
}

// Acceptance is the farmer's yes to one quote.
type Acceptance struct {
	PaperID     int64
	Name        string // as typed
	AcceptedAt  time.Time
	Address     string    // network address it came from
	Options     Positions // optional lines that it includes, of the alternative that it names
	Alternative string    // which of several it is to, "B"; "" for a quote that offers one
}

// Heading is what the paper is called. Only an issuer registered for the tax on that day
// heads an invoice "Tax invoice" (A New Tax System (Goods and Services Tax) Act 1999
// (Cth), s 29-70).
func (p Paper) Heading() string {
	switch {
	case p.Kind == Quote:
		return "Quote"
	case p.Kind == Estimate:
		return "Estimate"
	case p.Kind == Variation:
		return "Variation"
	case p.Kind == Adjustment:
		return "Adjustment note"
	case p.Registered:
		return "Tax invoice"
	}
	return "Invoice"
}

// Called is its heading with the part of the job that it bills.
func (p Paper) Called() string {
	if p.Part == Whole {
		return p.Heading()
	}
	return p.Heading() + ", " + string(p.Part)
}
