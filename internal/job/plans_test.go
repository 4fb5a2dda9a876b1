package job

import "testing"

func TestTheDifferenceOfTwoPlansIsThatOfTheFiguresShown(t *testing.T) {
	first := RowPlan{figures: map[string]float64{rowKmFigure: 24.806, lengthsFigure: 40}}
	second := RowPlan{figures: map[string]float64{rowKmFigure: 23.994, lengthsFigure: 43}}
	lines := map[string]PlanLine{}
	for _, line := range ComparePlans(first, second) {
		lines[line.Name] = line
	}
	for name, want := range map[string][3]string{rowKmFigure: {"24.81", "23.99", "−0.82"}, lengthsFigure: {"40", "43", "+3"}, meanFigure: {"–", "–", "–"}} {
		if got := lines[name]; got.First != want[0] || got.Second != want[1] || got.Difference != want[2] {
			t.Errorf("%s: %+v, want %q", name, got, want)
		}
	}
}
