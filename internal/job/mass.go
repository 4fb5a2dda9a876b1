package job

import (
	"fmt"
	"math"

	"rowtally/internal/fault"
	"rowtally/internal/mix"
	"rowtally/internal/unit"
	"rowtally/internal/working"
)

// MassBalance tells where what a job drew has gone, to the gram and the millilitre:
// drawn = sown + kept + wasted for every lot and the medium.
type MassBalance struct {
	Lines      []MassLine // the lots, then the medium
	MixedML    int64      // finished mix of all tubs
	KeptML     int64      // of it, back from clean-outs
	ThrownML   int64      // of it, thrown away at clean-outs
	SownML     int64      // of it, by the measured rows
	RowM       float64    // measured
	By         string     // the witness of RowM; "" while nothing is sown
	Placements float64    // over RowM

	// What really went out of the hoppers, over the measured placements; 0 while nothing is sown.
	PlacementML      float64
	LivePerPlacement float64

	setML, lPerKm float64
	catchCounts   bool
}

// MassLine is one lot, in g, or the medium, in mL.
type MassLine struct {
	Kind        StockKind
	ID          int64
	Name        string
	Drawn       int64 // out of stock, by the ledger
	Mixed       int64 // into tubs
	Sown        int64 // by measured row-km, at what a row-km takes
	Kept        int64 // back from clean-outs
	ThrownAway  int64 // at clean-outs
	Unaccounted int64 // drawn and in none of these; below 0 where more is told of than was drawn
}

// Wasted is what neither came into the ground by the measured rows nor back.
func (l MassLine) Wasted() int64 { return l.ThrownAway + l.Unaccounted }

// MassBalanceOf works out a job's mass balance. A job of which no tub is mixed is refused.
func MassBalanceOf(f Facts) (MassBalance, error) {
	if len(f.Tubs) == 0 || f.Recipe == nil || f.Layout == nil {
		return MassBalance{}, fault.Conflict("No tub of %s is mixed yet, so there is nothing to balance.", f.Job.Name)
	}
	b := MassBalance{setML: f.placementML()}
	_, b.catchCounts = f.CatchFound()
	b.RowM, b.By = f.SownM()
	b.Placements = b.RowM / f.Layout.SpacingM
	b.lPerKm = b.setML / f.Layout.SpacingM
	for _, tub := range f.Tubs {
		b.MixedML += tub.MixML
	}
	for _, c := range f.CleanOuts {
		if c.Kept {
			b.KeptML += c.MixML
		} else {
			b.ThrownML += c.MixML
		}
	}
	b.SownML = int64(math.Round(b.RowM * b.lPerKm)) // L per km are mL per m
	for _, line := range f.massLines() {
		b.Lines = append(b.Lines, b.settled(f, line))
	}
	b.reckonPlacement(f)
	return b, nil
}

// ofStock names one lot or medium.
type ofStock struct {
	kind StockKind
	id   int64
}

// massLines are the lots and media of the job's tubs, in the order of first use.
func (f Facts) massLines() (lines []MassLine) {
	seen := map[ofStock]bool{}
	add := func(kind StockKind, id int64) {
		if key := (ofStock{kind, id}); !seen[key] {
			seen[key] = true
			lines = append(lines, MassLine{Kind: kind, ID: id, Name: f.stockName(Held{StockKind: kind, StockID: id})})
		}
	}
	for _, tub := range f.Tubs {
		for _, in := range tub.Ingredient {
			add(LotStock, in.LotID)
		}
	}
	for _, tub := range f.Tubs {
		add(MediumStock, tub.ProductID)
	}
	return lines
}

// settled fills one line in: the rest is what no one has told of.
func (b MassBalance) settled(f Facts, l MassLine) MassLine {
	for _, tub := range f.Tubs {
		l.Mixed += partOf(l, tub.Ingredient, tub.ProductID, tub.MediumML)
	}
	for _, m := range f.Moved {
		if m.TubID != 0 && m.StockKind == l.Kind && m.StockID == l.ID {
			l.Drawn -= m.Quantity
		}
	}
	for _, c := range f.CleanOuts {
		part := partOf(l, c.Ingredient, c.ProductID, c.MediumML)
		if c.Kept {
			l.Kept += part
		} else {
			l.ThrownAway += part
		}
	}
	l.Sown = int64(math.Round(float64(l.Mixed) * float64(b.SownML) / float64(b.MixedML)))
	l.Unaccounted = l.Drawn - l.Sown - l.Kept - l.ThrownAway
	return l
}

// partOf is what a tub or a clean-out holds of a line's lot or medium.
func partOf(l MassLine, lots []mix.Ingredient, productID, mediumML int64) (quantity int64) {
	if l.Kind == MediumStock {
		if productID == l.ID {
			return mediumML
		}
		return 0
	}
	for _, in := range lots {
		if in.LotID == l.ID {
			quantity += in.Grams
		}
	}
	return quantity
}

// reckonPlacement is what really went out to a placement: all that was mixed less what
// remained, over the placements of the measured rows.
func (b *MassBalance) reckonPlacement(f Facts) {
	if b.Placements == 0 {
		return
	}
	b.PlacementML = float64(b.MixedML-b.KeptML-b.ThrownML) / b.Placements
	live := 0.0
	for _, l := range b.Lines {
		if lot, ok := f.Shelf.Lot(l.ID); ok && l.Kind == LotStock {
			live += float64(l.Mixed-l.Kept-l.ThrownAway) * f.Live(lot).LivePerG()
		}
	}
	b.LivePerPlacement = live / b.Placements
}

// InHoppers tells whether no clean-out is entered yet, so that what is not accounted for may
// still lie in the hoppers.
func (b MassBalance) InHoppers() bool { return b.KeptML+b.ThrownML == 0 }

// RestML is the mix that nothing tells of: neither measured rows nor a clean-out; below 0
// where rows and clean-outs tell of more than was mixed.
func (b MassBalance) RestML() int64 { return b.MixedML - b.SownML - b.KeptML - b.ThrownML }

// Says tells how the balance stands.
func (b MassBalance) Says() string {
	rest := percent(100 * math.Abs(float64(b.RestML())) / float64(b.MixedML))
	switch {
	case b.By == "":
		return fmt.Sprintf("%s L are mixed, and no row is measured yet.", litres(b.MixedML))
	case b.RestML() < 0:
		return fmt.Sprintf("The rows by %s, at %s mL a placement, take %s %% more mix than was made: the meter drops less than that, or the rows are counted long.", b.By, percent(b.setML), rest)
	case b.InHoppers():
		return fmt.Sprintf("%s L of mix, %s %%, are not in the rows by %s: still in the hoppers until a clean-out is entered.", litres(b.RestML()), rest, b.By)
	}
	return fmt.Sprintf("%s L of mix, %s %%, are neither in the rows by %s nor came back at the clean-out.", litres(b.RestML()), rest, b.By)
}

// Working shows how the balance is struck.
func (b MassBalance) Working() working.Steps {
	from := "the recipe's placement"
	if b.catchCounts {
		from = "the catch test"
	}
	steps := working.Steps{}.
		Add("mixed", "all tubs", working.Number(float64(b.MixedML)/1000, 1), "L", "the tubs as they were ticked").
		Add("kept", "clean-outs that went back", working.Number(float64(b.KeptML)/1000, 1), "L", "").
		Add("thrown away", "clean-outs that did not", working.Number(float64(b.ThrownML)/1000, 1), "L", "")
	if b.By == "" {
		return steps
	}
	return steps.
		Add("rows", "each row counted", working.Number(b.RowM/1000, 2), "row-km", b.By).
		Add("placements", "rows / spacing", working.Number(b.Placements, 0), "placements", "").
		Add("a row-km takes", fmt.Sprintf("%s mL a placement / spacing", percent(b.setML)), working.Number(b.lPerKm, 2), "L per row-km", from).
		Add("sown", "rows x L per row-km; lots and medium by their share of the tubs", working.Number(float64(b.SownML)/1000, 1), "L", "").
		Add("a placement really got", "(mixed - kept - thrown away) / placements", working.Number(b.PlacementML, 1), "mL", "").
		Add("live seed of it", "(grams mixed - remained) x live per g / placements, all lots", working.Number(b.LivePerPlacement, 1), "live seeds per placement", "")
}

// RemainsOf splits mix that remained in the hoppers, in mL, over lots and medium as the last
// tubs held them. More than was mixed and has not remained before is refused.
func RemainsOf(f Facts, mixML int64, kept bool) (mix.CleanOut, error) {
	out := mix.CleanOut{JobID: f.Job.ID, MixML: mixML, Kept: kept}
	left := int64(0)
	for _, tub := range f.Tubs {
		left += tub.MixML
	}
	for _, c := range f.CleanOuts {
		left -= c.MixML
	}
	if mixML <= 0 || mixML > left {
		return out, fault.Refuse("left_l", "%s L of mix cannot remain: of what was mixed %s L have not come back yet, enter litres above 0 and up to that", unit.Grouped(float64(mixML)/1000, 1), litres(left))
	}
	f.splitRemains(&out)
	return out, nil
}

// splitRemains takes what remained from the last tub backwards, never more of a lot or the
// medium than earlier clean-outs have left.
func (f Facts) splitRemains(out *mix.CleanOut) {
	parts, toTake := map[ofStock]float64{}, float64(out.MixML)
	for i := len(f.Tubs) - 1; i >= 0 && toTake > 0; i-- {
		tub := f.Tubs[i]
		share := min(1, toTake/float64(max(1, tub.MixML)))
		toTake -= float64(tub.MixML)
		parts[ofStock{MediumStock, tub.ProductID}] += share * float64(tub.MediumML)
		for _, in := range tub.Ingredient {
			parts[ofStock{LotStock, in.LotID}] += share * float64(in.Grams)
		}
		if out.ProductID == 0 {
			out.ProductID = tub.ProductID
		}
	}
	for _, l := range f.massLines() {
		l = MassBalance{MixedML: 1}.settled(f, l)
		part := min(int64(math.Round(parts[ofStock{l.Kind, l.ID}])), l.Mixed-l.Kept-l.ThrownAway)
		switch {
		case part <= 0:
		case l.Kind == LotStock:
			out.Ingredient = append(out.Ingredient, mix.Ingredient{LotID: l.ID, Grams: part})
		case l.ID == out.ProductID:
			out.MediumML = part
		}
	}
}
