package job

import (
	"fmt"
	"math"

	"rowtally/internal/count"
	"rowtally/internal/fault"
	"rowtally/internal/ground"
	"rowtally/internal/unit"
)

// CountAhead is a count that is still to be walked, as a phone shows it.
type CountAhead struct {
	Kind       count.Kind
	PlanID     int64
	PerStretch int
	Places     []string // what each is called, in the order of walking
	Species    []SpeciesAhead
	How        []string
	Cautions   []string
}

// SpeciesAhead is a sown species that may be told apart.
type SpeciesAhead struct{ Species, CommonName string }

// CountAhead is the count that is due at the places drawn; nil while there is none.
func (f Facts) CountAhead() *CountAhead {
	kind, due := f.DueCount()
	if !due {
		return nil
	}
	plan, _ := f.CountPlan()
	a := CountAhead{Kind: kind, PlanID: plan.ID, PerStretch: plan.PerStretch, How: HowToCount(plan), Cautions: countCautions}
	for _, p := range plan.Places {
		a.Places = append(a.Places, p.Says())
	}
	if f.Recipe != nil {
		for _, s := range f.Recipe.Species {
			a.Species = append(a.Species, SpeciesAhead{s.Species, f.CommonName(s.Species)})
		}
	}
	return &a
}

// Here is where a phone says that it is, WGS 84, and the radius in m that it is 95 % sure of.
type Here struct {
	Lat, Lon float64
	WithinM  float64
}

// Toward is the way from a phone to a place.
type Toward struct {
	DistanceM  float64
	AzimuthDeg float64 // true
	Arrived    bool
	Says       string
}

// arrivedM is how near to a place a person who walks counts as there, beyond what the phone
// cannot tell. Our own rule.
const arrivedM = 3.0

// Toward tells the way to a place of the plan, numbered from 1.
func (j TruckJob) Toward(number int, here Here) (Toward, error) {
	plan, planned := j.Facts.CountPlan()
	from := ground.LatLon{Lat: here.Lat, Lon: here.Lon}
	switch {
	case !planned || number < 1 || number > len(plan.Places):
		return Toward{}, fault.Refuse("place", "the plan has no place %d", number)
	case !(here.WithinM >= 0):
		return Toward{}, fault.Refuse("here", "the phone does not tell how sure it is of its place")
	}
	if err := from.Check(); err != nil {
		return Toward{}, fault.Under("here", err)
	}
	var way Toward
	way.DistanceM, way.AzimuthDeg = ground.WGS84.Near(from, plan.Places[number-1].At)
	way.Arrived = way.DistanceM <= arrivedM+here.WithinM
	way.Says = fmt.Sprintf("%s m to the %s, %s° true; the phone knows its place to %s m.", unit.Grouped(way.DistanceM, 0), compassWord(way.AzimuthDeg),
		unit.Grouped(way.AzimuthDeg, 0), unit.Grouped(here.WithinM, 0))
	if way.Arrived {
		way.Says = fmt.Sprintf("Here, as far as the phone can tell: %s m off, known to %s m. Find row %d and count along %s° true.",
			unit.Grouped(way.DistanceM, 0), unit.Grouped(here.WithinM, 0), plan.Places[number-1].Row, unit.Grouped(plan.BearingDeg, 0))
	}
	return way, nil
}

// compassWord is the nearest of the eight winds.
func compassWord(azimuthDeg float64) string {
	winds := []string{"north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west"}
	return winds[int(math.Round(azimuthDeg/45))%len(winds)]
}

// countSays tells a count in a few words.
func countSays(c count.Count) string {
	occupied, placements := 0, 0
	for _, s := range c.Stretches {
		occupied, placements = occupied+s.Occupied, placements+s.Placements
	}
	return fmt.Sprintf("%s, %d of %d placements in %s", c.Kind.Says(), occupied, placements, count.StretchesSay(len(c.Stretches)))
}
