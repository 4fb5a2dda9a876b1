package seed

import "rowtally/internal/unit"

// Test is one germination test of a lot, as the laboratory reported it.
type Test struct {
	ID         int64
	LotID      int64
	TestedOn   unit.Date // the day that the test finished
	Laboratory string
	Reference  string // certificate or report number
	Method     string // substrate, temperature, pre-treatment
	Note       string
	Replicates []Replicate // seedling counts; at least one
}

// DueOn is the day from which the test no longer counts.
func (t Test) DueOn(retestMonths int) unit.Date { return t.TestedOn.PlusMonths(retestMonths) }

// Latest is the test that counts on a day: the last one finished on or before it. ok is
// false when there is none.
func Latest(tests []Test, day unit.Date) (latest Test, ok bool) {
	for _, t := range tests {
		if t.TestedOn <= day && (!ok || t.TestedOn > latest.TestedOn || t.TestedOn == latest.TestedOn && t.ID > latest.ID) {
			latest, ok = t, true
		}
	}
	return latest, ok
}
