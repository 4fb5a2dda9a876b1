package ground

import (
	"fmt"
	"math"

	"rowtally/internal/fault"
)

// Zone is one 6-degree zone of a map grid: UTM on WGS84, or the Map Grid of Australia
// on GDA94 or GDA2020. Positions keep their datum here; FromGDA94 shifts them.
type Zone struct {
	Datum  Datum
	Number int  // 1..60, from 180° west eastward
	South  bool // northings are counted from 10 000 km south of the equator
}

// Datum names what coordinates are measured from.
type Datum string

// The datums whose grids are known here.
const (
	OnWGS84   Datum = "WGS84"
	OnGDA94   Datum = "GDA94"
	OnGDA2020 Datum = "GDA2020"
)

// ZoneOf is the zone in which a place lies, without the exceptions of UTM round Norway.
func ZoneOf(datum Datum, p LatLon) Zone {
	lon := math.Remainder(p.Lon, 360)
	number := int(math.Floor((lon+180)/6))%60 + 1
	return Zone{datum, number, p.Lat < 0}
}

// Check refuses a zone that no grid has.
func (z Zone) Check() error {
	switch {
	case z.Number < 1 || z.Number > 60:
		return fault.Refuse("zone", "zone %d does not exist, enter 1 to 60", z.Number)
	case z.Datum != OnWGS84 && z.Datum != OnGDA94 && z.Datum != OnGDA2020:
		return fault.Refuse("datum", "the datum %q is not known, enter WGS84, GDA94 or GDA2020", z.Datum)
	case z.Datum != OnWGS84 && !z.South:
		return fault.Refuse("south", "the Map Grid of Australia has no northern zones, enter a southern one")
	}
	return nil
}

// String names the zone as a map's margin does.
func (z Zone) String() string {
	switch z.Datum {
	case OnGDA94:
		return fmt.Sprintf("MGA94 zone %d", z.Number)
	case OnGDA2020:
		return fmt.Sprintf("MGA2020 zone %d", z.Number)
	}
	side := "north"
	if z.South {
		side = "south"
	}
	return fmt.Sprintf("UTM zone %d %s (WGS84)", z.Number, side)
}

// Grid is the zone's projection: scale 0.9996 on the zone's middle meridian, eastings
// from 500 km west of it. Source: ICSM, GDA2020 Technical Manual v1.8.
func (z Zone) Grid() TransverseMercator {
	ellipsoid, falseNorthingM := WGS84, 0.0
	if z.Datum != OnWGS84 {
		ellipsoid = GRS80
	}
	if z.South {
		falseNorthingM = 10_000_000
	}
	return NewTransverseMercator(ellipsoid, float64(6*z.Number-183), 0.9996, 500_000, falseNorthingM)
}
