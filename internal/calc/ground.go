package calc

import (
	"rowtally/internal/ground"
	"rowtally/internal/rows"
)

func groundCalculations() []calculation {
	return []calculation{
		of("geodesic", "distance and azimuths between two places on the ellipsoid", ground.MeasureLine),
		of("polygon-area", "area and perimeter of a boundary on the ellipsoid", ground.MeasureArea),
		of("row-plan", "rows, belts, placements and turns in a paddock", rows.Lay),
	}
}
