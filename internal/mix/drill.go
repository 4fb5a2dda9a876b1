package mix

import "math"

// DrillCatchG is what an alley drill set to a rate in kg/ha drops over an area in m²:
// m² x kg/ha / 10, in grams.
func DrillCatchG(areaM2, rateKgPerHa float64) float64 { return areaM2 * rateKgPerHa / 10 }

// DrillRateKgPerHa turns a catch in grams over an area in m², above 0, into kg/ha.
func DrillRateKgPerHa(caughtG, areaM2 float64) float64 { return caughtG * 10 / areaM2 }

// WheelTurns is how often a wheel of a diameter in m turns while a drill of a width in m
// sows an area in hectares; width and diameter above 0. Rounded charts have been found
// 15 to 20 % off, so it is worked out from what was measured.
func WheelTurns(areaHa, widthM, wheelDiameterM float64) float64 {
	return areaHa * 10_000 / widthM / (math.Pi * wheelDiameterM)
}

// PlantRateKgPerHa is the rate, in kg/ha, that gives so many plants to the m² of seed of
// a 1000-seed weight in grams, where a share above 0 and up to 1 establishes.
func PlantRateKgPerHa(plantsPerM2, thousandSeedG, establishFraction float64) float64 {
	return plantsPerM2 * thousandSeedG / establishFraction / 100
}
