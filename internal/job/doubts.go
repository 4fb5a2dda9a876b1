package job

import (
	"fmt"
	"slices"

	"rowtally/internal/bill"
)

// restingLots are the seed lots that a quote's price rests on: with the test that counts
// today and the grams that its rows and understorey take. A mix that cannot be worked out
// yet names its lots without grams.
func (f Facts) restingLots(rowM float64) (lots []bill.PaperLot) {
	grams := map[int64]int64{}
	if rowM > 0 {
		if worked, err := f.WorkRecipe(rowM); err == nil {
			for _, need := range f.needs(worked) {
				if need.StockKind == LotStock {
					grams[need.StockID] += need.Wanted
				}
			}
		}
	}
	named := f.RecipeLots()
	if worked, err := f.WorkUnderstorey(); err == nil {
		for _, need := range f.understoreyNeeds(worked) {
			grams[need.StockID] += need.Wanted
			if lot, ok := f.Shelf.Lot(need.StockID); ok {
				named = append(named, lot)
			}
		}
	}
	for _, lot := range named {
		figures := f.Shelf.LotOn(lot, f.Today)
		one := bill.PaperLot{LotID: lot.ID, Code: lot.Code, Grams: grams[lot.ID]}
		if figures.Tested {
			one.TestedOn, one.GerminationPercent = figures.Test.TestedOn, figures.Quality.GerminationPercent
		}
		if !slices.ContainsFunc(lots, func(l bill.PaperLot) bool { return l.LotID == lot.ID }) {
			lots = append(lots, one)
		}
	}
	return lots
}

// Doubts says what of a quote that waits for its yes no longer holds: a test gone stale or
// replaced, a lot on hold or drawn down, rows laid anew, lines or prices changed. The
// sentences may be read by the farmer. That it ran out is said elsewhere.
func (f Facts) Doubts(quote bill.Paper) (doubts []string) {
	if len(quote.Alternatives) > 0 || len(f.Alternatives) > 0 {
		return f.alternativeDoubts(quote)
	}
	for _, lot := range quote.Lots {
		if says := f.lotDoubt(lot); says != "" {
			doubts = append(doubts, says)
		}
	}
	draft, err := QuoteDraft(f)
	switch {
	case err != nil:
		return append(doubts, "The job has changed since this quote was issued, and it could not be issued again as it stands.")
	case RowKmOf(draft.RowM).Compare(RowKmOf(quote.RowM)) != 0:
		doubts = append(doubts, fmt.Sprintf("The rows were laid anew since: %s row-km then, %s now.", RowKmOf(quote.RowM).Fixed(kmDecimals), RowKmOf(draft.RowM).Fixed(kmDecimals)))
	case !slices.EqualFunc(draft.Lines, quote.Lines, sameLine):
		doubts = append(doubts, "Lines or prices of the job have changed since this quote was issued.")
	}
	return doubts
}

// sameLine tells whether two lines charge the same.
func sameLine(a, b bill.PaperLine) bool {
	return a.Description == b.Description && a.Unit == b.Unit && a.Basis == b.Basis && a.Optional == b.Optional &&
		a.Quantity.Compare(b.Quantity) == 0 && a.UnitPrice.Compare(b.UnitPrice) == 0 && a.TaxPercent.Compare(b.TaxPercent) == 0
}

func (f Facts) lotDoubt(rests bill.PaperLot) string {
	lot, kept := f.Shelf.Lot(rests.LotID)
	if !kept {
		return fmt.Sprintf("Seed lot %s, which the price rests on, is no longer kept.", rests.Code)
	}
	now := f.Shelf.LotOn(lot, f.Today)
	switch {
	case lot.OnHold():
		return fmt.Sprintf("Seed lot %s, which the price rests on, is on hold: nothing may be sown from it now.", lot.Code)
	case now.Tested && now.Test.TestedOn > rests.TestedOn:
		return fmt.Sprintf("Seed lot %s has a newer test, of %s at %s %%; the price rests on one of %s at %s %%.", lot.Code,
			now.Test.TestedOn, percent(now.Quality.GerminationPercent), rests.TestedOn, percent(rests.GerminationPercent))
	case now.Tested && now.Due:
		return fmt.Sprintf("The test of seed lot %s, which the price rests on, counted until %s: a retest is due.", lot.Code, now.DueOn)
	case f.Shelf.Free(LotStock, lot.ID, f.Job.ID) < rests.Grams:
		return fmt.Sprintf("Seed lot %s no longer holds enough free seed for this job.", lot.Code)
	}
	return ""
}
