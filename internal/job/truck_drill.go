package job

import (
	"slices"
)

// drillForTruck is what the drill wants, worked out at the office: the phone knows neither
// the paddock's hectares nor the lots' tests. Nil where nothing goes into a drill.
func (f Facts) drillForTruck() *Drill {
	d, err := DrillOf(f)
	if err != nil {
		return nil
	}
	return &d
}

// loadDrill puts a load of the drill in as the office would.
func (j *TruckJob) loadDrill(load DrillLoad, id int64) {
	load.ID, load.JobID = id, j.Facts.Job.ID
	j.Facts.DrillLoads = append(j.Facts.DrillLoads, load)
	j.Drill.move(load, 1)
}

// unloadDrill takes a load back.
func (j *TruckJob) unloadDrill(id int64) {
	at := slices.IndexFunc(j.Facts.DrillLoads, func(l DrillLoad) bool { return l.ID == id })
	if at < 0 {
		return
	}
	j.Drill.move(j.Facts.DrillLoads[at], -1)
	j.Facts.DrillLoads = slices.Delete(j.Facts.DrillLoads, at, at+1)
}

// move adds a load to what is in the drill (1), or takes it off again (-1).
func (d *Drill) move(load DrillLoad, way int64) {
	if d == nil {
		return
	}
	d.LoadedHa += float64(way) * load.Ha
	for _, in := range load.Lots {
		for i := range d.Lines {
			if line := &d.Lines[i]; line.LotID == in.LotID {
				line.Loaded += way * in.Grams
				line.Drawn += way * in.Grams
			}
		}
	}
}

// loosened is a copy that may be added to without changing the drill itself.
func (d *Drill) loosened() *Drill {
	if d == nil {
		return nil
	}
	out := *d
	out.Lines = slices.Clone(d.Lines)
	return &out
}
