package count

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"rowtally/internal/fault"
)

// Stretches lie whole in what was sown, apart from each other, in the order of walking; and
// the same number draws them again.
func TestStretchesLieInTheSownRows(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		const length = 30.0
		var sown []Extent
		for row := range rapid.IntRange(1, 8).Draw(t, "rows") {
			from := rapid.Float64Range(-300, 300).Draw(t, "from")
			sown = append(sown, Extent{row + 1, from, from + rapid.Float64Range(1, 400).Draw(t, "long")})
		}
		number, n := rapid.Int64().Draw(t, "number"), rapid.IntRange(1, 12).Draw(t, "n")
		got, err := Draw(sown, length, n, NewChance(number))
		if err != nil {
			if room := roomIn(sown, length); room >= n {
				t.Fatalf("%d of %d refused: %v", n, room, err)
			}
			return
		}
		again, _ := Draw(sown, length, n, NewChance(number))
		if len(got) != n || !slices.Equal(got, again) {
			t.Fatalf("%v, then %v", got, again)
		}
		for i, d := range got {
			e := sown[d.Row-1]
			if d.FromM < e.FromM-1e-9 || d.FromM+length > e.ToM+1e-9 || i > 0 && d.Row < got[i-1].Row {
				t.Fatalf("%+v in %+v", d, e)
			}
			for _, other := range got[:i] {
				if other.Row == d.Row && math.Abs(other.FromM-d.FromM) < length-1e-9 {
					t.Fatalf("%+v and %+v overlap", other, d)
				}
			}
		}
	})
}

func roomIn(sown []Extent, length float64) (room int) {
	for _, e := range sown {
		room += int((e.ToM - e.FromM) / length)
	}
	return room
}

// Every part of a row is as likely to be drawn: ten stretches of one row, one drawn often.
func TestEveryPlaceIsAsLikely(t *testing.T) {
	seen := [10]int{}
	const draws = 20_000
	for number := range draws {
		got, err := Draw([]Extent{{1, 0, 300}}, 30, 1, NewChance(int64(number)))
		if err != nil {
			t.Fatal(err)
		}
		seen[int(math.Round(got[0].FromM/30))]++
	}
	square := 0.0
	for _, n := range seen {
		square += float64((n-draws/10)*(n-draws/10)) / (draws / 10)
	}
	if square > 27.9 { // chi-squared, 9 degrees of freedom: 1 in 1000 is above
		t.Errorf("%v", seen)
	}
}

func TestTooFewRowsAreRefused(t *testing.T) {
	for _, n := range []int{0, 4} {
		if _, err := Draw([]Extent{{1, 0, 99}, {2, 0, 29}}, 30, n, NewChance(1)); fault.Fields(err)["within_percent"] == "" {
			t.Errorf("%d: %v", n, err)
		}
	}
}
