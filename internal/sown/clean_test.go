package sown

import (
	"fmt"
	"strings"
	"testing"
)

// csvOf writes fixes a second apart along a parallel, with the given seconds and offsets
// north in units of 0.0001 degrees (11 m).
func csvOf(fixes [][2]float64) string {
	text := "time,lat,lon\n"
	for i, f := range fixes {
		text += fmt.Sprintf("2026-07-20T%02d:%02d:%04.1fZ,%.6f,%.6f\n",
			int(f[0])/3600, int(f[0])/60%60, f[0]-float64(int(f[0])/60*60), -36.4+f[1]*1e-4, 140.1+float64(i)*2e-5)
	}
	return text
}

func TestFixesThatCannotFollow(t *testing.T) {
	for name, c := range map[string]struct {
		fixes   [][2]float64 // second, offset
		refused []int        // lines; the first fix is on line 2
		apart   int          // tracks that are left
	}{
		"all well":             {[][2]float64{{0, 0}, {1, 0}, {2, 0}}, nil, 0},
		"same time":            {[][2]float64{{0, 0}, {1, 0}, {1, 0}, {2, 0}}, []int{4}, 0},
		"time goes back":       {[][2]float64{{0, 0}, {1, 0}, {0.5, 0}, {2, 0}}, []int{4}, 0},
		"time runs ahead":      {[][2]float64{{0, 0}, {1, 0}, {9000, 0}, {2, 0}, {3, 0}, {4, 0}}, []int{4}, 0},
		"the log twice over":   {[][2]float64{{0, 0}, {1, 0}, {2, 0}, {0, 0}, {1, 0}, {2, 0}, {3, 0}}, []int{5, 6, 7}, 0},
		"jump there and back":  {[][2]float64{{0, 0}, {1, 0}, {2, 90}, {3, 0}, {4, 0}}, []int{4}, 0},
		"a longer excursion":   {[][2]float64{{0, 0}, {1, 0}, {2, 90}, {3, 90}, {4, 90}, {5, 0}}, []int{4, 5, 6}, 0},
		"jump at the end":      {[][2]float64{{0, 0}, {1, 0}, {2, 90}}, []int{4}, 0},
		"jump at the start":    {[][2]float64{{0, 90}, {1, 0}, {2, 0}, {3, 0}}, []int{2}, 1},
		"on from the far side": {[][2]float64{{0, 0}, {1, 0}, {2, 90}, {3, 90}, {4, 90}}, nil, 1},
		"far but later":        {[][2]float64{{0, 0}, {1, 0}, {60, 90}, {61, 90}}, nil, 0},
		"scatter":              {[][2]float64{{0, 0}, {0.1, 1}, {0.2, 0}, {0.3, 1}}, nil, 0},
	} {
		log := read(t, "csv", csvOf(c.fixes))
		apart := 0
		for _, f := range log.Fixes {
			if f.Link == Apart {
				apart++
			}
		}
		if apart != c.apart {
			t.Errorf("%s: %d tracks parted, want %d", name, apart, c.apart)
		}
		t.Run(name, func(t *testing.T) { wantRefused(t, log, c.refused...) })
		if len(log.Fixes)+len(log.Refused) != len(c.fixes) {
			t.Errorf("%s: %d fixes and %d refused of %d", name, len(log.Fixes), len(log.Refused), len(c.fixes))
		}
	}
}

func TestTracksWithoutTimeAreNotJudgedBySpeed(t *testing.T) {
	log := read(t, "csv", "lat,lon\n-36.4,140.1\n-36.5,140.1\n-36.4,140.1\n")
	if len(log.Fixes) != 3 {
		t.Error(log.Refused)
	}
	if text := strings.Join(log.Notes, ""); text != "" {
		t.Errorf("a note about %s", text)
	}
}
