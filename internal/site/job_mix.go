package site

import (
	"sort"
	"strconv"
	"strings"

	"rowtally/internal/choose"
	"rowtally/internal/count"
	"rowtally/internal/job"
	"rowtally/internal/machine"
	"rowtally/internal/seed"
)

type mixPage struct {
	Frame
	Job     job.Job
	Back    string
	Head    string
	Common  []Field
	Choice  []Field
	Needs   []choose.Need   // proposed, not kept
	Species []speciesChoice // that the recipe uses; all of the shed while it uses none
	Others  []speciesChoice // folded away
}

// speciesChoice is one species of the shed with its lots to choose from.
type speciesChoice struct {
	Species, CommonName string
	Live, Emergence     Field
	Poor, Good          Field // the ends between which the share that becomes plants lies
	Lots                []lotChoice
	Learned             []learnedOffer // from counts
	From                string         // the counts that the share kept was learned from
	Several             bool           // lots, so that they may share unequally
}

// inUse tells whether anything of the species is typed or ticked.
func (c speciesChoice) inUse() bool {
	for _, lot := range c.Lots {
		if lot.Ticked || lot.Share.Value != "" {
			return true
		}
	}
	return c.Live.Value != "" || c.Emergence.Value != "" || c.Poor.Value != "" || c.Good.Value != ""
}

// apart are the species that a recipe uses, and the others; all are used while none is.
func apart(all []speciesChoice) (used, others []speciesChoice) {
	for _, c := range all {
		if c.inUse() {
			used = append(used, c)
		} else {
			others = append(others, c)
		}
	}
	if used == nil {
		return all, nil
	}
	return used, others
}

type lotChoice struct {
	job.LotFigures
	Name   string // of the tick box
	Ticked bool
	FreeKg float64
	Share  Field // of the species' live seed; drawn where lots may share unequally
}

// jobMix chooses a job's lots and what a placement is to hold.
func (s *site) jobMix(r *request) error {
	facts, one, err := s.jobOrAlternative(r)
	if err != nil {
		return err
	}
	machines, err := s.Books.Machines(r.Context())
	if err != nil {
		return err
	}
	lessons, err := s.lessons(r)
	if err != nil {
		return err
	}
	id, sowers := facts.Job.ID, sowersOf(machines)
	f := blank(recipeTyped(facts))
	if r.isPost() {
		f = readForm(r)
		takeLearned(f, facts, lessons)
	}
	var needs []choose.Need
	if proposing(r, f) {
		if needs, err = s.propose(r, f, facts, sowers); err != nil {
			return err
		}
	} else if r.isPost() {
		recipe := recipeFrom(f, facts, sowers)
		if err := s.keepRecipe(r, f, facts, one, recipe); err != nil {
			return err
		}
		if f.ok() {
			return r.see(keptAt(id, one, "seed"))
		}
	}
	page := mixPage{Frame: r.frame("jobs", "Live seed and mix of "+facts.Job.Name+inAlternative(one)), Job: facts.Job, Back: backFrom(id, one), Needs: needs, Choice: f.fields(choiceFields()...),
		Common: f.fields(recipeFields(facts.Shelf, sowers)...)}
	page.Species, page.Others = apart(speciesChoices(f, facts, lessons))
	page.Head = f.head()
	if !f.ok() {
		r.Status(422)
	}
	return r.show("mix", page)
}

// keepRecipe tries the recipe on the rows, keeps it with the job or its alternative, and moves
// what an agreed job holds back over to the new lots.
func (s *site) keepRecipe(r *request, f *form, facts job.Facts, one job.Alternative, recipe job.Recipe) error {
	if !f.ok() {
		return nil
	}
	facts.Recipe = &recipe
	claims, err := job.Claims(facts)
	if err := f.take(err); err != nil || !f.ok() {
		return err
	}
	if one.Letter != "" {
		one.Recipe = &recipe
		return f.take(s.Books.KeepAlternative(r.Context(), r.act(), one))
	}
	if err := f.take(s.Books.KeepRecipe(r.Context(), r.act(), recipe)); err != nil || !f.ok() {
		return err
	}
	return s.reclaim(r, f, facts, claims)
}

// reclaim moves what an agreed job holds back over to its new claims.
func (s *site) reclaim(r *request, f *form, facts job.Facts, claims []job.Held) error {
	if _, _, agreed := facts.Agreed(); !agreed {
		return nil
	}
	again := r.act()
	if again.Key != "" {
		again.Key += " hold"
	}
	return f.take(s.Books.ReclaimStock(r.Context(), again, facts.Job.ID, claims))
}

// sowersOf are the machines that sow shrub rows; a drill sows between them.
func sowersOf(machines []machine.Machine) (sowers []machine.Machine) {
	for _, m := range machines {
		if m.Rows > 0 && m.Kind != "drill" {
			sowers = append(sowers, m)
		}
	}
	return sowers
}

func recipeFields(shelf job.Shelf, sowers []machine.Machine) []Field {
	var media []Option
	for _, p := range shelf.Products {
		media = append(media, Option{strconv.FormatInt(p.ID, 10), p.Name})
	}
	machines := []Option{{"", "not named yet"}}
	for _, m := range sowers {
		machines = append(machines, Option{strconv.FormatInt(m.ID, 10), m.Name})
	}
	return []Field{
		{Name: "placement_ml", Label: "A placement holds", Unit: "mL of mix", Kind: "number", Required: true, Hint: "Your own setting; a catch test at the truck measures it."},
		{Name: "sower", Label: "Sown with", Kind: "select", Options: machines, Hint: "Its hoppers and its wheel go on the mixing sheet."},
		{Name: "tub_l", Label: "A tub holds", Unit: "L to the line", Kind: "number", Hint: "Empty for all hoppers of the machine, filled at once."},
		{Name: "product", Label: "Medium", Kind: "select", Options: media, Required: true},
		{Name: "spare_percent", Label: "Spare", Unit: "%", Kind: "number", Hint: "Mixed beyond the row-km, for clean-out and the last corner."},
		{Name: "scale_step_g", Label: "The scale shows steps of", Unit: "g", Kind: "number", Required: true},
		{Name: "voids_percent", Label: "Of the seed's own volume, between the medium's grains", Unit: "%", Kind: "number", Hint: "The first tub measures it; empty counts as none."},
	}
}

func recipeTyped(facts job.Facts) map[string]string {
	typed := map[string]string{"scale_step_g": "1", "spare_percent": "0"}
	recipe := facts.Recipe
	typeChoice(typed, recipe)
	if recipe == nil {
		return typed
	}
	typed["placement_ml"], typed["tub_l"] = short(recipe.PlacementML), short(recipe.TubL)
	typed["spare_percent"], typed["scale_step_g"] = short(recipe.SparePercent), short(recipe.ScaleStepG)
	typed["product"], typed["voids_percent"] = strconv.FormatInt(recipe.ProductID, 10), voidsTyped(*recipe)
	if recipe.SowerID != 0 {
		typed["sower"] = strconv.FormatInt(recipe.SowerID, 10)
	}
	for i, name := range shrubSpecies(facts.Shelf) {
		for _, s := range recipe.Species {
			if s.Species != name {
				continue
			}
			n := strconv.Itoa(i)
			typed["live_"+n], typed["emergence_"+n] = short(s.LivePerPlacement), short(s.EmergencePercent)
			if s.EmergenceHighPercent > 0 {
				typed["poor_"+n], typed["good_"+n] = short(s.EmergenceLowPercent), short(s.EmergenceHighPercent)
			}
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

// voidsTyped is the share of the seed's volume that fills voids, as the form shows it.
func voidsTyped(r job.Recipe) string {
	if r.VoidsFraction == 0 {
		return ""
	}
	return strconv.FormatFloat(100*r.VoidsFraction, 'f', 1, 64)
}

func lotBox(id int64) string { return "lot_" + strconv.FormatInt(id, 10) }

// shrubSpecies are the species of the shed that go into placements, by name.
func shrubSpecies(shelf job.Shelf) []string { return speciesOf(shelf, seed.Shrub) }

// speciesOf are the species of one layer in the shed, by name.
func speciesOf(shelf job.Shelf, layer seed.Layer) []string {
	seen := map[string]bool{}
	var names []string
	for _, lot := range shelf.Lots {
		if lot.Layer == layer && !seen[lot.Species] {
			seen[lot.Species] = true
			names = append(names, lot.Species)
		}
	}
	sort.Strings(names)
	return names
}

// recipeFrom reads the recipe. A species is used when a figure for it is typed; "30" is
// live seeds a placement, "90 %" is the share of placements to fill.
func recipeFrom(f *form, facts job.Facts, sowers []machine.Machine) job.Recipe {
	recipe := job.Recipe{
		JobID: facts.Job.ID, PlacementML: f.number("placement_ml", 0.1, 10_000),
		SparePercent: f.maybe("spare_percent", 0, 100, 0), ScaleStepG: f.number("scale_step_g", 0.01, 1000),
	}
	readChoice(f, &recipe)
	readTub(f, &recipe, sowers)
	readVoids(f, &recipe, facts.Recipe)
	product, err := strconv.ParseInt(f.typed["product"], 10, 64)
	if err != nil {
		f.refuse("product", "Choose the medium; one is added in the shed.")
	}
	recipe.ProductID = product
	for i, name := range shrubSpecies(facts.Shelf) {
		if one, used := speciesFrom(f, facts.Shelf, name, strconv.Itoa(i)); used {
			one.EmergenceFrom = learnedFrom(f, facts.Recipe, one, strconv.Itoa(i))
			recipe.Species = append(recipe.Species, one)
		}
	}
	if len(recipe.Species) == 0 {
		f.refuse("", "Enter live seeds a placement for at least one species, and tick its lots.")
	}
	return recipe
}

// readTub reads the machine that sows, and the litres of a tub: its hoppers' when none are typed.
func readTub(f *form, recipe *job.Recipe, sowers []machine.Machine) {
	for _, m := range sowers {
		if f.typed["sower"] == strconv.FormatInt(m.ID, 10) {
			recipe.SowerID, recipe.TubL = m.ID, m.HopperUsableL
		}
	}
	if f.typed["sower"] != "" && recipe.SowerID == 0 {
		f.refuse("sower", "Choose one of the list.")
	}
	if f.typed["tub_l"] != "" || recipe.TubL == 0 {
		recipe.TubL = f.number("tub_l", 0.1, 100_000)
	}
}

// readVoids reads the share of the seed's volume that fills voids. Left as it was kept, it
// keeps the first tub that showed it.
func readVoids(f *form, recipe *job.Recipe, kept *job.Recipe) {
	if kept != nil && f.typed["voids_percent"] == voidsTyped(*kept) {
		recipe.VoidsFraction, recipe.FirstTubMediumL = kept.VoidsFraction, kept.FirstTubMediumL
		return
	}
	recipe.VoidsFraction = f.maybe("voids_percent", 0, 100, 0) / 100
}

// readEmergence reads the share that becomes plants, and its range where one is typed.
func readEmergence(f *form, one *job.RecipeSpecies, n string) {
	one.EmergencePercent = f.number("emergence_"+n, 0.01, 100)
	if f.typed["poor_"+n] == "" && f.typed["good_"+n] == "" {
		return
	}
	one.EmergenceLowPercent, one.EmergenceHighPercent = f.number("poor_"+n, 0, 100), f.number("good_"+n, 0.01, 100)
	if f.ok() && one.EmergenceLowPercent > one.EmergencePercent {
		f.refuse("poor_"+n, "A poor season is at or below the usual %s in 100.", short(one.EmergencePercent))
	}
	if f.ok() && one.EmergenceHighPercent < one.EmergencePercent {
		f.refuse("good_"+n, "A good season is at or above the usual %s in 100.", short(one.EmergencePercent))
	}
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
	readEmergence(f, &one, n)
	if share, isShare := cutPercent(typed); isShare {
		f.typed["live_"+n] = share
		one.TargetFilledPercent = f.number("live_"+n, 0.1, 99.9)
		f.typed["live_"+n] = typed
	} else {
		one.LivePerPlacement = f.number("live_"+n, 0.1, 100_000)
	}
	one.SharePercents = readShares(f, one.LotIDs)
	if len(one.LotIDs) == 0 && f.typed["propose"] == "" {
		f.refuse("live_"+n, "Tick at least one lot of %s.", name)
	}
	return one, true
}

func speciesChoices(f *form, facts job.Facts, lessons []count.Lesson) []speciesChoice {
	var choices []speciesChoice
	for i, name := range shrubSpecies(facts.Shelf) {
		n := strconv.Itoa(i)
		choice := speciesChoice{
			Species: name,
			Live: f.field(Field{Name: "live_" + n, Label: "Live seeds a placement", Kind: "number", Inputmode: "text",
				Hint: "Or the share of placements to fill, as 90 %."}),
			Emergence: f.field(Field{Name: "emergence_" + n, Label: "Of 100 live seeds become plants", Kind: "number",
				Hint: "Your own, learned from counts."}),
			Poor: f.field(Field{Name: "poor_" + n, Label: "In a poor season", Unit: "in 100", Kind: "number",
				Hint: "19 of 20 seasons lie between this and a good one."}),
			Good: f.field(Field{Name: "good_" + n, Label: "In a good season", Unit: "in 100", Kind: "number"}),
		}
		choice.Learned, choice.From = offers(f, facts, lessons, name, n), keptFrom(facts.Recipe, name)
		choice.CommonName, choice.Lots = lotChoices(f, facts, name, seed.Shrub)
		choice.Several = len(choice.Lots) > 1
		for k, lot := range choice.Lots {
			choice.Lots[k].Share = f.field(Field{Name: shareField(lot.Lot.ID), Label: lot.Lot.Code + "'s share of the live seed, %", Kind: "number"})
		}
		choices = append(choices, choice)
	}
	return choices
}

// lotChoices are the lots of a species to choose from, with what the species is called.
func lotChoices(f *form, facts job.Facts, species string, layer seed.Layer) (commonName string, lots []lotChoice) {
	for _, lot := range facts.Shelf.Lots {
		if lot.Species != species || lot.Layer != layer {
			continue
		}
		commonName = lot.CommonName
		lots = append(lots, lotChoice{
			LotFigures: facts.Shelf.LotOn(lot, facts.Today), Name: lotBox(lot.ID), Ticked: f.typed[lotBox(lot.ID)] != "",
			FreeKg: float64(facts.Shelf.Free(job.LotStock, lot.ID, facts.Job.ID)) / 1000,
		})
	}
	return commonName, lots
}

// cutPercent takes the sign off a percentage; isPercent is false where there is none.
func cutPercent(s string) (number string, isPercent bool) {
	number, isPercent = strings.CutSuffix(s, "%")
	return strings.TrimSpace(number), isPercent
}
