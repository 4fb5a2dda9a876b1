package job

import "rowtally/internal/bill"

// Ledger is a farm with what it was billed and what it paid.
type Ledger struct {
	Farm    Farm
	Account bill.Account
}
