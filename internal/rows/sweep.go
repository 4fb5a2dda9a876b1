package rows

import (
	"math"

	"rowtally/internal/fault"
	"rowtally/internal/ground"
)

// Heading is what a layout comes to along one bearing.
type Heading struct {
	BearingDeg    float64  `json:"bearing_deg"`
	RowM          float64  `json:"row_m"`
	Passes        int      `json:"passes"`
	Turns         int      `json:"turns"`
	Spans         int      `json:"spans"`
	MeanSpanM     float64  `json:"mean_span_m"`              // 0 without a span
	GradeFraction *float64 `json:"grade_fraction,omitempty"` // rise per metre along the row, where a fall is known
	PartFraction  *float64 `json:"part_fraction,omitempty"`  // of the alley ground, in part passes or overlaps, where a machine is told
}

// SweepWith is what a sweep weighs beside the rows themselves.
type SweepWith struct {
	Fall          *ground.Fall // nil while it is not known
	AlleyMachineM float64      // working width of the machine that runs in the alleys, 0.5 to 200; 0 for none
}

// leastStepDeg bounds a sweep to 1 800 bearings.
const leastStepDeg = 0.1

// Sweep lays the same rows along every bearing from 0 up to 180 degrees, a step apart: a
// row and its reverse are one row. The input's own bearing is not used. With a fall,
// fitted in the paddock's frame, it tells how steeply the rows would run; with a machine, how
// much of the alleys it does not cover in whole passes.
func Sweep(in Input, stepDeg float64, with SweepWith) ([]Heading, error) {
	if !(stepDeg >= leastStepDeg && stepDeg <= 90) {
		return nil, fault.Refuse("step_deg", "the step is %v degrees, enter %v to 90", stepDeg, leastStepDeg)
	}
	if m := with.AlleyMachineM; m != 0 && !(m >= 0.5 && m <= 200) {
		return nil, fault.Refuse("width_m", "the machine is %v m wide, enter 0.5 to 200", m)
	}
	in.BearingDeg = 0
	if err := in.check(); err != nil {
		return nil, err
	}
	s, err := sceneOf(in)
	if err != nil {
		return nil, err
	}
	headings := make([]Heading, int(math.Ceil((180-1e-9)/stepDeg)))
	err = sideBySide(len(headings), func() func(i int) error {
		w, in := work{scene: s}, in
		return func(i int) (err error) {
			in.BearingDeg = float64(i) * stepDeg
			headings[i], err = w.heading(in, with)
			return err
		}
	})
	return headings, err
}

// heading lays the rows along one bearing.
func (w *work) heading(in Input, with SweepWith) (Heading, error) {
	if with.AlleyMachineM == 0 {
		plan, err := w.rows(in)
		return plan.heading(with.Fall), err
	}
	plan, part, err := w.rowsAndAlleys(in, with.AlleyMachineM)
	h := plan.heading(with.Fall)
	h.PartFraction = &part
	return h, err
}

func (p Plan) heading(fall *ground.Fall) Heading {
	h := Heading{BearingDeg: p.BearingDeg, RowM: p.RowM, Passes: p.Passes, Turns: p.Turns, Spans: p.SpanCount}
	if h.Spans > 0 {
		h.MeanSpanM = h.RowM / float64(h.Spans)
	}
	if fall != nil {
		grade := fall.GradeAlong(p.BearingDeg)
		h.GradeFraction = &grade
	}
	return h
}
