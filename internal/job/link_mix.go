package job

import (
	"fmt"
	"strings"

	"rowtally/internal/unit"
)

// SeedLine is one lot of the recipe as the chain shows it.
type SeedLine struct {
	LotID      int64
	Code, Name string
	Form       string
	LivePerG   float64
	KgPerKm    float64
	Kg         float64
	FreeKg     float64
	LiveSays   string // what it is mixed by
	State      string // from LotToday
	OnHold     bool
}

// recipeWork is the recipe worked out over the planned rows, or why it cannot be.
type recipeWork struct {
	Worked
	why   error // nil when worked out
	toMix bool  // a tub is still to be mixed
}

// work works the recipe out for the whole job. What is short, and what stands in the way of
// mixing, is told of the tubs still to be mixed.
func (c Chain) work() recipeWork {
	if c.laid == nil || c.Recipe == nil {
		return recipeWork{why: errNotYet}
	}
	w, err := c.WorkRecipe(c.laid.RowM)
	if err != nil {
		return recipeWork{Worked: w, why: err}
	}
	left, err := c.workLeft(c.laid.RowM)
	w.Short, w.Refusal, w.onHold = nil, "", false
	if left != nil {
		w.Short, w.Refusal, w.onHold = left.Short, left.Refusal, left.onHold
	}
	return recipeWork{w, err, left != nil}
}

func (c Chain) seedLink(w recipeWork) ChainLink {
	link := ChainLink{Name: "Live seed", Anchor: "seed", State: Open}
	switch {
	case c.Rowless():
		link.State, link.Says = Kept, "No placements in this job."
		return link
	case c.laid == nil:
		link.Says = "After the rows."
		return link
	case c.Recipe == nil:
		link.Says = "No lots are chosen yet."
		link.Doings = []Next{{"Choose lots", c.path("/mix")}}
		return link
	case w.why != nil:
		link.Warning = "The mix cannot be worked out: " + w.why.Error()
		link.Doings = []Next{{"Choose other lots", c.path("/mix")}}
		return link
	}
	link.State = Kept
	var live []string
	for _, s := range w.Mix.Species {
		live = append(live, unit.Grouped(s.LiveSeedsPerPlacement, 0))
	}
	link.Figures = []Figure{{strings.Join(live, " + "), "live seeds a placement"}}
	link.Says = w.filledSays(*c.Recipe)
	link.Seed = c.seedLines(w.Worked)
	link.Doings = []Next{{"Change the lots", c.path("/mix")}}
	if w.Refusal != "" {
		link.Warning = w.Refusal
		link.Doings = []Next{{"Choose other lots", c.path("/mix")}}
	}
	return link
}

// filledSays says how many placements the seed should fill, and that it is a ceiling.
func (w Worked) filledSays(r Recipe) string {
	says := fmt.Sprintf("Fills %s %% of placements if %s of the live seeds become plants", percent(100*w.Filled), emergence(r))
	low, high := w.Mix.ExpectedFilledLowFraction, w.Mix.ExpectedFilledHighFraction
	switch {
	case r.emergenceRanged() && w.Mix.Range != nil:
		says += fmt.Sprintf(", %s to %s %% as far as the tests' counts and your range of that share leave open", percent(100*w.Mix.Range.LowFraction), percent(100*w.Mix.Range.HighFraction))
	case w.Mix.Range != nil:
		says += fmt.Sprintf(", %s to %s %% by the tests' counts", percent(100*w.Mix.Range.LowFraction), percent(100*w.Mix.Range.HighFraction))
	case low != nil && high != nil:
		says += fmt.Sprintf(", %s to %s %% by the tests' counts", percent(100**low), percent(100**high))
	}
	return says + ". Placements that fail together make this a ceiling."
}

// emergenceRanged tells whether the share that becomes plants has a range for any species.
func (r Recipe) emergenceRanged() bool {
	for _, s := range r.Species {
		if s.EmergenceHighPercent > 0 {
			return true
		}
	}
	return false
}

// emergence names the share of live seeds that become plants, species by species.
func emergence(r Recipe) string {
	var parts []string
	for _, s := range r.Species {
		part := percent(s.EmergencePercent) + " in 100"
		if len(parts) == 0 || parts[len(parts)-1] != part {
			parts = append(parts, part)
		}
	}
	return strings.Join(parts, " and ")
}

func (c Chain) seedLines(w Worked) []SeedLine {
	var lines []SeedLine
	for i, species := range c.Recipe.Species {
		for k, id := range species.LotIDs {
			lot, _ := c.Shelf.Lot(id)
			figures := c.Live(lot)
			worked := w.Mix.Species[i].Lots[k]
			lines = append(lines, SeedLine{
				LotID: id, Code: lot.Code, Name: lot.CommonName, Form: lot.Form, LivePerG: figures.LivePerG(),
				KgPerKm: worked.KgPerKm, Kg: worked.WeighedKg, FreeKg: float64(c.Shelf.Free(LotStock, id, c.Job.ID)) / 1000,
				LiveSays: figures.LiveSays(), State: figures.State, OnHold: lot.OnHold(),
			})
		}
	}
	return lines
}

func (c Chain) mixLink(w recipeWork) ChainLink {
	link := ChainLink{Name: "Mix", Anchor: "mix", State: Open}
	if c.Rowless() {
		link.State, link.Says = Kept, "No row mix in this job."
		return link
	}
	if w.why != nil {
		link.Says = "After the lots."
		return link
	}
	if w.onHold {
		link.Says = "Not to be mixed as it stands: see the lots above."
		return link
	}
	link.Figures = []Figure{figure(w.Mix.MixL, 0, "L of mix"), {tubsSay(w.Mix.Batches, c.Recipe.TubL), fmt.Sprintf("tubs of %s L", unit.Plain(c.Recipe.TubL))}}
	link.Says = c.mixSays(w.Worked)
	link.Working = w.Mix.Working()
	link.Doings = c.mixDoings(w.toMix)
	link.State = Kept
	link.Warning = c.mediumShort(w.Worked)
	return link
}

// mixDoings are the pages and papers of the mix; those for the tubs still to be mixed only
// while there is one.
func (c Chain) mixDoings(toMix bool) []Next {
	doings := []Next{{"The mix, tub by tub", c.path("/mixing")}}
	if toMix {
		doings = append(doings, Next{"Mixing sheet", c.path("/mixing-sheet.pdf")}, Next{"Tub labels", c.path("/labels.pdf")},
			Next{"At the truck", fmt.Sprintf("/truck/%d", c.Job.ID)})
	}
	if len(c.Tubs) > 0 {
		doings = append(doings, Next{"Mass balance", c.path("/balance")})
	}
	return doings
}

func (c Chain) mixSays(w Worked) string {
	says := fmt.Sprintf("%s L a row-km at %s mL a placement", unit.Grouped(w.Mix.MixLPerKm, 2), percent(c.placementML()))
	if found, ok := c.CatchFound(); ok {
		says += fmt.Sprintf(", as caught; %s mL were intended, so the meter drops %s", percent(c.Recipe.PlacementML), deviation(found.DeviationPercent))
	}
	if n := len(c.Tubs); n > 0 {
		says += fmt.Sprintf(". %s mixed so far, for %s row-km", unit.Counted(n, "tub"), km(c.MixedM()))
	}
	return says + "."
}

func deviation(p float64) string {
	if p < 0 {
		return percent(-p) + " % light"
	}
	return percent(p) + " % heavy"
}
