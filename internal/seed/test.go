package seed

import (
	"cmp"

	"rowtally/internal/unit"
)

// TestKind tells how the live seed of a sample was found.
type TestKind string

const (
	GerminationTest TestKind = "germination" // seedlings counted in five classes
	Tetrazolium     TestKind = "tetrazolium" // embryos stained: viable, whether dormant or not
	CutTest         TestKind = "cut test"    // cut open: filled and sound, which is not yet alive
)

// Certificate tells what a test speaks for: the whole lot, where the laboratory drew and
// sealed the sample, or the sample that it was sent.
type Certificate string

const (
	NoCertificate     Certificate = ""
	LotCertificate    Certificate = "lot"
	SampleCertificate Certificate = "sample"
)

// Test is one test of a lot, as the laboratory reported it.
type Test struct {
	ID          int64
	LotID       int64
	Kind        TestKind // "" is a germination test
	Certificate Certificate
	TestedOn    unit.Date // the day that the test finished
	Laboratory  string
	Reference   string // certificate or report number
	Method      string // substrate, temperature, pre-treatment
	Note        string
	CopiedFrom  int64 // the test of the lot that this one was split from; 0 for a test of its own

	// Replicates are the counts; at least one. Normal holds the normal seedlings, the seeds
	// stained viable, or those found filled and sound, as the kind of the test has it.
	Replicates []Replicate
}

// DueOn is the day from which the test no longer counts.
func (t Test) DueOn(retestMonths int) unit.Date { return t.TestedOn.PlusMonths(retestMonths) }

// IsA tells whether the test is of a kind.
func (t Test) IsA(kind TestKind) bool { return cmp.Or(t.Kind, GerminationTest) == kind }

// Counts is the test that live seed rests on, on a day: the last germination test finished
// on or before it. A tetrazolium test takes its place where none is in date, since it finds
// seed alive that may lie dormant through the season; a cut test never does. ok is false
// when there is none.
func Counts(tests []Test, day unit.Date, retestMonths int) (counts Test, ok bool) {
	germinated, ok := latest(tests, day, GerminationTest)
	if ok && day < germinated.DueOn(retestMonths) {
		return germinated, true
	}
	stained, has := latest(tests, day, Tetrazolium)
	if has && (!ok || stained.TestedOn > germinated.TestedOn) {
		return stained, true
	}
	return germinated, ok
}

// latest is the last test of a kind that was finished on or before a day.
func latest(tests []Test, day unit.Date, kind TestKind) (latest Test, ok bool) {
	for _, t := range tests {
		if t.IsA(kind) && t.TestedOn <= day && (!ok || t.TestedOn > latest.TestedOn || t.TestedOn == latest.TestedOn && t.ID > latest.ID) {
			latest, ok = t, true
		}
	}
	return latest, ok
}
