package rows

import (
	"testing"
)

func TestNonWorkingDistanceByHand(t *testing.T) {
	in := single(ring(0, 0, 100, 0, 100, 500, 0, 500))
	in.HeadlandM, in.RowsPerBelt, in.RowGapM, in.AlleyM = 10, 3, metres(2), 26
	p := laid(t, in) // passes in the middle of 10..14, 40..44 and 70..74
	near(t, "non_working_m", p.NonWorkingM, 2*30)
	in.NoGo = []NoGo{area(ring(0, 200, 30, 200, 30, 250, 0, 250))}
	in.NoGoMarginM = metres(0)
	p = laid(t, in) // the first pass is lifted over 50 m
	near(t, "non_working_m over a gap", p.NonWorkingM, 2*30+50)
}

// Where ends are aslant, it matters at which end two neighbours meet.
func TestNumbersFollowTheDriving(t *testing.T) {
	in := single(ring(0, 0, 30, 0, 30, 300, 0, 330)) // the north end slants, the south end is square
	in.AlleyM, in.PhaseM = 10, metres(5)             // rows at 5, 15, 25: 325, 315, 305 m
	p := laid(t, in)
	near(t, "from the left", p.NonWorkingM, p.straightM(p.Place(325, 5), p.Place(315, 15))+10)
	if p.Rows[0].Number != 1 || p.Rows[0].DrivenBack() || !p.Rows[1].DrivenBack() {
		t.Errorf("%+v", p.Rows)
	}
	in.FromRight = true
	p = laid(t, in)
	near(t, "from the right", p.NonWorkingM, p.straightM(p.Place(305, 25), p.Place(315, 15))+10)
	for i, want := range []int{3, 2, 1} {
		if p.Rows[i].Number != want || p.Rows[i].Belt != want {
			t.Errorf("%+v, want number %d", p.Rows[i], want)
		}
	}
	in.PhaseM = metres(15) // two rows: from the right the first runs north at 25
	p = laid(t, in)
	near(t, "two from the right", p.NonWorkingM, p.straightM(p.Place(305, 25), p.Place(315, 15)))
	in.BearingDeg = 180 // the same rows from the other end
	p = laid(t, in)
	if p.RowCount != 2 || p.Rows[0].Number != 2 {
		t.Errorf("%+v", p.Rows)
	}
	in.FromRight, in.ListRows = false, true
	if listed := laid(t, in).Listed; listed[0].Back || !listed[1].Back {
		t.Errorf("%+v", listed)
	}
}

func TestBestPhaseByHand(t *testing.T) {
	in := single(ring(0, 0, 100, 0, 100, 200, 0, 200))
	in.HeadlandM, in.AlleyM, in.BestPhase = 10, 30, true
	p := laid(t, in) // 80 m of width take 3 rows at most: phases from 10 to 30 all give them, and the smallest is taken
	near(t, "phase_m", p.PhaseM, 10)
	near(t, "row_m", p.RowM, 3*180)

	in = single(ring(0, 0, 60, 0, 60, 100, 30, 200, 0, 100)) // a gable: the tallest row runs up its middle
	in.AlleyM, in.BestPhase = 100, true
	p = laid(t, in)
	near(t, "phase_m of a gable", p.PhaseM, 30)
	near(t, "row_m of a gable", p.RowM, 200)
	for k := range 600 { // no phase of a tenth of a metre does better
		in.BestPhase, in.PhaseM = false, metres(float64(k)/10)
		if other := laid(t, in); other.RowM > p.RowM+1e-3 {
			t.Errorf("phase %v gives %v m, the best %v", *in.PhaseM, other.RowM, p.RowM)
		}
	}
}
