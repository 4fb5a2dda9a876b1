package bill

// Card is a rate card: lines that the contractor charges by, kept under a name and put on a
// job as its rates begin. What a job took from a card is its own: the card may change.
type Card struct {
	ID    int64
	Name  string
	Note  string // since when, for whom
	Rates []Rate // without the rate of the tax, which follows the job's day
}
