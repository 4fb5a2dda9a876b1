package seed_test

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"rowtally/internal/fault"
	"rowtally/internal/published"
	"rowtally/internal/seed"
)

func TestTenLengthsPacedOutAreTheWorkedExample(t *testing.T) {
	for _, r := range published.Rows(t, "paced_counts.csv") {
		p := seed.Paced{LengthM: r.Number("length_m"), SpacingM: r.Number("spacing_m")}
		for _, typed := range strings.Fields(r.Text("counts")) {
			count, err := strconv.Atoi(typed)
			if err != nil {
				t.Fatal(err)
			}
			p.Counts = append(p.Counts, count)
		}
		got, err := seed.CountPaced(p)
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range []struct {
			column        string
			got, decimals float64
		}{
			{"mean", got.Mean, 1}, {"sd", got.SD, 2}, {"half_width", (got.High - got.Low) / 2, 2}, {"low", got.Low, 1}, {"high", got.High, 1},
			{"spacing_found_m", p.LengthM / got.Mean, 2}, {"expected", got.Expected, 1}, {"short_percent", 100 * (1 - got.Mean/got.Expected), 1},
		} {
			if want := r.Number(c.column); math.Abs(c.got-want) > 0.5*math.Pow(10, -c.decimals)+1e-9 {
				t.Errorf("%s: %s is %v, published %v", r.Name, c.column, c.got, want)
			}
		}
		const says = "31.8 to 100 m, 30.9 to 32.7; at 3.00 m 33.3 are expected: 4.6 % short, more than counting by chance explains."
		if got.Agrees() || got.Says() != says {
			t.Errorf("it says %q", got.Says())
		}
	}
}

func TestASingleLengthAccusesNobody(t *testing.T) {
	got, err := seed.CountPaced(seed.Paced{LengthM: 100, Counts: []int{30}, SpacingM: 3})
	if err != nil || !got.Agrees() || !strings.Contains(got.Says(), "30.0 to 100 m, 20.2 to 42.8; at 3.00 m 33.3 are expected: 10.0 % short, no more than") {
		t.Errorf("it says %q, %v", got.Says(), err)
	}
	if got, err = seed.CountPaced(seed.Paced{LengthM: 100, Counts: []int{0}, SpacingM: 3}); err != nil || got.Agrees() || got.Low != 0 {
		t.Errorf("an empty length says %q, %v", got.Says(), err)
	}
}

// A row that stands perfectly even is never found short, wherever the lengths begin and
// however they cut its placements.
func TestAnEvenRowIsNeverFoundShort(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := seed.Paced{LengthM: rapid.Float64Range(5, 300).Draw(t, "length"), SpacingM: rapid.Float64Range(0.5, 5).Draw(t, "spacing")}
		start := rapid.Float64Range(0, p.SpacingM).Draw(t, "start") // one row, length after length
		for i := range rapid.IntRange(1, 12).Draw(t, "lengths") {
			from := start + float64(i)*p.LengthM
			p.Counts = append(p.Counts, int(math.Floor((from+p.LengthM)/p.SpacingM)-math.Floor(from/p.SpacingM)))
		}
		got, err := seed.CountPaced(p)
		if err != nil || !got.Agrees() {
			t.Fatalf("%+v says %q, %v", p, got.Says(), err)
		}
	})
}

func TestACountThatCannotBeIsRefused(t *testing.T) {
	nan := math.NaN()
	for field, wrong := range map[string][]seed.Paced{
		"length_m":  {{LengthM: 0, Counts: []int{3}, SpacingM: 3}, {LengthM: nan, Counts: []int{3}, SpacingM: 3}, {LengthM: 1e5, Counts: []int{3}, SpacingM: 3}},
		"spacing_m": {{LengthM: 100, Counts: []int{3}}, {LengthM: 100, Counts: []int{3}, SpacingM: nan}},
		"counts":    {{LengthM: 100, SpacingM: 3}, {LengthM: 100, Counts: []int{-1}, SpacingM: 3}, {LengthM: 100, Counts: []int{3, 9_000}, SpacingM: 3}, {LengthM: 100, Counts: make([]int, 201), SpacingM: 3}},
	} {
		for _, p := range wrong {
			if _, err := seed.CountPaced(p); fault.Fields(err)[field] == "" {
				t.Errorf("%+v: %v", p, err)
			}
		}
	}
}

func TestThePacedCountShowsItsWorking(t *testing.T) {
	got, err := seed.CountPaced(seed.Paced{LengthM: 100, Counts: []int{32, 33, 30, 34, 31, 32, 33, 30, 32, 31}, SpacingM: 3})
	if err != nil {
		t.Fatal(err)
	}
	steps := got.Working()
	if len(steps) != 7 || steps[2].Value.String() != "2.262" || steps[6].Value.String() != "3.14" {
		t.Errorf("%+v", steps)
	}
}
