package job

import (
	"rowtally/internal/seed"
	"rowtally/internal/unit"
)

// LiveSeed sets the live shrub seeds that the season's jobs still want beside those that lie
// in the shed and on the truck. Species are counted together; whether each job's own lots
// last is said on its page.
type LiveSeed struct {
	Free    float64 // of lots that may be used, by the test that counts
	Held    float64 // of lots on hold, or without a test that counts
	Steps   []LiveStep
	Unset   float64 // wanted by jobs without a window
	Unsaid  int     // open jobs with rows whose lots are not chosen yet
	Wanted  float64 // by all, windows set or not
	ShortOn unit.Date
}

// LiveStep is what is wanted up to the first day of a job's window, that job included.
type LiveStep struct {
	On   unit.Date
	Job  string
	Need float64
}

// liveSeedOf reads the two off the jobs, in the order of their windows, and the shelf.
func liveSeedOf(jobs []Chain, shelf Shelf, today unit.Date) LiveSeed {
	var l LiveSeed
	for _, lot := range shelf.Lots {
		if lot.Layer != seed.Shrub {
			continue
		}
		figures := shelf.LotOn(lot, today)
		live := float64(shelf.OnHand(LotStock, lot.ID)) / 1000 * figures.LivePerKg
		if lot.OnHold() || figures.WantsTest() {
			l.Held += live
		} else {
			l.Free += live
		}
	}
	sum := 0.0
	for _, c := range jobs {
		if c.laid != nil && c.Recipe == nil && c.Stage.Open() {
			l.Unsaid++
		}
		if c.live == 0 || !c.Stage.Open() {
			continue
		}
		l.Wanted += c.live
		if c.Job.WindowFrom == "" {
			l.Unset += c.live
			continue
		}
		sum += c.live
		l.Steps = append(l.Steps, LiveStep{max(c.Job.WindowFrom, today), c.Job.Name, sum})
		if l.ShortOn == "" && sum > l.Free {
			l.ShortOn = max(c.Job.WindowFrom, today)
		}
	}
	return l
}
