package seed

import (
	"fmt"

	"rowtally/internal/fault"
	"rowtally/internal/unit"
)

// Check refuses a test that cannot be one of the lot: dated after today or before the
// harvest, of no known kind, or with seedling classes that its kind does not have.
func (t Test) Check(lot Lot, today unit.Date) error {
	switch {
	case t.TestedOn == "" || t.TestedOn > today:
		return fault.Refuse("tested_on", "the test finished on %s, which is after today, %s: correct the day", t.TestedOn, today)
	case t.TestedOn < lot.Harvest.Begins():
		return fault.Refuse("tested_on", "the test finished on %s, before the lot was harvested in %s: correct the day, or the lot's harvest", t.TestedOn, lot.Harvest)
	case !t.IsA(GerminationTest) && !t.IsA(Tetrazolium) && !t.IsA(CutTest):
		return fault.Refuse("kind", "%q is no kind of test, choose germination, tetrazolium or cut test", t.Kind)
	case t.Certificate != NoCertificate && t.Certificate != LotCertificate && t.Certificate != SampleCertificate:
		return fault.Refuse("certificate", "%q is no kind of certificate, choose lot or sample", t.Certificate)
	}
	return t.checkClasses()
}

// checkClasses refuses seedling classes in a test that grows no seedlings.
func (t Test) checkClasses() error {
	if t.IsA(GerminationTest) {
		return nil
	}
	for i, r := range t.Replicates {
		if r.complete() {
			return fault.Refuse(fmt.Sprintf("replicates[%d]", i), "a %s grows no seedlings: enter the seeds and those found good, and leave abnormal, hard, fresh and dead empty", t.Kind)
		}
	}
	return nil
}
