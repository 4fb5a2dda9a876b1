package job

import (
	"time"

	"rowtally/internal/money"
)

// StockKind tells what a balance counts: grams of a lot, or millilitres of a medium.
type StockKind string

const (
	LotStock    StockKind = "lot"
	MediumStock StockKind = "medium"
)

// Place is one of the two places where stock is.
type Place string

const (
	Shed  Place = "shed"
	Truck Place = "truck"
)

// Balance is what lies at a place: whole grams of a lot, whole millilitres of a medium.
type Balance struct {
	Kind   StockKind
	ID     int64
	Place  Place
	OnHand int64
}

// Movement is one line of the stock ledger. Lines are only ever added; a correction is
// a line of its own.
type Movement struct {
	ID          int64
	At          time.Time
	Who         string
	Kind        string // received, drawn, returned, written off, counted, moved
	StockKind   StockKind
	StockID     int64
	Place       Place
	Quantity    int64 // signed: g or mL
	JobID       int64 // 0 for none
	TubID       int64
	DrillLoadID int64
	Note        string
	Value       money.Cents `json:",omitzero"` // that a medium's movement brought in (+) or took along (-); 0 for seed
}

// StockWorth is what a medium on hand cost, the values of its movements added up.
type StockWorth struct {
	Kind  StockKind
	ID    int64
	Value money.Cents
}

// Held is what an agreed job has claimed of one lot or product.
type Held struct {
	JobID     int64
	StockKind StockKind
	StockID   int64
	Wanted    int64 // g or mL
	Held      int64 // what was free to hold, and is not drawn yet
}
