package job

// SownM is how far the job is sown, in metres of row, and by which witness: the log when
// one is matched, else the day sheets.
func (f Facts) SownM() (rowM float64, by string) {
	if f.Sown != nil {
		return f.Sown.CoveredM, "the sown log"
	}
	for _, d := range f.DaySheets {
		rowM += d.RowM
	}
	if rowM > 0 {
		return rowM, "the day sheets"
	}
	return 0, ""
}

// MixedM is how far the tubs mixed so far last, in metres of row, at what a placement
// really takes; mix that came out again at a clean-out sows no row.
func (f Facts) MixedM() float64 {
	if f.Recipe == nil || f.Layout == nil {
		return 0
	}
	var ml int64
	for _, tub := range f.Tubs {
		ml += tub.MixML
	}
	for _, c := range f.CleanOuts {
		ml -= c.MixML
	}
	return float64(ml) / f.placementML() * f.Layout.SpacingM
}

// clings is the share of a mix that stays in hoppers and hoses: mix left below it sows no
// row any more. Our own rule.
const clings = 0.02

// LeftM is the length of row for which a tub is still to be mixed: what is planned, less
// what is sown, less the rows that the mix still unsown is meant for. What the recipe
// spares is mixed beyond those rows, so it is not counted as meant for any.
func (f Facts) LeftM(plannedM float64) float64 {
	sown, _ := f.SownM()
	unsown := f.MixedM() - sown
	if unsown <= clings*f.MixedM() {
		return max(0, plannedM-sown)
	}
	return max(0, plannedM-sown-unsown/(1+f.Recipe.SparePercent/100))
}

// RanOut tells whether all that was mixed is sown and rows are left.
func (f Facts) RanOut(plannedM float64) bool {
	sown, _ := f.SownM()
	return len(f.Tubs) > 0 && sown >= (1-clings)*f.MixedM() && f.LeftM(plannedM) > clings*plannedM
}
