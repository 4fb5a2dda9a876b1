package job

import (
	"fmt"
	"strings"

	"rowtally/internal/machine"
	"rowtally/internal/unit"
	"rowtally/internal/working"
)

// MachineTime is how long a job's rows take the machine that sows them: what every page that
// speaks of planned hours goes by.
type MachineTime struct {
	Job       Job
	RowM      float64 // metres of row as laid
	ToSowM    float64 // of them still to be sown
	PassM     float64 // mean length of a pass
	RowKmPerH float64
	WholeH    float64            // machine hours over all rows as laid
	Hours     float64            // over those still to be sown
	Own       bool               // by what day sheets teach, not by speed and turns
	By        string             // "its own day sheets"; its is the machine's that sows
	Sower     string             // its name; "" where none is named
	Set       machine.SowingRate // of speed and turns; 0 row-km/h where they tell none
	Learned   LearnedRate
	Cannot    string // why no time is known; "" when it is
}

// MachineTime works out how long the job's rows take its sower: by its own day sheets once
// they tell enough hours, else by speed, turns and stops to fill over these rows, or an
// efficiency that holds them. What the layout tells of speed and turns stands before what the
// machine's page does.
func (f Facts) MachineTime() MachineTime {
	laid, err := f.Rows()
	if err != nil {
		return MachineTime{Job: f.Job, Cannot: sentenceCase(err.Error())}
	}
	return f.TimeOver(laid)
}

// TimeOver is MachineTime over rows that need not be kept yet.
func (f Facts) TimeOver(laid Laid) MachineTime {
	out := MachineTime{Job: f.Job, RowM: laid.RowM, PassM: laid.DrivenM / float64(max(1, laid.Passes))}
	sown, _ := f.SownM()
	out.ToSowM = max(0, laid.RowM-sown)
	if f.Sower == nil && laid.Layout.SpeedKmh == 0 {
		out.Cannot = "No machine is named to sow it."
		return out
	}
	if f.Sower != nil {
		out.Sower, out.Learned = f.Sower.Name, LearnRate(*f.Sower, f.Yard.Worked(*f.Sower))
	}
	pace, other, by := f.pace(laid.Layout)
	var err error
	if pace.Told() {
		out.Set, err = pace.Rate(f.course(laid, other))
	}
	out.Own = out.Learned.Enough || !pace.Told()
	switch {
	case out.Own:
		out.By, out.RowKmPerH = "its own day sheets", out.Learned.RowKmPerH
	case err != nil:
		out.Cannot = sentenceCase(err.Error()) + "."
		return out
	default:
		out.By, out.RowKmPerH = by, out.Set.RowKmPerH
	}
	if out.RowKmPerH == 0 {
		out.Cannot = "Neither day sheets nor its speed tell a rate."
		return out
	}
	out.WholeH, out.Hours = out.RowM/1000/out.RowKmPerH, out.ToSowM/1000/out.RowKmPerH
	return out
}

// pace is how fast the rows are sown: as the machine's page tells, with what the layout tells
// of them in its place; and the layout's efficiency besides turns, 0 for none. An efficiency
// in all gives way to turns, so that no time counts twice.
func (f Facts) pace(l Layout) (p machine.Pace, other float64, by string) {
	if f.Sower != nil {
		p = f.Sower.Pace
	}
	if l.SpeedKmh == 0 {
		if p.EfficiencyPercent != nil {
			return p, 0, "its speed and efficiency in all"
		}
		return p, 0, "its speed, turns and stops"
	}
	p.SpeedKmh = l.SpeedKmh
	if l.TurnS > 0 || l.OtherEfficiencyPercent > 0 || p.EfficiencyPercent == nil {
		p.EfficiencyPercent = nil
		if l.TurnS > 0 || p.TurnS == nil {
			p.TurnS = &l.TurnS
		}
	}
	return p, l.OtherEfficiencyPercent, "the speed told with the rows"
}

// course is the rows as a pace goes over them: a belt as often as the sower needs for its
// rows, and round the headland.
func (f Facts) course(laid Laid, other float64) machine.Course {
	times, belt := 1, max(1, laid.Layout.RowsPerBelt)
	if f.Sower != nil && f.Sower.Rows > 0 {
		times = (belt + f.Sower.Rows - 1) / f.Sower.Rows
	}
	driven := laid.DrivenM + laid.HeadlandRowM/float64(belt)
	return machine.Course{Passes: times * (laid.Passes + laid.HeadlandLaps), DrivenM: float64(times) * driven, RowM: laid.RowM, TubRowM: f.tubRowM(laid.Layout), OtherPercent: other}
}

// tubRowM is how far a full tub lasts, in metres of row; 0 while no recipe is set.
func (f Facts) tubRowM(l Layout) float64 {
	if f.Recipe == nil || f.placementML() == 0 {
		return 0
	}
	return f.Recipe.TubL * 1000 / f.placementML() * l.SpacingM
}

// Says tells the hours of all rows, what they go by, and what they would be the other way; ""
// where none are known.
func (t MachineTime) Says() string {
	if t.Cannot != "" {
		return ""
	}
	says := fmt.Sprintf("%s machine hours at %s row-km an hour, by %s", unit.Grouped(t.WholeH, 1), unit.Grouped(t.RowKmPerH, 2), t.byWords())
	switch {
	case t.Own && t.Set.RowKmPerH > 0:
		says += fmt.Sprintf("; by speed and turns it would be %s", unit.Grouped(t.RowM/1000/t.Set.RowKmPerH, 1))
	case !t.Own && t.Learned.RowKmPerH > 0:
		says += fmt.Sprintf("; its day sheets are too few to count yet, by them it would be %s", unit.Grouped(t.RowM/1000/t.Learned.RowKmPerH, 1))
	}
	return says + "."
}

// byWords names the machine in what the hours go by.
func (t MachineTime) byWords() string {
	if t.Sower == "" {
		return t.By
	}
	return strings.Replace(t.By, "its ", "the "+t.Sower+"’s ", 1)
}

// Working shows the rate and the hours.
func (t MachineTime) Working() working.Steps {
	if t.Cannot != "" {
		return nil
	}
	steps := t.Learned.Working()
	if !t.Own {
		steps = t.Set.Working()
	}
	return steps.Add("machine hours", unit.Grouped(t.RowM/1000, 2)+" row-km ÷ the work rate", working.Number(t.WholeH, 1), "h", "")
}
