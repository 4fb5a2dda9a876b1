package web_test

import (
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"testing"
)

// WCAG 2.2, success criteria 1.4.3 (text, 4.5 : 1) and 1.4.11 (marks, 3 : 1).
const (
	textContrast = 4.5
	markContrast = 3.0
)

// pairs are the colours that stand on one another, by variable of variables.css.
var pairs = []struct {
	on    string
	above []string
	least float64
}{
	{"salt", []string{"ink", "soft", "deep", "clay"}, textContrast},
	{"crust", []string{"ink", "soft", "deep", "clay"}, textContrast},
	{"flat", []string{"ink", "soft", "deep", "clay"}, textContrast},
	{"claypale", []string{"ink", "clay", "soft"}, textContrast},
	{"pond", []string{"ink"}, textContrast},
	{"clay", []string{"crust"}, textContrast},
	{"ink", []string{"crust"}, textContrast},
	{"soft", []string{"crust"}, textContrast},
	{"salt", []string{"bush", "water", "sage"}, markContrast},
	{"crust", []string{"bush", "water", "sage"}, markContrast},
	{"flat", []string{"bush", "water"}, markContrast},
}

func TestContrastOfThePalette(t *testing.T) {
	palette := readPalette(t)
	for _, p := range pairs {
		for _, above := range p.above {
			if got := contrast(colour(t, palette, above), colour(t, palette, p.on)); got < p.least {
				t.Errorf("--%s on --%s has contrast %.2f, needs %.1f", above, p.on, got, p.least)
			}
		}
	}
}

// The ratios of black, white and the two greys that fall on either side of 4.5 : 1 on
// white: #767676 and #777777 (W3C, WCAG 2.2 understanding documents).
func TestContrastItself(t *testing.T) {
	for _, c := range []struct {
		above string
		want  float64
	}{{"#000000", 21}, {"#ffffff", 1}, {"#767676", 4.54}, {"#777777", 4.48}} {
		if got := contrast(luminance(t, c.above), luminance(t, "#ffffff")); math.Abs(got-c.want) > 0.005 {
			t.Errorf("%s on white: %.3f, want %.2f", c.above, got, c.want)
		}
	}
}

// A colour written outside the palette escapes the check above.
func TestNoColourBesideThePalette(t *testing.T) {
	palette := readPalette(t)
	known := map[string]bool{"#fff": true, "#ffffff": true, "#000": true, "#333": true}
	for _, hex := range palette {
		known[hex] = true
	}
	for _, pattern := range []string{"style/*.css", "style/part/*.css", "style/image/*.svg"} {
		files, _ := filepath.Glob(pattern)
		if len(files) == 0 {
			t.Fatalf("no files at %s", pattern)
		}
		for _, file := range files {
			for _, hex := range regexp.MustCompile(`#[0-9a-fA-F]{3,8}\b`).FindAllString(read(t, file), -1) {
				if !known[hex] {
					t.Errorf("%s uses %s, which is no colour of variables.css", file, hex)
				}
			}
		}
	}
}

func readPalette(t *testing.T) map[string]string {
	t.Helper()
	palette := map[string]string{}
	for _, m := range regexp.MustCompile(`--(\w+): (#[0-9a-f]{6});`).FindAllStringSubmatch(read(t, "style/part/variables.css"), -1) {
		palette[m[1]] = m[2]
	}
	if len(palette) < 8 {
		t.Fatalf("read only %d colours", len(palette))
	}
	return palette
}

func read(t *testing.T, file string) string {
	t.Helper()
	raw, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	return string(raw)
}

func colour(t *testing.T, palette map[string]string, name string) float64 {
	t.Helper()
	hex, ok := palette[name]
	if !ok {
		t.Fatalf("variables.css has no --%s", name)
	}
	return luminance(t, hex)
}

// luminance is WCAG 2.2's relative luminance, 0 to 1.
func luminance(t *testing.T, hex string) float64 {
	t.Helper()
	v, err := strconv.ParseUint(hex[1:], 16, 32)
	if err != nil {
		t.Fatal(err)
	}
	return 0.2126*linear(v>>16) + 0.7152*linear(v>>8&255) + 0.0722*linear(v&255)
}

func linear(channel uint64) float64 {
	c := float64(channel) / 255
	if c <= 0.04045 {
		return c / 12.92
	}
	return math.Pow((c+0.055)/1.055, 2.4)
}

func contrast(a, b float64) float64 { return (max(a, b) + 0.05) / (min(a, b) + 0.05) }
