package paper_test

import (
	"fmt"
	"regexp"
	"strings"
	"testing"
)

// pagesOf is the text of a paper, page by page.
func pagesOf(t *testing.T, pdf []byte) []string {
	t.Helper()
	return strings.Split(strings.TrimSuffix(textOf(t, pdf), "\f"), "\f")
}

func TestLongBillsRunOverPagesWithTheirHeads(t *testing.T) {
	pr := press(t)
	for _, c := range []struct{ lines, least, most int }{{1, 1, 1}, {25, 2, 3}, {60, 4, 5}} {
		p := long(c.lines)
		pdf, err := pr.Invoice(p)
		pages := pagesOf(t, printed(t, pdf, err))
		if len(pages) < c.least || len(pages) > c.most {
			t.Errorf("%d lines take %d pages, not %d to %d", c.lines, len(pages), c.least, c.most)
		}
		whole := strings.Join(pages, "\n")
		for i := range c.lines {
			if got := len(regexp.MustCompile(fmt.Sprintf(`Length %d:`, i+1)).FindAllString(whole, -1)); got != 1 {
				t.Errorf("%d lines: line %d stands %d times", c.lines, i+1, got)
			}
		}
		for i, page := range pages {
			holds(t, page, fmt.Sprintf("page %d of %d", i+1, len(pages)), "T2026-0007")
			if strings.Contains(page, "Length ") != strings.Contains(page, "unit price") {
				t.Errorf("%d lines, page %d: lines without column heads, or heads without lines", c.lines, i+1)
			}
			if strings.Contains(page, "Total incl. GST") && !strings.Contains(page, fmt.Sprintf("Length %d:", c.lines)) {
				t.Errorf("%d lines, page %d: the totals stand without the last line", c.lines, i+1)
			}
		}
	}
}

func TestDescriptionLongerThanAPageIsCarriedOver(t *testing.T) {
	p := invoice()
	p.Lines[2].Description = strings.Repeat("stony ground worked twice, stumps pushed aside, ", 150) + "to the end"
	pdf, err := press(t).Invoice(p)
	pages := pagesOf(t, printed(t, pdf, err))
	whole := strings.Join(strings.Fields(strings.Join(pages, "\n")), " ")
	if got := strings.Count(whole, "stony"); got != 150 {
		t.Errorf("%d of 150 repeats are printed", got)
	}
	holds(t, whole, "to the end", "Total incl. GST $4,740.12")
	words(t, pdf)
}

func TestNoTubIsBrokenByAPagesEnd(t *testing.T) {
	pdf, err := press(t).Mixing(sheet(12))
	pages := pagesOf(t, printed(t, pdf, err))
	tubs := 0
	for i, page := range pages {
		heads := len(regexp.MustCompile(`Tub \d+ of 13`).FindAllString(page, -1))
		for _, part := range []string{"mixed at", "row-km reached", "how far it should last"} {
			if got := strings.Count(page, part); got != heads {
				t.Errorf("page %d begins %d tubs and says %q %d times", i+1, heads, part, got)
			}
		}
		tubs += heads
	}
	if tubs != 13 {
		t.Errorf("%d of 13 tubs printed on %d pages", tubs, len(pages))
	}
}

func TestMixingSheetHoldsWhatTheOperatorNeeds(t *testing.T) {
	s := sheet(3)
	s.Lots[1].Treated = "insecticide of 3 Mar 2026"
	s.Lots[1].Live = "tested 2 Mar 2026 at 51 %, mixed by 46.5 %, the safe side"
	s.Mixed, s.LeftM, s.PlacementML = 2, 21000, 58
	pdf, err := press(t).Mixing(s)
	text := textOf(t, printed(t, pdf, err))
	holds(t, text, "Mixing sheet", "J-03", "Bore, Three Soaks", "season 2026", "printed 20 Jul 2026",
		"21.0", "row-km left, of 34.9", "58", "mL a placement, not 45", "333.3", "15.00",
		"D26-01 13.39 kg old man saltbush, fruit, bracts on", "treated: insecticide of 3 Mar 2026; tested 2 Mar 2026 at 51 %, mixed by 46.5 %, the safe side", "medium 508 L vermiculite",
		"This sheet rests on 58 mL a placement, a placement every 3.00 m.", "Tub 4 of 6", "43.5", "10.67")
	// the cautions stand in two columns: read as they were written, column by column
	holds(t, run(t, pdf, "pdftotext", "-raw", "PAPER", "-"), s.Cautions...)
}

// Three full tubs and a part, with the catch test, are one page; what is short is said on it.
func TestFourTubsAreOnePage(t *testing.T) {
	s := sheet(3)
	pdf, err := press(t).Mixing(s)
	text := textOf(t, printed(t, pdf, err))
	holds(t, text, "page 1 of 1", "Catch test", "47.2, 20 turns", "708, 673 to 743", "80 L in each hopper", "21.8 L in each hopper",
		"Atriplex nummularia", "Atriplex undulata")
	s.Short = "Lot D26-01 is short by 2.21 kg: the tubs here are no larger than that."
	s.Catch, s.Hoppers = nil, 0
	pdf, err = press(t).Mixing(s)
	text = textOf(t, printed(t, pdf, err))
	holds(t, text, s.Short)
	for _, word := range []string{"turns", "each hopper"} {
		if strings.Contains(text, word) {
			t.Errorf("without a machine the sheet says %q", word)
		}
	}
}

func TestEveryTubHasALabel(t *testing.T) {
	pr, s := press(t), sheet(9)
	pdf, err := pr.Labels(s)
	pages := pagesOf(t, printed(t, pdf, err))
	if len(pages) != 2 {
		t.Errorf("10 labels take %d pages, not 2", len(pages))
	}
	for i := range s.Tubs {
		holds(t, strings.Join(pages, " "), fmt.Sprintf("Tub %d of 10", i+1))
	}
	s.Tubs = nil
	if _, err := pr.Labels(s); err == nil {
		t.Error("labels of a job without tubs were printed")
	}
}
