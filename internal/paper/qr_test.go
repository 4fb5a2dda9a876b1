package paper_test

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"rowtally/internal/job"
)

// scanned is what a reader of bar codes finds on a paper, page after page.
func scanned(t *testing.T, pdf []byte) []string {
	t.Helper()
	if _, err := exec.LookPath("zbarimg"); err != nil {
		t.Skip("zbarimg is not installed")
	}
	folder := t.TempDir()
	run(t, pdf, "pdftoppm", "-r", "200", "-gray", "-png", "PAPER", filepath.Join(folder, "page"))
	pages, err := os.ReadDir(folder)
	if err != nil {
		t.Fatal(err)
	}
	var found []string
	for _, page := range pages {
		out, err := exec.Command("zbarimg", "--raw", "--quiet", "-Sdisable", "-Sqrcode.enable", filepath.Join(folder, page.Name())).Output()
		if err != nil {
			t.Fatalf("zbarimg finds nothing on %s: %v", page.Name(), err)
		}
		found = append(found, strings.Split(strings.TrimSpace(string(out)), "\n")...)
	}
	slices.Sort(found)
	return found
}

// Every lot of every tub has its code, and a reader finds its number, its job and its tub.
func TestTheCodesOfTheLabelsAreRead(t *testing.T) {
	s := sheet(2)
	s.Lots[1].Code = "d26/03 – wild" // in lower case and beyond ASCII the code is a longer one
	s.Lots = append(s.Lots, job.SheetLot{LotID: 4, Code: "D26-05", Name: "creeping saltbush", Grams: 900})
	var want []string
	for i := range s.Tubs {
		s.Tubs[i].Grams = append(s.Tubs[i].Grams, 300)
		for _, lot := range s.Lots {
			want = append(want, job.TubLabel{Lot: lot.Code, Job: "J-03", Tub: s.Tubs[i].Number}.Text())
		}
	}
	slices.Sort(want)
	pdf, err := press(t).Labels(s)
	if got := scanned(t, printed(t, pdf, err)); !slices.Equal(got, want) {
		t.Errorf("the labels say %q, want %q", got, want)
	}
}

func TestATubOfThreeLotsTakesTwoLabels(t *testing.T) {
	s := sheet(0)
	s.Lots = append(s.Lots, job.SheetLot{LotID: 4, Code: "D26-05", Name: "creeping saltbush", Grams: 900})
	s.Tubs[0].Grams = append(s.Tubs[0].Grams, 300)
	pdf, err := press(t).Labels(s)
	text := textOf(t, printed(t, pdf, err))
	holds(t, text, "D26-05", "More lots of this tub on its next label.")
	if heads := strings.Count(text, fmt.Sprintf("Tub %d of 1", 1)); heads != 2 {
		t.Errorf("%d labels of the tub, want 2", heads)
	}
	s.Lots[0].Code = strings.Repeat("x", 3000)
	if _, err := press(t).Labels(s); err == nil {
		t.Error("a lot's number that no code holds was printed")
	}
}
