package job

import "rowtally/internal/mix"

// CatchFound works out the catch test that counts. ok is false when there is none.
func (f Facts) CatchFound() (found mix.Metering, ok bool) {
	caught, has := f.Catch()
	if !has || f.Recipe == nil {
		return mix.Metering{}, false
	}
	found, err := JudgeCatch(caught, *f.Recipe)
	return found, err == nil
}

// CatchInput is a catch test as package mix reads it.
func CatchInput(c mix.Catch, r Recipe, livePerPlacement float64) mix.CatchTest {
	in := mix.CatchTest{
		CaughtML: c.CaughtML, RunM: c.RunM, Rows: &c.Outlets, PlacementSpacingM: c.SpacingM,
		IntendedPlacementVolumeML: r.PlacementML, TubL: r.TubL,
	}
	if livePerPlacement > 0 {
		in.LiveSeedsPerPlacement = &livePerPlacement
	}
	return in
}
