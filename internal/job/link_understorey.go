package job

import (
	"fmt"
	"strings"

	"rowtally/internal/bill"
	"rowtally/internal/fault"
	"rowtally/internal/mix"
	"rowtally/internal/seed"
	"rowtally/internal/unit"
)

// SownBetween is a job's understorey worked out: its seed, and what stands in its way.
type SownBetween struct {
	mix.UnderstoreySeed
	Ha      float64
	HaSays  string // which hectares they are
	Short   []Shortage
	Refusal string // why a lot may not be sown; "" when all may
}

// hectares are those that the understorey is sown over.
func (f Facts) hectares(of HectaresOf) (ha float64, says string, err error) {
	if of == GrossHa {
		survey, err := f.Survey()
		return survey.GrossM2 / 1e4, "the paddock's gross hectares", err
	}
	laid, err := f.Rows()
	return laid.AlleyHa, "the hectares of alley between the belts", err
}

// WorkUnderstorey works out the seed of the job's understorey, with what lots are worth today.
func (f Facts) WorkUnderstorey() (SownBetween, error) {
	if f.Understorey == nil {
		return SownBetween{}, fault.Conflict("No understorey is chosen.")
	}
	ha, says, err := f.hectares(f.Understorey.HectaresOf)
	if err != nil {
		return SownBetween{}, err
	}
	in := mix.Understorey{AreaHa: ha, AreaIs: says}
	for _, s := range f.Understorey.Species {
		one, err := f.understoreySpecies(s)
		if err != nil {
			return SownBetween{}, err
		}
		in.Species = append(in.Species, one)
	}
	out := SownBetween{Ha: ha, HaSays: says}
	if out.UnderstoreySeed, err = mix.MakeUpUnderstorey(in); err != nil {
		return out, err
	}
	f.refuseUnderstorey(&out)
	return out, nil
}

func (f Facts) understoreySpecies(s UnderstoreySpecies) (mix.UnderstoreySpecies, error) {
	out := mix.UnderstoreySpecies{Name: f.commonName(s), RateKgPerHa: s.RateKgPerHa, RateIsLive: s.RateIsLive, InoculantGPerKg: s.InoculantGPerKg}
	for i, id := range s.LotIDs {
		lot, ok := f.Shelf.Lot(id)
		if !ok {
			return out, fault.Conflict("The understorey names a lot that is no longer kept. Choose its lots again.")
		}
		figures := f.LiveBetween(lot, s)
		if !figures.Tested {
			return out, fault.Conflict("Lot %s has no germination test, so its live seed is not known. Enter its test, or choose another lot.", lot.Code)
		}
		out.Lots = append(out.Lots, mix.Draw{Code: lot.Code, ShareFraction: share(s.SharePercents, i), Quality: figures.Quality, CostPerKg: new(lot.ReadyPerKg()),
			AvailableKg: new(float64(f.Shelf.Free(LotStock, id, f.Job.ID)+f.drilled(id)) / 1000)})
	}
	return out, nil
}

// commonName is what a species is called on the farm: as its first lot says, else its
// botanical name.
func (f Facts) commonName(s UnderstoreySpecies) string {
	for _, id := range s.LotIDs {
		if lot, ok := f.Shelf.Lot(id); ok && lot.CommonName != "" {
			return lot.CommonName
		}
	}
	return s.Species
}

// refuseUnderstorey finds the first lot that is on hold, and every lot that is short, of
// those that are not loaded yet.
func (f Facts) refuseUnderstorey(out *SownBetween) {
	for _, need := range f.understoreyLeft(*out) {
		lot, _ := f.Shelf.Lot(need.StockID)
		free := f.Shelf.Free(LotStock, need.StockID, f.Job.ID)
		if lot.OnHold() && out.Refusal == "" {
			out.Refusal = fmt.Sprintf("Lot %s is on hold: %s. Nothing may be sown from it: choose another lot.", lot.Code, lot.HoldReason)
		}
		if need.Wanted > free {
			out.Short = append(out.Short, Shortage{LotStock, need.StockID, lot.Code, need.Wanted, free})
		}
	}
}

// understoreyNeeds are what the whole understorey takes of each lot, in whole grams.
func (f Facts) understoreyNeeds(worked SownBetween) []Held {
	var needs []Held
	for i, s := range f.Understorey.Species {
		for k, id := range s.LotIDs {
			needs = append(needs, Held{f.Job.ID, LotStock, id, ceil(worked.Species[i].Lots[k].Kg * 1000), 0})
		}
	}
	return needs
}

// understoreyLeft are what is still to go into the drill of each lot, in whole grams; a lot
// that is loaded already is left out.
func (f Facts) understoreyLeft(worked SownBetween) (left []Held) {
	for _, need := range f.understoreyNeeds(worked) {
		if need.Wanted -= f.drilled(need.StockID); need.Wanted > 0 {
			left = append(left, need)
		}
	}
	return left
}

// understoreyClaims are what the farmer's yes holds back for the understorey: what is not in
// the drill yet. A lot on hold is not claimed.
func (f Facts) understoreyClaims() ([]Held, error) {
	if f.Understorey == nil {
		return nil, nil
	}
	worked, err := f.WorkUnderstorey()
	if err != nil {
		return nil, err
	}
	var claims []Held
	for _, need := range f.understoreyLeft(worked) {
		if lot, _ := f.Shelf.Lot(need.StockID); !lot.OnHold() {
			claims = append(claims, need)
		}
	}
	return claims, nil
}

// understoreyParticulars are what a quote states of the understorey.
func (f Facts) understoreyParticulars() ([]bill.Particular, error) {
	if f.Understorey == nil {
		return nil, nil
	}
	worked, err := f.WorkUnderstorey()
	if err != nil {
		return nil, err
	}
	list := []bill.Particular{{Heading: "Understorey", Text: worked.says(f)}}
	for i, s := range f.Understorey.Species {
		if s.InoculantGroup != "" {
			list = append(list, bill.Particular{Heading: "Inoculant", Text: sentenceCase(s.inoculantSays(worked.Species[i]))})
		}
	}
	return list, nil
}

// says names every species with its rate, its lots and their tests.
func (w SownBetween) says(f Facts) string {
	var parts []string
	for i, s := range f.Understorey.Species {
		parts = append(parts, f.speciesSays(s, w.Species[i]))
	}
	return fmt.Sprintf("Over %s ha, %s: %s.", unit.Grouped(w.Ha, 1), w.HaSays, strings.Join(parts, "; "))
}

func (f Facts) speciesSays(s UnderstoreySpecies, worked mix.UnderstoreySpeciesKg) string {
	rate := "kg/ha as bagged"
	if s.RateIsLive {
		rate = "kg/ha of pure live seed"
	}
	var lots []string
	for k, id := range s.LotIDs {
		lot, _ := f.Shelf.Lot(id)
		lots = append(lots, fmt.Sprintf("%s kg of %s, %s", unit.Grouped(worked.Lots[k].Kg, 1), lot.Code, f.testSays(lot, s.CountHard)))
	}
	return fmt.Sprintf("%s %s %s, %s", worked.Name, unit.Plain(s.RateKgPerHa), rate, listed(lots))
}

// testSays tells what a lot's test found, and whether its hard seed counts as live.
func (f Facts) testSays(lot seed.Lot, countHard bool) string {
	figures := f.Shelf.LotOn(lot, f.Today)
	says := fmt.Sprintf("tested %s at %s %%", figures.Test.TestedOn, percent(figures.Quality.GerminationPercent))
	hard := figures.Quality.HardPercent
	switch {
	case hard > 0 && countHard:
		return says + fmt.Sprintf(" and %s %% hard, counted as live", percent(hard))
	case hard > 0:
		return says + fmt.Sprintf(" and %s %% hard, not counted", percent(hard))
	}
	return says
}

// inoculantSays tells how much inoculant of which group goes on, and by when the seed is sown.
func (s UnderstoreySpecies) inoculantSays(worked mix.UnderstoreySpeciesKg) string {
	says := fmt.Sprintf("%s: %s g of group %s, %s g to a kg of seed", worked.Name, unit.Grouped(worked.InoculantG, 0), s.InoculantGroup, unit.Plain(s.InoculantGPerKg))
	if s.InoculantHours > 0 {
		says += fmt.Sprintf("; sown within %s h of mixing", unit.Plain(s.InoculantHours))
	}
	return says + "."
}

// understoreyLink is the seed between the rows.
func (c Chain) understoreyLink() ChainLink {
	link := ChainLink{Name: "Understorey", Anchor: "understorey", State: Kept, Doings: []Next{{"Choose an understorey", c.path("/understorey")}}}
	if c.Understorey == nil {
		link.Says = "No understorey in this job."
		return link
	}
	worked, err := c.WorkUnderstorey()
	if err != nil {
		link.State, link.Warning = Open, "The understorey cannot be worked out: "+err.Error()
		return link
	}
	link.Figures = []Figure{figure(worked.Kg, 1, "kg of seed"), figure(worked.Ha, 1, "ha "+string(c.Understorey.HectaresOf))}
	link.Says = worked.says(c.Facts) + c.drillSays()
	for i, s := range c.Understorey.Species {
		if s.InoculantGroup != "" {
			link.Says += " Inoculate " + s.inoculantSays(worked.Species[i])
		}
	}
	link.Working = worked.Working()
	link.Doings = []Next{{"Change the understorey", c.path("/understorey")}}
	if c.Stage.Open() {
		link.Doings = append(link.Doings, Next{"Load the drill", c.path("/understorey/load")})
	}
	if link.Warning = worked.Refusal; link.Warning == "" && len(worked.Short) > 0 && c.Stage.sowsYet() {
		s := worked.Short[0]
		link.Warning = fmt.Sprintf("Lot %s is short: the understorey takes %s kg and %s kg are free. Choose another lot beside it, or buy.", s.Name, grams(s.Need), grams(s.Free))
	}
	return link
}

// sowsYet tells whether the job's seed is still to go into the ground.
func (s Stage) sowsYet() bool { return s != AllSown && s.Open() }
