package ground

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"rowtally/internal/published"
)

// sample is a reading with everything that a reading needs.
func sample(kind ReadingKind, value float64) Reading {
	r := Reading{Kind: kind, Value: value, Unit: DeciSiemens, TakenOn: "2026-06", Method: "laboratory", SaidBy: "agronomist"}
	switch {
	case kind.IsWatertable():
		r.Unit = Metres
	case kind == EM38:
		r.Unit = MilliSiemens
	case kind == EC15:
		r.Texture = Loam
		fallthrough
	default:
		r.FromCM, r.ToCM = 25, 50
	}
	return r
}

// in is the name of the class of a reading in a scheme; "" where it has none.
func in(s Scheme, r Reading) string {
	for _, c := range r.Classes() {
		if c.Scheme == s {
			return c.Name
		}
	}
	return ""
}

// within lists figures of a class: just inside its bounds, and in its middle. A class
// without an upper end gives figures above it.
func within(low, high, grain float64) []float64 {
	if high == 0 {
		return []float64{low + grain, low * 3}
	}
	return []float64{low + grain, (low + high) / 2, high - grain}
}

func classesOf(t *testing.T, table string) (rows []published.Row) {
	t.Helper()
	for _, row := range published.Rows(t, "saltland_classes.csv") {
		if row.Text("table") == table {
			rows = append(rows, row)
		}
	}
	if len(rows) == 0 {
		t.Fatalf("no rows of %s", table)
	}
	return rows
}

// upper is where a class ends; 0 for the last.
func upper(row published.Row) float64 {
	if !row.Has("value_max") {
		return 0
	}
	return row.Number("value_max")
}

func TestEveryECeClassAsPublished(t *testing.T) {
	for _, row := range classesOf(t, "A-ECe classes") {
		for _, dSm := range within(row.Number("value_min"), upper(row), 0.01) {
			want := strings.ToLower(row.Text("class_or_item"))
			if got := in(SaltlandScheme, sample(ECe, dSm)); got != want {
				t.Errorf("%s: ECe %v dS/m is %q, published %q", row.Name, dSm, got, want)
			}
			inMilli := sample(ECe, dSm*100)
			inMilli.Unit = MilliSiemens
			if got := in(SaltlandScheme, inMilli); got != want {
				t.Errorf("%s: %v mS/m is %q, published %q", row.Name, dSm*100, got, want)
			}
		}
	}
}

// byTexture finds "sand 0.15-0.28" and "sand >2.29" in the text of a row.
var byTexture = regexp.MustCompile(`(sand|loam|clay) (>?)([\d.]+)(?:-([\d.]+))?`)

func TestEveryEC15ClassAsPublished(t *testing.T) {
	seen := 0
	for _, row := range classesOf(t, "A-ECe classes") {
		for _, found := range byTexture.FindAllStringSubmatch(row.Text("text_value"), -1) {
			seen++
			figures := []string{found[3]}
			if found[4] != "" {
				figures = append(figures, found[4])
			}
			for _, text := range figures { // both printed ends belong to the class
				dSm, err := strconv.ParseFloat(text, 64)
				if err != nil {
					t.Fatal(err)
				}
				r := sample(EC15, dSm)
				r.Texture = Texture(found[1])
				if got, want := in(SaltlandScheme, r), strings.ToLower(row.Text("class_or_item")); got != want {
					t.Errorf("%s: EC1:5 %v in %s is %q, published %q", row.Name, dSm, r.Texture, got, want)
				}
			}
		}
	}
	if seen != 18 {
		t.Errorf("%d spans by texture were read, the table has 18", seen)
	}
}

// besideECe and besideLoam find the other columns of the second table in its rows' text.
var (
	besideECe  = regexp.MustCompile(`ECe (<|>)?(\d+)(?:-(\d+))?`)
	besideLoam = regexp.MustCompile(`loam w/v (<|>)?(\d+)(?:-(\d+))?`)
)

func TestEveryClassOfTheSecondSchemeAsPublished(t *testing.T) {
	for _, row := range classesOf(t, "B-EM38 classes") {
		want := strings.ToLower(row.Text("class_or_item"))
		check := func(r Reading) {
			t.Helper()
			if got := in(RevegetationScheme, r); got != want {
				t.Errorf("%s: %s is %q, published %q", row.Name, r, got, want)
			}
		}
		for _, mSm := range within(row.Number("value_min"), upper(row), 0.5) {
			check(sample(EM38, mSm))
		}
		for _, dSm := range spanIn(t, besideECe, row) {
			check(sample(ECe, dSm))
		}
		for _, mSm := range spanIn(t, besideLoam, row) {
			r := sample(EC15, mSm)
			r.Unit = MilliSiemens
			check(r)
		}
	}
}

// spanIn gives figures of the span that a pattern finds in a row's text.
func spanIn(t *testing.T, pattern *regexp.Regexp, row published.Row) []float64 {
	t.Helper()
	found := pattern.FindStringSubmatch(row.Text("text_value"))
	if found == nil {
		return nil
	}
	first, err := strconv.ParseFloat(found[2], 64)
	if err != nil {
		t.Fatal(err)
	}
	switch {
	case found[1] == "<":
		return within(0, first, 0.01)
	case found[1] == ">":
		return within(first, 0, 0.01)
	}
	last, err := strconv.ParseFloat(found[3], 64)
	if err != nil {
		t.Fatal(err)
	}
	return within(first, last, 0.01)
}

// What the two schemes call extreme is not the same ground, and a class always says whose
// it is.
func TestExtremeIsNotTheSameInBothSchemes(t *testing.T) {
	twenty := sample(ECe, 20)
	if a, b := in(SaltlandScheme, twenty), in(RevegetationScheme, twenty); a != "severe salinity" || b != "extremely saline" {
		t.Errorf("20 dS/m is %q and %q", a, b)
	}
	if f := twenty.Find(); f.Shrubs != Poor {
		t.Errorf("20 dS/m is %v for shrubs, extreme in one scheme alone", f.Shrubs)
	}
	for _, c := range twenty.Classes() {
		if c.Scheme.Source == "" || c.Range == "" {
			t.Errorf("%+v does not say whose it is", c)
		}
	}
}

func TestRangesAreWrittenAsPrinted(t *testing.T) {
	for want, r := range map[string]Reading{
		"below 2 dS/m": sample(ECe, 1), "8–16 dS/m": sample(ECe, 11), "above 32 dS/m": sample(ECe, 34),
		"0.19–0.36 dS/m": sample(EC15, 0.2), "2.91 dS/m and above": sample(EC15, 5), "100–150 mS/m": sample(EM38, 120),
	} {
		got := ""
		for _, c := range r.Classes() {
			got = fmt.Sprint(got, c.Range, "; ")
		}
		if !strings.Contains(got, want) {
			t.Errorf("%s: %q, want %q", r, got, want)
		}
	}
}

// The bounds that two classes share, and the last one that is printed "above".
func TestFiguresOnABoundGoToTheSaltierClass(t *testing.T) {
	for dSm, want := range map[float64]string{0: "non-saline", 2: "low salinity", 8: "high salinity", 16: "severe salinity", 32: "severe salinity"} {
		if got := in(SaltlandScheme, sample(ECe, dSm)); got != want {
			t.Errorf("%v dS/m is %q, want %q", dSm, got, want)
		}
	}
	if got := in(RevegetationScheme, sample(EM38, 200)); got != "very saline" {
		t.Errorf("EM38 200 is %q: the last class is printed above 200", got)
	}
}
