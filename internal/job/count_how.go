package job

import (
	"fmt"

	"rowtally/internal/count"
	"rowtally/internal/unit"
)

// HowToCount tells how the places of a plan are counted, sentence by sentence.
func HowToCount(p count.Plan) []string {
	return []string{
		fmt.Sprintf("Go to each place by its latitude and longitude, or pace out the metres from the row's first end along %s° true.", unit.Grouped(p.BearingDeg, 0)),
		fmt.Sprintf("From there look at the next %d placements of that row, about %s m, in the same direction. A gap where none was dropped is not one of them.", p.PerStretch, unit.Grouped(p.LengthM(), 0)),
		"A placement is occupied when at least one seedling of a sown species lives in it. Several seedlings are one placement.",
		"What came by itself is left out: write down what it was.",
		"Do not move a place to better ground, and do not leave one out. Where nothing stands, 0 is the count.",
		"Mark the places. The autumn count goes to the same ones, and the two are kept apart.",
	}
}

// countCautions stand where somebody walks a paddock alone.
var countCautions = []string{
	"Nobody alone without a check-in: say where you walk and when you are back. Take water, hat, boots and gaiters.",
	"Clean boots and vehicle before and after: weed seed travels. Shut gates as they were found. Ask the farmer which stock and which sprays are in the paddock.",
	"No walking in lightning or on a wet bog; soft ground beside drains gives way.",
}

// CountCautions are the sentences that stand where a count is taken.
func CountCautions() []string { return countCautions }
