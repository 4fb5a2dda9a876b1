package job

import (
	"fmt"

	"rowtally/internal/fault"
	"rowtally/internal/mix"
	"rowtally/internal/unit"
)

// catchTurns is how many turns of the driving wheel a catch is made over: long enough for a
// dozen placements, short enough for a bucket. Our own setting.
const catchTurns = 20

// MixingSheet is the operator's paper, and the truck page's figures: the tubs still to be
// mixed, lot by lot in the order of adding.
type MixingSheet struct {
	Business    string
	Code, Name  string
	Farm        string
	Paddock     string
	Season      int
	Day         unit.Date
	Layout      string // one sentence
	RowM        float64
	LeftM       float64 // row length for which a tub is still to be mixed
	SpacingM    float64
	PlacementML float64
	IntendedML  float64 // before a catch test changed it
	PerKm       float64 // placements
	LPerKm      float64
	Medium      string
	TubL        float64
	Lots        []SheetLot
	Tubs        []SheetTub // still to be mixed
	Mixed       int        // tubs mixed already
	Short       string     // why the tubs end before the rows do; "" when they reach all
	Cautions    []string

	Sower   string             // machine that sows; "" while none is named
	Hoppers int                // of it, filled at once; 0 when not told
	Catch   *mix.ExpectedCatch // of one outlet; nil while the machine's wheel is not known
}

// HopperL is what of a tub goes into each hopper, in litres; 0 where there is but one.
func (s MixingSheet) HopperL(tub SheetTub) float64 {
	if s.Hoppers < 2 {
		return 0
	}
	return tub.MixL / float64(s.Hoppers)
}

// MediumL is what all the tubs take of the medium, in litres.
func (s MixingSheet) MediumL() (litres float64) {
	for _, tub := range s.Tubs {
		litres += tub.MediumL
	}
	return litres
}

// SheetLot is one lot of the mix over all the tubs still to be mixed.
type SheetLot struct {
	LotID   int64
	Code    string
	Name    string // common name and form
	Species string // botanical name
	Grams   float64
	Treated string // product; "" when untreated
	Live    string // the test, and the live seed that it is mixed by
}

// SheetTub is one tub: litres to the line, and grams in the order of the sheet's lots.
type SheetTub struct {
	Number  int
	MixL    float64
	MediumL float64
	RowM    float64 // how far it should last
	Grams   []float64
}

// RowsPlanned is what a sheet needs of a job's rows once they are laid.
type RowsPlanned struct {
	RowM   float64 // metres of row
	Says   string  // the layout in one sentence
	Cannot string  // why no tub can be mixed for them; "" when one may
}

// Planned lays the job's rows and keeps what a sheet needs of them.
func (f Facts) Planned() RowsPlanned {
	if f.Rowless() {
		return RowsPlanned{Cannot: fmt.Sprintf("%s is priced without rows, so there is no tub to mix for it.", f.Job.Name)}
	}
	laid, err := f.Rows()
	if err != nil {
		return RowsPlanned{Cannot: err.Error()}
	}
	return RowsPlanned{RowM: laid.RowM, Says: laid.Says()}
}

// MixingSheetOf works out the tubs still to be mixed. It refuses with the way out when
// nothing may be mixed.
func MixingSheetOf(f Facts) (MixingSheet, error) { return SheetAlong(f, f.Planned()) }

// SheetAlong is MixingSheetOf where the rows are laid already, as at the truck.
func SheetAlong(f Facts, rows RowsPlanned) (MixingSheet, error) {
	if rows.Cannot != "" {
		return MixingSheet{}, fault.Conflict("%s", rows.Cannot)
	}
	sheet := MixingSheet{
		Business: f.Business.Name, Code: f.Job.Code, Name: f.Job.Name, Farm: f.Farm.Name, Paddock: f.Paddock.Name, Season: f.Job.Season,
		Day: f.Today, Layout: rows.Says, RowM: rows.RowM, LeftM: f.LeftM(rows.RowM), SpacingM: f.Layout.SpacingM, Mixed: len(f.Tubs),
	}
	if sheet.LeftM < leastLeftM {
		return sheet, fault.Conflict("Every row of %s is sown or mixed for. There is no tub to mix.", f.Job.Name)
	}
	w, err := f.WorkRecipe(sheet.LeftM)
	if err != nil {
		return sheet, err
	}
	if w.onHold {
		return sheet, fault.Conflict("%s", w.Refusal)
	}
	if len(w.Short) > 0 {
		if w, err = sheet.cutShort(f, w); err != nil {
			return sheet, err
		}
	}
	sheet.fill(f, w)
	return sheet, nil
}

// cutShort is the mix as far as the stock that is free goes: no tub takes more than a lot or
// the medium still holds. Where that is nothing, it refuses with the way out.
func (s *MixingSheet) cutShort(f Facts, w Worked) (Worked, error) {
	why := w.Refusal
	if why == "" {
		why = f.mediumShort(w)
	}
	endsM := s.LeftM * f.shareAtHand(w)
	if endsM < leastLeftM {
		return w, fault.Conflict("%s", why)
	}
	cut, err := f.WorkRecipe(endsM)
	if err != nil {
		return w, err
	}
	s.Short = fmt.Sprintf("%s What is free mixes %s L, which last %s of the %s row-km left: the tubs here are no larger than that.",
		why, unit.Grouped(cut.Mix.MixL, 1), km(endsM), km(s.LeftM))
	return cut, nil
}

// shareAtHand is how much of a mix the stock that is free for the job gives, 0..1.
func (f Facts) shareAtHand(w Worked) float64 {
	share := w.Mix.ShareAtHand()
	for _, short := range w.Short {
		if short.Kind == MediumStock {
			share = min(share, float64(max(0, short.Free))/float64(short.Need))
		}
	}
	return share
}

// mediumShort says that the medium is short; "" when it is not.
func (f Facts) mediumShort(w Worked) string {
	for _, s := range w.Short {
		if s.Kind == MediumStock {
			return fmt.Sprintf("%s is short: the job still takes %s L and %s L are free. Order before mixing.", sentenceCase(s.Name), litres(s.Need), litres(s.Free))
		}
	}
	return ""
}

func (s *MixingSheet) fill(f Facts, w Worked) {
	product, _ := f.Shelf.Product(f.Recipe.ProductID)
	s.PlacementML, s.IntendedML = f.placementML(), f.Recipe.PlacementML
	s.PerKm, s.LPerKm = w.Mix.PlacementsPerKm, w.Mix.MixLPerKm
	s.Medium, s.TubL = product.Name, f.Recipe.TubL
	if f.Sower != nil {
		s.Sower, s.Hoppers = f.Sower.Name, f.Sower.Hoppers
	}
	if f.Sower != nil && f.Sower.WheelM > 0 {
		s.Catch = new(mix.ExpectCatch(catchTurns, f.Sower.WheelM, f.Layout.SpacingM, s.PlacementML))
	}
	treated := false
	for i, species := range w.Mix.Species {
		for k, lot := range species.Lots {
			id := f.Recipe.Species[i].LotIDs[k]
			kept, _ := f.Shelf.Lot(id)
			treated = treated || kept.Treatment != ""
			s.Lots = append(s.Lots, SheetLot{id, lot.Code, kept.CommonName + ", " + kept.Form, kept.Species, lot.WeighedKg * 1000, kept.Treated(), f.Live(kept).LiveSays()})
		}
	}
	for _, batch := range w.Mix.Batches {
		s.Tubs = append(s.Tubs, tubOf(batch, s.Mixed))
	}
	s.Cautions = cautions(treated)
}

func tubOf(batch mix.Batch, mixedBefore int) SheetTub {
	tub := SheetTub{Number: mixedBefore + batch.Number, MixL: batch.MixL, MediumL: batch.MediumL, RowM: batch.RowKm * 1000}
	for _, lot := range batch.Lots {
		tub.Grams = append(tub.Grams, lot.Grams)
	}
	return tub
}

// cautions stand where the hand is. Labels, local codes and the business's own procedures
// rule.
func cautions(treated bool) []string {
	list := []string{
		"Vermiculite dust: mix outdoors with the wind behind you, wear a P2 mask, and keep the supplier's asbestos-free statement.",
		"Lift with two people or in halves. Stop and isolate the machine before clearing an outlet; guards stay on.",
		"Nobody works alone without a check-in agreed beforehand.",
	}
	if treated {
		list = append(list, "Treated seed is in this mix: gloves, read its label, never feed it or leave it where stock can reach it.")
	}
	return append(list, "Labels, local codes and licensed practice rule over this sheet.")
}
