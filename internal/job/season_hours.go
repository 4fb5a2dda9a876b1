package job

import (
	"fmt"
	"slices"

	"rowtally/internal/machine"
	"rowtally/internal/unit"
)

// HoursAhead is what a machine still has to sow on agreed jobs.
type HoursAhead struct {
	Sower machine.Machine
	Jobs  []MachineTime // with hours left, in the order of the jobs
	Hours float64       // of those whose hours are known
}

// hoursAhead gathers the machine hours of the jobs that are agreed or being sown, by the
// machine that sows them, and for every machine that runs with it what it will run.
func (s *Season) hoursAhead(all []Facts) (runs map[int64]float64) {
	runs = map[int64]float64{}
	for i, f := range all {
		if stage := s.Jobs[i].Stage; f.Sower == nil || stage != Agreed && stage != Sowing {
			continue
		}
		time := f.MachineTime()
		if time.Cannot == "" && time.Hours == 0 {
			continue
		}
		at := slices.IndexFunc(s.Ahead, func(h HoursAhead) bool { return h.Sower.ID == f.Sower.ID })
		if at < 0 {
			at, s.Ahead = len(s.Ahead), append(s.Ahead, HoursAhead{Sower: *f.Sower})
		}
		s.Ahead[at].Jobs = append(s.Ahead[at].Jobs, time)
		s.Ahead[at].Hours += time.Hours
		for _, m := range f.Yard.Team(*f.Sower) {
			runs[m.ID] += time.Hours
		}
	}
	return runs
}

// Says tells the hours in a sentence, and what is not in them.
func (h HoursAhead) Says() string {
	unknown := 0
	for _, t := range h.Jobs {
		if t.Cannot != "" {
			unknown++
		}
	}
	says := fmt.Sprintf("%s h over %s that are agreed or being sown.", unit.Grouped(h.Hours, 1), unit.Counted(len(h.Jobs)-unknown, "job"))
	if unknown > 0 {
		says += fmt.Sprintf(" Not known yet: %s.", unit.Counted(unknown, "job"))
	}
	return says
}
