package job

import "testing"

func TestTheDifferenceOfTwoPlansIsThatOfTheFiguresShown(t *testing.T) {
	first := RowPlan{figures: map[string]float64{rowKmFigure: 24.806, lengthsFigure: 40}}
	second := RowPlan{figures: map[string]float64{rowKmFigure: 23.994, lengthsFigure: 43}}
	lines := map[string]PlanLine{}
	compared, notKept := ComparePlans(first, second)
	for _, line := range compared {
		lines[line.Name] = line
	}
	for name, want := range map[string][3]string{rowKmFigure: {"24.81", "23.99", "−0.82"}, lengthsFigure: {"40", "43", "+3"}} {
		if got := lines[name]; got.First != want[0] || got.Second != want[1] || got.Difference != want[2] {
			t.Errorf("%s: %+v, want %q", name, got, want)
		}
	}
	if len(compared) != 2 || len(notKept) != len(planFigures)-2 || notKept[0] != meanFigure {
		t.Errorf("%d figures compared, not kept are %q", len(compared), notKept)
	}
}
