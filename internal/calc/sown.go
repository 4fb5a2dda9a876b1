package calc

import "rowtally/internal/sown"

func sownCalculations() []calculation {
	return []calculation{
		of("sown", "a sowing log matched to the planned rows: covered, missed, doubled, overrun", sown.Measure),
	}
}
