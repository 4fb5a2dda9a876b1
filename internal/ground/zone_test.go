package ground

import "testing"

func TestZones(t *testing.T) {
	for _, c := range []struct {
		datum Datum
		at    LatLon
		name  string
	}{
		{OnGDA2020, LatLon{-36.4, 140.1}, "MGA2020 zone 54"},
		{OnGDA94, LatLon{-36.4, 144}, "MGA94 zone 55"},
		{OnWGS84, LatLon{-36.4, 140.1}, "UTM zone 54 south (WGS84)"},
		{OnWGS84, LatLon{51.5, -0.1}, "UTM zone 30 north (WGS84)"},
		{OnWGS84, LatLon{10, 180}, "UTM zone 1 north (WGS84)"},
		{OnWGS84, LatLon{10, -180}, "UTM zone 1 north (WGS84)"},
		{OnWGS84, LatLon{10, 359.9}, "UTM zone 30 north (WGS84)"},
	} {
		zone := ZoneOf(c.datum, c.at)
		if err := zone.Check(); err != nil || zone.String() != c.name {
			t.Errorf("%v lies in %v, not %s; %v", c.at, zone, c.name, err)
		}
		grid := zone.Grid()
		if back := grid.ToEarth(grid.ToPlane(c.at)); WGS84.Between(back, c.at).DistanceM > 1e-6 {
			t.Errorf("%v came back from %v as %v", c.at, zone, back)
		}
	}
	for _, bad := range []Zone{{OnWGS84, 0, true}, {OnWGS84, 61, true}, {"AGD66", 54, true}, {OnGDA94, 54, false}} {
		if bad.Check() == nil {
			t.Errorf("%+v was taken", bad)
		}
	}
}
