package demo_test

import (
	"context"
	"fmt"
	"html"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode"

	"rowtally/internal/bill"
)

// Every paper stands beside a page that says the same: each figure that the paper prints is on
// its page, for the reader whom a PDF does not reach.
func TestEveryPaperHasAPageWithItsFigures(t *testing.T) {
	if _, err := exec.LookPath("pdftotext"); err != nil {
		t.Skip("pdftotext is not installed")
	}
	s := demoOf(t)
	contractor := s.enter(t, "contractor")
	papers, err := s.books.Papers(context.Background(), 0)
	if err != nil {
		t.Fatal(err)
	}
	kinds := map[bill.Kind]bool{}
	for _, p := range papers {
		kinds[p.Kind] = true
		page := fmt.Sprintf("/papers/%d", p.ID)
		said := contractor.saysAll(page, page+"/pdf")
		for _, total := range []string{p.Total.Shown(), p.NetTotal.Shown(), p.TaxTotal.Shown()} {
			if !slices.Contains(said, plainFigure(total)) {
				t.Errorf("%s does not print its %s", p.Number, total)
			}
		}
	}
	for _, kind := range []bill.Kind{bill.Quote, bill.Estimate, bill.Variation, bill.Invoice} {
		if !kinds[kind] {
			t.Errorf("the demo has no %s", kind)
		}
	}
	for page, pdf := range map[string]string{
		"/farms/1/statement":       "/farms/1/statement.pdf",
		"/jobs/2/sown-record":      "/jobs/2/sown-record.pdf",
		"/jobs/3/rows":             "/jobs/3/map.pdf",
		"/jobs/2/counts":           "/jobs/2/count-sheet.pdf",
		"/jobs/3/mixing?of=labels": "/jobs/3/labels.pdf",
		"/jobs/3/mixing":           "/jobs/3/mixing-sheet.pdf",
		"/jobs/3":                  "/jobs/3/visit.pdf",
	} {
		contractor.saysAll(page, pdf)
	}
}

// figure is a number as a paper prints it, thousands set apart or not.
var figure = regexp.MustCompile(`\d[\d,\x{2009}\x{202f}\x{a0}]*(?:\.\d+)?`)

// plainFigure is a figure without what parts its thousands and without what adds nothing.
func plainFigure(text string) string {
	plain := strings.Map(func(c rune) rune {
		if c == ',' || unicode.IsSpace(c) {
			return -1
		}
		return c
	}, text)
	if strings.Contains(plain, ".") {
		plain = strings.TrimRight(strings.TrimRight(plain, "0"), ".")
	}
	return plain
}

// decimal tells whether a figure is one of the paper's own, with decimals: not a page's
// number, a day or a row.
func decimal(printed string) bool { return strings.Contains(printed, ".") }

func figuresOf(text string) (all []string) {
	for _, one := range figure.FindAllString(text, -1) {
		all = append(all, plainFigure(one))
	}
	return all
}

// inline is what stands within a figure on a page; other markup parts what it stands between.
var (
	inline = regexp.MustCompile(`</?(span|b|strong|em|i|a|small|sub|sup)\b[^>]*>|</td><td class="frac">`)
	markup = regexp.MustCompile(`(?s)<(script|style).*?</(script|style)>|<[^>]*>`)
)

// saysAll checks that a page says every figure of a paper, and gives them.
func (v visitor) saysAll(page, pdf string) []string {
	v.t.Helper()
	status, _, shown := v.get(page)
	found, kind, paper := v.get(pdf)
	if status != 200 || found != 200 || kind != "application/pdf" {
		v.t.Errorf("%s answers %d, %s %d %s", page, status, pdf, found, kind)
		return nil
	}
	told := figuresOf(html.UnescapeString(markup.ReplaceAllString(inline.ReplaceAllString(shown, ""), " ")))
	whole, _, _ := strings.Cut(textOfPDF(v.t, paper), "Corners, WGS 84") // these are in the files of the rows
	printed := figuresOf(whole)
	if len(printed) == 0 {
		v.t.Errorf("%s prints no figure", pdf)
	}
	for _, one := range slices.Compact(slices.Sorted(slices.Values(printed))) {
		if decimal(one) && !slices.Contains(told, one) {
			v.t.Errorf("%s does not say %s, which %s prints", page, one, pdf)
		}
	}
	return printed
}

func textOfPDF(t *testing.T, pdf string) string {
	t.Helper()
	file := filepath.Join(t.TempDir(), "paper.pdf")
	if err := os.WriteFile(file, []byte(pdf), 0o600); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command("pdftotext", "-layout", file, "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	return string(out)
}
