package paper

import (
	"math"
	"os"
	"strings"
	"testing"
	"testing/fstest"

	"pgregory.net/rapid"
)

const fonts = "../../web/dist/font"

func opened(t *testing.T) *Press {
	t.Helper()
	pr, err := New(os.DirFS(fonts))
	if err != nil {
		t.Fatal(err)
	}
	return pr
}

func TestWithoutTypefacesItSaysWhatToDo(t *testing.T) {
	_, err := New(fstest.MapFS{})
	if err == nil || !strings.Contains(err.Error(), "run make web") || !strings.Contains(err.Error(), titleFile) {
		t.Errorf("no typefaces: %v", err)
	}
}

func TestDamagedTypefacesAreRefused(t *testing.T) {
	whole, err := os.ReadFile(fonts + "/" + textFile)
	if err != nil {
		t.Fatalf("%v, run make web first", err)
	}
	for name, spoiled := range map[string][]byte{
		"empty": nil, "cut short": whole[:len(whole)/2], "of another kind": append([]byte("OTTO"), whole[4:]...),
		"without characters": []byte(strings.Replace(string(whole), "cmap", "cmxp", 1)),
	} {
		if _, err := readFace("spoiled", spoiled); err == nil {
			t.Errorf("a typeface that is %s was taken", name)
		}
	}
}

// Columns of figures align only where all figures are as wide as one another.
func TestFiguresAreTabular(t *testing.T) {
	pr := opened(t)
	for _, f := range []*face{pr.text.face, pr.strong.face, pr.title.face} {
		for c := '0'; c <= '9'; c++ {
			if f.advance[c] != f.advance['0'] || f.advance[c] < 0.4 {
				t.Errorf("%s: %c is %v em wide, 0 is %v", f.name, c, f.advance[c], f.advance['0'])
			}
		}
	}
	narrow, wide := pr.text.widthMM("111.11"), pr.text.widthMM("888.88")
	if narrow != wide || pr.text.widthMM("iii") == pr.text.widthMM("mmm") {
		t.Errorf("111.11 is %v mm wide, 888.88 %v mm", narrow, wide)
	}
}

func TestWrappedLinesFitAndLoseNothing(t *testing.T) {
	s := opened(t).text
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringOf(rapid.SampledFrom([]rune("aiW 1.0\n-mé漢\t "))).Draw(t, "text")
		mm := rapid.Float64Range(1, 60).Draw(t, "mm")
		lines := s.wrap(text, mm)
		for _, line := range lines {
			if s.widthMM(line) > mm+1e-9 && len([]rune(line)) > 1 {
				t.Fatalf("line %q is %v mm wide, more than %v", line, s.widthMM(line), mm)
			}
		}
		bare := func(text string) string { return strings.Join(strings.Fields(text), "") }
		if got, want := bare(strings.Join(lines, "")), bare(s.face.clean(text)); got != want {
			t.Fatalf("%q became %q", want, got)
		}
	})
}

func TestClippedLinesFitWithTheirMark(t *testing.T) {
	s := opened(t).text
	const text = "Three Soaks and Limestone Gutter Grazing of the Upper South East"
	for mm := 12.0; mm < 110; mm++ {
		for most := 1; most < 4; most++ {
			lines := s.clipped(text, mm, most)
			if len(lines) > most || s.widthMM(lines[len(lines)-1]) > mm {
				t.Errorf("%d lines of %v mm: %q", most, mm, lines)
			}
			whole := strings.Join(lines, " ") == text
			if marked := strings.HasSuffix(lines[len(lines)-1], "…"); marked == whole {
				t.Errorf("%d lines of %v mm: whole %v, marked %v: %q", most, mm, whole, marked, lines)
			}
		}
	}
}

func TestFiguresStayWithTheirUnit(t *testing.T) {
	s := opened(t).text
	for mm := 30.0; mm < 80; mm++ {
		for _, line := range s.wrap("Shrub seed at cost and 12 % for handling, 24.8 row-km of it", mm) {
			if strings.HasSuffix(line, "12") || strings.HasSuffix(line, "24.8") {
				t.Errorf("at %v mm the line %q ends with a figure without its unit", mm, line)
			}
		}
	}
}

func TestCleanIsAtRestAfterOnce(t *testing.T) {
	f := opened(t).text.face
	rapid.Check(t, func(t *rapid.T) {
		once := f.clean(rapid.String().Draw(t, "text"))
		if twice := f.clean(once); twice != once {
			t.Fatalf("%q became %q the second time", once, twice)
		}
		for _, c := range once {
			if c != '\n' && !f.has(c) {
				t.Fatalf("%q holds %q, which no face has", once, c)
			}
		}
	})
}

func TestScaleBarsAreRound(t *testing.T) {
	for v, want := range map[float64]float64{0.3: 1, 1: 1, 4.9: 2, 5: 5, 99: 50, 100: 100, 351: 200, 7000: 5000} {
		if got := roundBelow(v); math.Abs(got-want) > 1e-9 {
			t.Errorf("the greatest round length up to %v is %v, not %v", v, got, want)
		}
	}
}
