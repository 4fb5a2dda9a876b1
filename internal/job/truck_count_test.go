package job

import (
	"math"
	"strings"
	"testing"

	"rowtally/internal/count"
	"rowtally/internal/fault"
	"rowtally/internal/ground"
)

// From a point laid off from a place by a known line the way back is that line.
func TestThePhoneIsLedToItsPlace(t *testing.T) {
	f := sownToHalf(t)
	plan, err := f.DrawCountPlan(tenEach, 19)
	if err != nil {
		t.Fatal(err)
	}
	f.CountPlans = []count.Plan{plan}
	j := ForTruck(f, RowsPlanned{}, nil)
	for azimuth, word := range map[float64]string{0: "south", 47: "south-west", 90: "west", 181: "north", 350: "south"} {
		at, _ := ground.WGS84.Reach(plan.Places[4].At, azimuth, 143)
		way, err := j.Toward(5, Here{at.Lat, at.Lon, 5})
		if err != nil || math.Abs(way.DistanceM-143) > 1e-3 || way.Arrived || !strings.Contains(way.Says, "143 m to the "+word+",") {
			t.Errorf("%v: %+v, %v", azimuth, way, err)
		}
	}
	at, _ := ground.WGS84.Reach(plan.Places[0].At, 20, 7)
	if way, err := j.Toward(1, Here{at.Lat, at.Lon, 5}); err != nil || !way.Arrived || !strings.HasPrefix(way.Says, "Here") {
		t.Errorf("%+v, %v", way, err)
	}
	for field, here := range map[string]Here{"here.lat": {91, 0, 5}, "here": {-36, 140, math.NaN()}} {
		if _, err := j.Toward(1, here); fault.KindOf(err) != fault.Refused {
			t.Errorf("%s: %v", field, err)
		}
	}
	if _, err := j.Toward(20, Here{-36, 140, 5}); fault.Fields(err)["place"] == "" {
		t.Errorf("a place that is not there: %v", err)
	}
}

// A count that waits on the phone is no longer ahead; its undo brings it back.
func TestACountThatWaitsIsTaken(t *testing.T) {
	f := sownToHalf(t)
	plan, _ := f.DrawCountPlan(tenEach, 19)
	plan.ID = 4
	f.CountPlans = []count.Plan{plan}
	j := ForTruck(f, RowsPlanned{}, nil)
	if a := j.Facts.CountAhead(); a == nil || a.Kind != count.First || len(a.Places) != 19 || a.PlanID != 4 {
		t.Fatalf("%+v", a)
	}
	c := count.Count{PlanID: 4, Kind: count.First, CountedOn: today, CountedBy: "Ned", Stretches: []count.Stretch{{Place: 1, Placements: 10, Occupied: 6}}}
	entry := TruckEntry{Key: "c", Kind: CountEntry, JobID: 3, At: today.Time(), Count: &c}
	if err := entry.Check(today); err != nil || entry.Says() != "first count, 6 of 10 placements in 1 stretch" {
		t.Errorf("%q, %v", entry.Says(), err)
	}
	if a := j.With([]TruckEntry{entry}).Facts.CountAhead(); a == nil || a.Kind != count.Autumn {
		t.Errorf("after the first count %+v is ahead", a)
	}
	undo := TruckEntry{Key: "u", Kind: UndoEntry, JobID: 3, Undoes: &Undone{Key: "c"}}
	if a := j.With([]TruckEntry{entry, undo}).Facts.CountAhead(); a == nil || a.Kind != count.First {
		t.Errorf("after the undo %+v is ahead", a)
	}
	c.Stretches[0].Occupied = 11
	if err := entry.Check(today); fault.Fields(err)["stretches.1.occupied"] == "" {
		t.Errorf("%v", err)
	}
	entry.Count = nil
	if fault.KindOf(entry.Check(today)) != fault.Refused {
		t.Error("a count without its figures is taken")
	}
}
