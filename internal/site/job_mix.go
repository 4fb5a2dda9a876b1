package site

import (
	"sort"
	"strconv"
	"strings"

	"rowtally/internal/job"
	"rowtally/internal/seed"
)

type mixPage struct {
	Frame
	Job     job.Job
	Head    string
	Common  []Field
	Species []speciesChoice
}

// speciesChoice is one species of the shed with its lots to choose from.
type speciesChoice struct {
	Species, CommonName string
	Live, Emergence     Field
	Lots                []lotChoice
}

type lotChoice struct {
	job.LotFigures
	Name   string // of the tick box
	Ticked bool
	FreeKg float64
}

// jobMix chooses a job's lots and what a placement is to hold.
func (s *site) jobMix(r *request) error {
	facts, err := s.jobFacts(r)
	if err != nil {
		return err
	}
	id := facts.Job.ID
	f := blank(recipeTyped(facts))
	if r.isPost() {
		f = readForm(r)
		recipe := recipeFrom(f, facts)
		if err := s.keepRecipe(r, f, facts, recipe); err != nil {
			return err
		}
		if f.ok() {
			return r.see(jobPath(id) + "?done=kept#seed")
		}
		r.Status(422)
	}
	page := mixPage{Frame: r.frame("jobs", "Live seed and mix of "+facts.Job.Name), Job: facts.Job,
		Common: f.fields(recipeFields(facts.Shelf)...), Species: speciesChoices(f, facts)}
	page.Head = f.head()
	return r.show("mix", page)
}

// keepRecipe tries the recipe on the rows, keeps it, and moves what an agreed job holds
// back over to the new lots.
func (s *site) keepRecipe(r *request, f *form, facts job.Facts, recipe job.Recipe) error {
	if !f.ok() {
		return nil
	}
	facts.Recipe = &recipe
	claims, err := job.Claims(facts)
	if err := f.take(err); err != nil || !f.ok() {
		return err
	}
	if err := f.take(s.Books.KeepRecipe(r.Context(), r.act(), recipe)); err != nil || !f.ok() {
		return err
	}
	if _, _, agreed := facts.Agreed(); !agreed {
		return nil
	}
	again := r.act()
	if again.Key != "" {
		again.Key += " hold"
	}
	return f.take(s.Books.ReclaimStock(r.Context(), again, facts.Job.ID, claims))
}

func recipeFields(shelf job.Shelf) []Field {
	var media []Option
	for _, p := range shelf.Products {
		media = append(media, Option{strconv.FormatInt(p.ID, 10), p.Name})
	}
	return []Field{
		{Name: "placement_ml", Label: "A placement holds", Unit: "mL of mix", Kind: "number", Required: true, Hint: "Your own setting; a catch test at the truck measures it."},
		{Name: "tub_l", Label: "A tub holds", Unit: "L to the line", Kind: "number", Required: true, Hint: "Usable litres of all hoppers filled at once."},
		{Name: "product", Label: "Medium", Kind: "select", Options: media, Required: true},
		{Name: "spare_percent", Label: "Spare", Unit: "%", Kind: "number", Hint: "Mixed beyond the row-km, for clean-out and the last corner."},
		{Name: "scale_step_g", Label: "The scale shows steps of", Unit: "g", Kind: "number", Required: true},
	}
}

func recipeTyped(facts job.Facts) map[string]string {
	typed := map[string]string{"scale_step_g": "1", "spare_percent": "0"}
	recipe := facts.Recipe
	if recipe == nil {
		return typed
	}
	typed["placement_ml"], typed["tub_l"] = short(recipe.PlacementML), short(recipe.TubL)
	typed["spare_percent"], typed["scale_step_g"] = short(recipe.SparePercent), short(recipe.ScaleStepG)
	typed["product"] = strconv.FormatInt(recipe.ProductID, 10)
	for i, name := range shrubSpecies(facts.Shelf) {
		for _, s := range recipe.Species {
			if s.Species != name {
				continue
			}
			n := strconv.Itoa(i)
			typed["live_"+n], typed["emergence_"+n] = short(s.LivePerPlacement), short(s.EmergencePercent)
			if s.TargetFilledPercent > 0 {
				typed["live_"+n] = short(s.TargetFilledPercent) + " %"
			}
			for _, id := range s.LotIDs {
				typed[lotBox(id)] = "on"
			}
		}
	}
	return typed
}

func lotBox(id int64) string { return "lot_" + strconv.FormatInt(id, 10) }

// shrubSpecies are the species of the shed that go into placements, by name.
func shrubSpecies(shelf job.Shelf) []string {
	seen := map[string]bool{}
	var names []string
	for _, lot := range shelf.Lots {
		if lot.Layer == seed.Shrub && !seen[lot.Species] {
			seen[lot.Species] = true
			names = append(names, lot.Species)
		}
	}
	sort.Strings(names)
	return names
}

// recipeFrom reads the recipe. A species is used when a figure for it is typed; "30" is
// live seeds a placement, "90 %" is the share of placements to fill.
func recipeFrom(f *form, facts job.Facts) job.Recipe {
	recipe := job.Recipe{
		JobID: facts.Job.ID, PlacementML: f.number("placement_ml", 0.1, 10_000), TubL: f.number("tub_l", 0.1, 100_000),
		SparePercent: f.maybe("spare_percent", 0, 100, 0), ScaleStepG: f.number("scale_step_g", 0.01, 1000),
	}
	product, err := strconv.ParseInt(f.typed["product"], 10, 64)
	if err != nil {
		f.refuse("product", "Choose the medium; one is added in the shed.")
	}
	recipe.ProductID = product
	for i, name := range shrubSpecies(facts.Shelf) {
		if one, used := speciesFrom(f, facts.Shelf, name, strconv.Itoa(i)); used {
			recipe.Species = append(recipe.Species, one)
		}
	}
	if len(recipe.Species) == 0 {
		f.refuse("", "Enter live seeds a placement for at least one species, and tick its lots.")
	}
	return recipe
}

func speciesFrom(f *form, shelf job.Shelf, name, n string) (one job.RecipeSpecies, used bool) {
	for _, lot := range shelf.Lots {
		if lot.Species == name && lot.Layer == seed.Shrub && f.typed[lotBox(lot.ID)] != "" {
			one.LotIDs = append(one.LotIDs, lot.ID)
		}
	}
	typed := f.typed["live_"+n]
	if typed == "" && len(one.LotIDs) == 0 {
		return one, false
	}
	one.Species = name
	one.EmergencePercent = f.number("emergence_"+n, 0.01, 100)
	if share, isShare := cutPercent(typed); isShare {
		f.typed["live_"+n] = share
		one.TargetFilledPercent = f.number("live_"+n, 0.1, 99.9)
		f.typed["live_"+n] = typed
	} else {
		one.LivePerPlacement = f.number("live_"+n, 0.1, 100_000)
	}
	if len(one.LotIDs) == 0 {
		f.refuse("live_"+n, "Tick at least one lot of %s.", name)
	}
	return one, true
}

func speciesChoices(f *form, facts job.Facts) []speciesChoice {
	var choices []speciesChoice
	for i, name := range shrubSpecies(facts.Shelf) {
		n := strconv.Itoa(i)
		choice := speciesChoice{
			Species: name,
			Live: f.field(Field{Name: "live_" + n, Label: "Live seeds a placement", Kind: "number", Inputmode: "text",
				Hint: "Or the share of placements to fill, as 90 %."}),
			Emergence: f.field(Field{Name: "emergence_" + n, Label: "Of 100 live seeds become plants", Kind: "number",
				Hint: "Your own, learned from counts."}),
		}
		for _, lot := range facts.Shelf.Lots {
			if lot.Species != name || lot.Layer != seed.Shrub {
				continue
			}
			choice.CommonName = lot.CommonName
			choice.Lots = append(choice.Lots, lotChoice{
				LotFigures: job.LotToday(lot, facts.Shelf.Tests[lot.ID], facts.Today), Name: lotBox(lot.ID), Ticked: f.typed[lotBox(lot.ID)] != "",
				FreeKg: float64(facts.Shelf.Free(job.LotStock, lot.ID, facts.Job.ID)) / 1000,
			})
		}
		choices = append(choices, choice)
	}
	return choices
}

// cutPercent takes the sign off a percentage; isPercent is false where there is none.
func cutPercent(s string) (number string, isPercent bool) {
	number, isPercent = strings.CutSuffix(s, "%")
	return strings.TrimSpace(number), isPercent
}
