package sown

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"testing"
	"time"

	"rowtally/internal/ground"
)

// TestShortDecimalsAreTheStandardLibrarys compares numbers read in place with strconv, bit
// by bit.
func TestShortDecimalsAreTheStandardLibrarys(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 3))
	texts := []string{"0", "-0", "-0.0", "5.", ".5", "-.5", ".", "-", "", "+1", "1e5", "1.2.3", "1..2", "999999999999999", "9999999999999999",
		".999999999999999", "0.0000000000000001", "007.250", "12a", " 1", "0x10", "1_0", "Inf", "-36.40000000"}
	for range 200_000 {
		digits := strconv.FormatUint(random.Uint64()>>random.IntN(64), 10)
		point := random.IntN(len(digits) + 1)
		texts = append(texts, []string{"", "-"}[random.IntN(2)]+digits[:point]+[]string{"", "."}[random.IntN(2)]+digits[point:])
	}
	inPlace := 0
	for _, text := range texts {
		want, err := strconv.ParseFloat(text, 64)
		if got, fits := shortDecimal(text); fits {
			inPlace++
			if err != nil || math.Float64bits(got) != math.Float64bits(want) {
				t.Fatalf("%q: %v, strconv says %v, %v", text, got, want, err)
			}
		}
		if got, fits := decimal(text); fits != (err == nil && !math.IsInf(want, 0)) || fits && got != want {
			t.Fatalf("%q: %v, %v, strconv says %v, %v", text, got, fits, want, err)
		}
	}
	if inPlace < len(texts)/2 {
		t.Errorf("%d of %d were read in place", inPlace, len(texts))
	}
}

// TestMomentsInPlaceAreTheStandardLibrarys spoils moments byte by byte: what is read in
// place is what the layouts read.
func TestMomentsInPlaceAreTheStandardLibrarys(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 5))
	inPlace := 0
	for i := range 100_000 {
		moment := time.Date(1950+random.IntN(120), 1, 1+random.IntN(366), random.IntN(24), random.IntN(60), random.IntN(60), random.IntN(1e9), time.UTC)
		layout := []string{"2006-01-02T15:04:05Z", "2006-01-02 15:04:05.000", "2006-01-02T15:04:05.000000000Z", "2006-01-02T15:04:05.0Z", "2006-01-02 15:04:05"}[i%5]
		text := []byte(moment.Format(layout))
		if i%2 == 1 {
			text[random.IntN(len(text))] = "0123456789-:.TZ +"[random.IntN(17)]
		}
		quick, slow := clock{}, clock{}
		got, fits := quick.inPlace(string(text))
		if !fits {
			continue
		}
		inPlace++
		want, readable := time.Time{}, false
		for layout := range momentLayouts {
			if want, readable = slow.fits(string(text), layout); readable {
				break
			}
		}
		if !readable || !got.Equal(want) || got != want || quick.assumed != slow.assumed {
			t.Fatalf("%s: %v, the layouts read %v, %v", text, got, want, readable)
		}
	}
	if inPlace < 50_000 {
		t.Errorf("%d moments were read in place", inPlace)
	}
}

// TestDatesInPlaceAreTheStandardLibrarys tries every six digits.
func TestDatesInPlaceAreTheStandardLibrarys(t *testing.T) {
	for number := range 1_000_000 {
		text := fmt.Sprintf("%06d", number)
		want, err := time.Parse("020106", text)
		if err != nil {
			want = time.Time{}
		}
		if got := dateOf(text); got != want {
			t.Fatalf("%s: %v, want %v", text, got, want)
		}
	}
	for _, text := range []string{"", "1", "0a0120", "01 120", "0101200", "-10120", "01012x"} {
		if got := dateOf(text); !got.IsZero() {
			t.Errorf("%q gave %v", text, got)
		}
	}
}

// TestNthIsThatOfTheSorted tries lists with repeats, sorted, falling and organ-piped.
func TestNthIsThatOfTheSorted(t *testing.T) {
	random := rand.New(rand.NewPCG(9, 9))
	for _, count := range []int{1, 2, fewToSort, fewToSort + 1, 1000, 4097} {
		for name, value := range map[string]func(i int) float64{
			"random":  func(int) float64 { return random.NormFloat64() },
			"repeats": func(int) float64 { return float64(random.IntN(3)) },
			"rising":  func(i int) float64 { return float64(i) },
			"falling": func(i int) float64 { return -float64(i) },
			"even":    func(int) float64 { return 7 },
			"organ":   func(i int) float64 { return math.Abs(float64(i) - float64(count)/2) },
		} {
			values := make([]float64, count)
			for i := range values {
				values[i] = value(i)
			}
			sorted := slices.Sorted(slices.Values(values))
			for _, place := range []int{0, count / 3, count / 2, count - 1} {
				if got := nth(slices.Clone(values), place); got != sorted[place] {
					t.Errorf("%s, %d of %d: %g, want %g", name, place, count, got, sorted[place])
				}
			}
		}
	}
}

// TestNearFixesAreNoJump keeps the quick bound above the distance.
func TestNearFixesAreNoJump(t *testing.T) {
	random := rand.New(rand.NewPCG(4, 4))
	for range 100_000 {
		from, to := anywhere(random), anywhere(random)
		if roughM(from, to) > roughAtMostM(from, to)*(1+1e-12) {
			t.Fatal(from, to, roughM(from, to), roughAtMostM(from, to))
		}
	}
}

func anywhere(random *rand.Rand) ground.LatLon {
	return ground.LatLon{Lat: 180*random.Float64() - 90, Lon: 540*random.Float64() - 180}
}
