package site

import (
	"fmt"
	"math"
	"strconv"

	"rowtally/internal/choose"
	"rowtally/internal/job"
	"rowtally/internal/machine"
	"rowtally/internal/seed"
)

// liveChoices are the ways to take a lot's live seed, as the form sends them.
var liveChoices = []Option{
	{"test", "the latest test"},
	{string(job.ByPrediction), "foreseen on the sowing day"},
	{string(job.BySafeSide), "the safe side: the lower 95 % limit"},
}

var agesFirst = []Option{{"no", "the cheapest first"}, {"yes", "the oldest first"}}

// choiceFields are how the recipe takes live seed, and within which limits lots are
// proposed.
func choiceFields() []Field {
	return []Field{
		{Name: "live_by", Label: "Lots are weighed by", Kind: "select", Options: liveChoices, Required: true, Hint: "Printed on the quote and the mixing sheet."},
		{Name: "oldest_first", Label: "Propose", Kind: "select", Options: agesFirst, Required: true},
		{Name: "least_germination", Label: "Least germination", Kind: "number", Unit: "%"},
		{Name: "largest_share", Label: "Largest share of one lot", Kind: "number", Unit: "% of the live seed"},
		{Name: "origin_contains", Label: "Origin names", Hint: "Lots whose origin holds these words alone."},
	}
}

// typeChoice shows a kept recipe's choice in the form.
func typeChoice(typed map[string]string, recipe *job.Recipe) {
	typed["live_by"], typed["oldest_first"] = "test", "no"
	if recipe == nil {
		return
	}
	if recipe.LiveBy != job.ByLatestTest {
		typed["live_by"] = string(recipe.LiveBy)
	}
	typed["oldest_first"] = yesNo(recipe.Limits.OldestFirst)
	typed["least_germination"] = numberOrNone(recipe.Limits.LeastGerminationPercent)
	typed["largest_share"] = numberOrNone(recipe.Limits.LargestSharePercent)
	typed["origin_contains"] = recipe.Limits.OriginContains
	for _, species := range recipe.Species {
		for i, share := range species.SharePercents {
			typed[shareField(species.LotIDs[i])] = number(share)
		}
	}
}

// readChoice reads the choice; a form that does not offer it takes the latest test.
func readChoice(f *form, recipe *job.Recipe) {
	if f.typed["live_by"] != "" {
		if by := f.oneOf("live_by", liveChoices); by != "test" {
			recipe.LiveBy = job.LiveBy(by)
		}
	}
	recipe.Limits = job.LotLimits{
		LeastGerminationPercent: f.maybe("least_germination", 0, 100, 0),
		LargestSharePercent:     f.maybe("largest_share", 1, 100, 0),
		OriginContains:          f.text("origin_contains"),
		OldestFirst:             f.typed["oldest_first"] == "yes",
	}
}

func shareField(lotID int64) string { return fmt.Sprintf("share_%d", lotID) }

// readShares reads what each ticked lot gives of its species: all of them, or none for equal
// shares. A share of a lot that is not ticked counts for nothing.
func readShares(f *form, lotIDs []int64) []float64 {
	const rounding = 0.001
	given, sum := 0, 0.0
	shares := make([]float64, len(lotIDs))
	for i, id := range lotIDs {
		if name := shareField(id); f.typed[name] != "" {
			shares[i] = f.number(name, 0.0001, 100)
			sum += shares[i]
			given++
		}
	}
	if given == 0 {
		return nil
	}
	for i, id := range lotIDs {
		if shares[i] == 0 {
			f.refuse(shareField(id), "Other lots of the species have a share: enter this one's, or leave all empty for equal shares.")
		}
	}
	if f.ok() && !(math.Abs(sum-100) <= rounding) {
		f.refuse(shareField(lotIDs[0]), "The shares make %s %%, not 100: correct one, or leave all empty for equal shares.", number(math.Round(sum*1000)/1000))
	}
	return shares
}

// proposing tells whether the page is to propose lots: for this job by its button, or as
// part of the season's allotment by the way here.
func proposing(r *request, f *form) bool {
	return r.isPost() && f.typed["propose"] != "" || !r.isPost() && r.Query("allot") != ""
}

// propose fills the form with lots. Nothing is kept.
func (s *site) propose(r *request, f *form, facts job.Facts, sowers []machine.Machine) ([]choose.Need, error) {
	if !r.isPost() {
		season, _, err := s.seasonsLots(r)
		if err != nil {
			return nil, err
		}
		needs := season.For(facts.Job.ID, seed.Shrub)
		f.fillLots(facts.Shelf, needs)
		return needs, nil
	}
	recipe := recipeFrom(f, facts, sowers)
	if !f.ok() {
		return nil, nil
	}
	facts.Recipe = &recipe
	a, err := choose.ForJob(facts)
	if err := f.take(err); err != nil || !f.ok() {
		return nil, err
	}
	f.fillLots(facts.Shelf, a.Needs)
	return a.Needs, nil
}

// fillLots ticks the lots of a proposal with their shares, in place of what was ticked.
func (f *form) fillLots(shelf job.Shelf, needs []choose.Need) {
	for _, n := range needs {
		for _, lot := range shelf.Lots {
			if lot.Species == n.Species && lot.Layer == n.Layer {
				delete(f.typed, lotBox(lot.ID))
				delete(f.typed, shareField(lot.ID))
			}
		}
		for _, take := range n.Takes {
			f.typed[lotBox(take.Lot.ID)] = "on"
			if len(n.Takes) > 1 {
				f.typed[shareField(take.Lot.ID)] = strconv.FormatFloat(take.SharePercent, 'f', -1, 64)
			}
		}
	}
}
