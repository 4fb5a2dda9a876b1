package bill

import (
	"time"

	"rowtally/internal/money"
	"rowtally/internal/unit"
)

// PaymentKind tells what moved the money of a payment row.
type PaymentKind string

const (
	Paid     PaymentKind = "payment"  // by the farm, amount above 0
	Reversed PaymentKind = "reversal" // takes a payment back whole, amount below 0
	Refunded PaymentKind = "refund"   // to the farm, out of its credit, amount below 0
)

// Payment is money that came from a farm, or went back to it. It never changes; a mistake
// is mended by a reversal, which is a row of its own.
type Payment struct {
	ID         int64
	FarmID     int64
	Kind       PaymentKind
	PaidOn     unit.Date // day on which the money came
	Amount     money.Cents
	Way        string // "transfer", "cheque", "cash", "card"
	Reference  string // as the payer wrote it
	Note       string
	ReversesID int64 // payment that a reversal takes back; 0 for none
	EnteredAt  time.Time
	PersonID   int64
	Who        string
	BankKey    string // of the bank's line that it was entered from; "" where it was typed
	Placings   []Placing
}

// PlacedBy tells whose choice a placing was.
type PlacedBy string

const (
	ByPayer    PlacedBy = "the payer's direction"
	ByHand     PlacedBy = "by hand"
	ByAge      PlacedBy = "oldest first"
	ByReversal PlacedBy = "reversal"
)

// Placing is a part of a payment set against an invoice; a negative one takes it away again.
type Placing struct {
	ID        int64
	PaymentID int64
	PaperID   int64
	Amount    money.Cents
	PlacedBy  PlacedBy
	PlacedAt  time.Time
}

// Placed is what of the payment stands against invoices; the rest is credit.
func (p Payment) Placed() money.Cents {
	var sum money.Cents
	for _, one := range p.Placings {
		sum += one.Amount
	}
	return sum
}
