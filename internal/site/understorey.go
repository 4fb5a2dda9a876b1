package site

import (
	"strconv"

	"rowtally/internal/choose"
	"rowtally/internal/job"
	"rowtally/internal/seed"
)

type understoreyPage struct {
	Frame
	Job     job.Job
	Head    string
	Over    Field
	Needs   []choose.Need // proposed, not kept
	Species []betweenChoice
}

// betweenChoice is one species of the understorey with its rate, its inoculant and the lots
// to choose from.
type betweenChoice struct {
	Species, CommonName string
	Fields              []Field
	Lots                []lotChoice
	Several             bool // lots, so that they may share unequally
}

const (
	asBagged = "bagged"
	asLive   = "live"
	hardIn   = "counted"
	hardOut  = "not counted"
)

var (
	overOptions = []Option{{string(job.GrossHa), "the paddock's gross hectares"}, {string(job.AlleyHa), "the hectares of alley between the belts"}}
	rateOptions = []Option{{asBagged, "kg/ha of seed as bagged"}, {asLive, "kg/ha of pure live seed"}}
	hardOptions = []Option{{hardIn, "counts as live"}, {hardOut, "does not count"}}
)

// understorey chooses what is sown between a job's rows, or over a paddock without rows.
func (s *site) understorey(r *request) error {
	facts, err := s.jobFacts(r)
	if err != nil {
		return err
	}
	f := blank(understoreyTyped(facts))
	if r.isPost() {
		f = readForm(r)
	}
	var needs []choose.Need
	if proposing(r, f) {
		if needs, err = s.proposeBetween(r, f, facts); err != nil {
			return err
		}
	} else if r.isPost() {
		if err := s.keepUnderstorey(r, f, facts, understoreyFrom(f, facts)); err != nil {
			return err
		}
		if f.ok() {
			return r.see(jobPath(facts.Job.ID) + "?done=kept#understorey")
		}
	}
	if !f.ok() {
		r.Status(422)
	}
	page := understoreyPage{Frame: r.frame("jobs", "Understorey of "+facts.Job.Name), Job: facts.Job, Needs: needs,
		Over: f.field(Field{Name: "over", Label: "Sown over", Kind: "select", Options: overOptions, Required: true}), Species: betweenChoices(f, facts)}
	page.Head = f.head()
	return r.show("understorey", page)
}

// proposeBetween fills the form with lots for the understorey: for this job by its button,
// or as part of the season's allotment by the way here. Nothing is kept.
func (s *site) proposeBetween(r *request, f *form, facts job.Facts) (needs []choose.Need, err error) {
	if !r.isPost() {
		season, _, err := s.seasonsLots(r)
		if err != nil {
			return nil, err
		}
		needs = season.For(facts.Job.ID, seed.Understorey)
	} else {
		u := understoreyFrom(f, facts)
		if !f.ok() {
			return nil, nil
		}
		facts.Understorey = &u
		a, err := choose.ForUnderstorey(facts)
		if err := f.take(err); err != nil || !f.ok() {
			return nil, err
		}
		needs = a.Needs
	}
	f.fillLots(facts.Shelf, needs)
	return needs, nil
}

// keepUnderstorey tries the understorey on the paddock, keeps it, and moves what an agreed
// job holds back over to its lots.
func (s *site) keepUnderstorey(r *request, f *form, facts job.Facts, u job.Understorey) error {
	if !f.ok() {
		return nil
	}
	facts.Understorey = nil
	if len(u.Species) > 0 {
		facts.Understorey = &u
		_, err := facts.WorkUnderstorey()
		if err := f.take(err); err != nil || !f.ok() {
			return err
		}
	}
	claims, err := job.Claims(facts)
	if err := f.take(err); err != nil || !f.ok() {
		return err
	}
	if err := f.take(s.Books.KeepUnderstorey(r.Context(), r.act(), u)); err != nil || !f.ok() {
		return err
	}
	return s.reclaim(r, f, facts, claims)
}

func understoreyTyped(facts job.Facts) map[string]string {
	typed := map[string]string{"over": string(job.GrossHa)}
	if facts.Layout != nil {
		typed["over"] = string(job.AlleyHa)
	}
	if facts.Understorey == nil {
		return typed
	}
	typed["over"] = string(facts.Understorey.HectaresOf)
	for i, name := range speciesOf(facts.Shelf, seed.Understorey) {
		for _, s := range facts.Understorey.Species {
			if s.Species == name {
				typeBetween(typed, s, strconv.Itoa(i))
			}
		}
	}
	return typed
}

func typeBetween(typed map[string]string, s job.UnderstoreySpecies, n string) {
	typed["rate_"+n], typed["rate_of_"+n], typed["hard_"+n] = short(s.RateKgPerHa), asBagged, hardOut
	if s.RateIsLive {
		typed["rate_of_"+n] = asLive
	}
	if s.CountHard {
		typed["hard_"+n] = hardIn
	}
	typed["group_"+n] = s.InoculantGroup
	typed["inoculant_"+n], typed["hours_"+n] = numberOrNone(s.InoculantGPerKg), numberOrNone(s.InoculantHours)
	for i, id := range s.LotIDs {
		typed[lotBox(id)] = "on"
		if s.SharePercents != nil {
			typed[shareField(id)] = number(s.SharePercents[i])
		}
	}
}

// understoreyFrom reads the understorey. A species is used when a rate for it is typed or a
// lot of it is ticked.
func understoreyFrom(f *form, facts job.Facts) job.Understorey {
	u := job.Understorey{JobID: facts.Job.ID, HectaresOf: job.HectaresOf(f.oneOf("over", overOptions))}
	for i, name := range speciesOf(facts.Shelf, seed.Understorey) {
		if one, used := betweenFrom(f, facts.Shelf, name, strconv.Itoa(i)); used {
			u.Species = append(u.Species, one)
		}
	}
	return u
}

func betweenFrom(f *form, shelf job.Shelf, name, n string) (one job.UnderstoreySpecies, used bool) {
	for _, lot := range shelf.Lots {
		if lot.Species == name && lot.Layer == seed.Understorey && f.typed[lotBox(lot.ID)] != "" {
			one.LotIDs = append(one.LotIDs, lot.ID)
		}
	}
	if f.typed["rate_"+n] == "" && len(one.LotIDs) == 0 {
		return one, false
	}
	const mostKgPerHa, mostGPerKg, mostHours = 1000, 1000, 1000
	one.Species, one.RateKgPerHa = name, f.number("rate_"+n, 0.01, mostKgPerHa)
	one.RateIsLive, one.CountHard = f.oneOf("rate_of_"+n, rateOptions) == asLive, f.oneOf("hard_"+n, hardOptions) == hardIn
	one.InoculantGroup = f.text("group_" + n)
	one.InoculantGPerKg, one.InoculantHours = f.maybe("inoculant_"+n, 0, mostGPerKg, 0), f.maybe("hours_"+n, 0, mostHours, 0)
	if one.InoculantGroup == "" && one.InoculantGPerKg+one.InoculantHours > 0 {
		f.refuse("group_"+n, "Enter the inoculant's group, or leave its grams and hours empty.")
	}
	if one.InoculantGroup != "" && one.InoculantGPerKg == 0 {
		f.refuse("inoculant_"+n, "Enter how many grams of it go on a kg of seed, as its label says.")
	}
	one.SharePercents = readShares(f, one.LotIDs)
	if len(one.LotIDs) == 0 && f.typed["propose"] == "" {
		f.refuse("rate_"+n, "Tick at least one lot of %s.", name)
	}
	return one, true
}

func betweenChoices(f *form, facts job.Facts) (choices []betweenChoice) {
	for i, name := range speciesOf(facts.Shelf, seed.Understorey) {
		n := strconv.Itoa(i)
		choice := betweenChoice{Species: name}
		choice.CommonName, choice.Lots = lotChoices(f, facts, name, seed.Understorey)
		choice.Several = len(choice.Lots) > 1
		for k, lot := range choice.Lots {
			choice.Lots[k].Share = f.field(Field{Name: shareField(lot.Lot.ID), Label: lot.Lot.Code + "'s share of the rate, %", Kind: "number"})
		}
		if f.typed["hard_"+n] == "" {
			f.typed["hard_"+n] = hardOut
			if choice.Lots[0].Lot.CountHard {
				f.typed["hard_"+n] = hardIn
			}
		}
		choice.Fields = f.fields(
			Field{Name: "rate_" + n, Label: "Rate", Kind: "number"},
			Field{Name: "rate_of_" + n, Label: "The rate is in", Kind: "select", Options: rateOptions, Required: true},
			Field{Name: "hard_" + n, Label: "Hard seed", Kind: "select", Options: hardOptions, Required: true, Hint: hardHint(choice.Lots)},
			Field{Name: "group_" + n, Label: "Inoculant group", Hint: "Empty for none."},
			Field{Name: "inoculant_" + n, Label: "Inoculant", Kind: "number", Unit: "g per kg of seed"},
			Field{Name: "hours_" + n, Label: "Sown within", Kind: "number", Unit: "h of mixing", Hint: "As its label says."},
		)
		choices = append(choices, choice)
	}
	return choices
}

// hardHint tells what the first tested lot's test found, so that the choice is plain.
func hardHint(lots []lotChoice) string {
	for _, l := range lots {
		if l.Tested {
			return l.Lot.Code + " was tested at " + grouped(l.Quality.GerminationPercent, 0) + " % and " + grouped(l.Quality.HardPercent, 0) + " % hard."
		}
	}
	return ""
}
