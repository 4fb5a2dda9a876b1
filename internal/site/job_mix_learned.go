package site

import (
	"math"
	"slices"
	"strconv"

	"rowtally/internal/count"
	"rowtally/internal/job"
	"rowtally/internal/seed"
	"rowtally/internal/working"
)

// learnedOffer is what one kind of count says of a species' share that becomes plants.
type learnedOffer struct {
	Press string // value of the button that takes it
	Kind  count.Kind
	Says  string // "5.2 in 100 (3.9 to 6.8)"
	Short string // "5.2 in 100"
	From  string
	Poor  string
	Good  string
	Steps working.Steps

	learned count.Learned
}

// lessons is what the counts of every job teach.
func (s *site) lessons(r *request) (all []count.Lesson, err error) {
	ids, err := s.Books.JobsCounted(r.Context())
	if err != nil || len(ids) == 0 {
		return nil, err
	}
	facts, err := s.factsWhere(r, func(j job.Job) bool { return slices.Contains(ids, j.ID) })
	for _, f := range facts {
		all = append(all, f.Lessons()...)
	}
	return all, err
}

// offers are what the lessons say of a species as its lots are ticked, or as its first lot
// that is not on hold while none is.
func offers(f *form, facts job.Facts, lessons []count.Lesson, species, n string) (all []learnedOffer) {
	lot, ok := lotMeant(f, facts.Shelf, species)
	if !ok {
		return nil
	}
	for _, l := range facts.EmergenceLearned(lessons, lot) {
		if l.OtherSpecies && f.typed["live_"+n] == "" && f.typed[lotBox(lot.ID)] == "" {
			continue // not meant to be sown, and never counted
		}
		all = append(all, learnedOffer{Press: n + " " + string(l.Of.Kind), Kind: l.Of.Kind, Says: l.Says(), Short: inHundred(l.Fraction) + " in 100", From: l.From(),
			Poor: inHundred(l.PoorFraction), Good: inHundred(l.GoodFraction), Steps: l.Working(), learned: l})
	}
	return all
}

func lotMeant(f *form, shelf job.Shelf, species string) (lot seed.Lot, ok bool) {
	for _, one := range shelf.Lots {
		if one.Species != species || one.Layer != seed.Shrub {
			continue
		}
		if f.typed[lotBox(one.ID)] != "" {
			return one, true
		}
		if !ok || lot.OnHold() && !one.OnHold() {
			lot, ok = one, true
		}
	}
	return lot, ok
}

// inHundred writes a share as the form takes it.
func inHundred(fraction float64) string {
	return short(math.Round(fraction*1e4) / 100)
}

// takeLearned puts what was pressed into the form, with where it came from.
func takeLearned(f *form, facts job.Facts, lessons []count.Lesson) {
	pressed := f.typed["learn"]
	for i, name := range shrubSpecies(facts.Shelf) {
		n := strconv.Itoa(i)
		delete(f.typed, "from_"+n) // ours alone to say
		for _, o := range offers(f, facts, lessons, name, n) {
			if o.Press == pressed {
				f.typed["emergence_"+n], f.typed["poor_"+n], f.typed["good_"+n] = inHundred(o.learned.Fraction), o.Poor, o.Good
				f.typed["from_"+n] = facts.LearnedFrom(o.learned)
			}
		}
	}
}

// learnedFrom is where a species' share came from: as pressed now, or as it was kept while the
// share stands as it was.
func learnedFrom(f *form, kept *job.Recipe, one job.RecipeSpecies, n string) string {
	if from := f.typed["from_"+n]; from != "" {
		return from
	}
	if kept == nil {
		return ""
	}
	for _, before := range kept.Species {
		if before.Species == one.Species && before.EmergencePercent == one.EmergencePercent &&
			before.EmergenceLowPercent == one.EmergenceLowPercent && before.EmergenceHighPercent == one.EmergenceHighPercent {
			return before.EmergenceFrom
		}
	}
	return ""
}

// keptFrom is where the share of a species that is kept came from.
func keptFrom(kept *job.Recipe, species string) string {
	if kept == nil {
		return ""
	}
	for _, one := range kept.Species {
		if one.Species == species {
			return one.EmergenceFrom
		}
	}
	return ""
}
