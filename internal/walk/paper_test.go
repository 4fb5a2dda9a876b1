package walk

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// printed is a paper as its PDF reads, line by line.
type printed struct {
	t    *testing.T
	name string
	text string
}

// read opens the PDF that a page links to: what it says, once it is seen not to be blank.
func (b *browser) read(linkWords string) printed {
	b.t.Helper()
	href := ask[string](b, "link", linkWords)
	pdf := b.fetch(href)
	b.keepCopy("paper.pdf", pdf)
	file := filepath.Join(b.t.TempDir(), "paper.pdf")
	if err := os.WriteFile(file, pdf, 0o600); err != nil {
		b.t.Fatal(err)
	}
	notBlank(b.t, file)
	return printed{b.t, b.path() + " PDF", figuresJoined(string(output(b.t, "pdftotext", "-layout", file, "-")))}
}

// output runs a program that reads PDFs.
func output(t *testing.T, program string, args ...string) []byte {
	t.Helper()
	if _, err := exec.LookPath(program); err != nil {
		t.Skip(program + " is not installed")
	}
	out, err := exec.Command(program, args...).Output()
	if err != nil {
		t.Fatalf("%s: %v", program, err)
	}
	return out
}

// notBlank holds every page of a PDF to having ink on it: more than a stray line, less
// than a page that is all dark.
func notBlank(t *testing.T, file string) {
	t.Helper()
	const dark, least, most = 128, 0.002, 0.5
	dir := t.TempDir()
	output(t, "pdftoppm", "-r", "50", "-gray", file, filepath.Join(dir, "page"))
	pages, err := filepath.Glob(filepath.Join(dir, "page*.pgm"))
	if err != nil || len(pages) == 0 {
		t.Fatalf("the PDF renders to no page: %v", err)
	}
	for _, page := range pages {
		raw, err := os.ReadFile(page)
		if err != nil {
			t.Fatal(err)
		}
		dots := pixels(raw)
		ink := 0
		for _, dot := range dots {
			if dot < dark {
				ink++
			}
		}
		if share := float64(ink) / float64(len(dots)); !(share > least && share < most) {
			t.Errorf("%s: %.2f %% of it is dark", filepath.Base(page), 100*share)
		}
	}
}

// pixels are what follows the three lines at the head of a grey picture.
func pixels(pgm []byte) []byte {
	for range 3 {
		_, pgm, _ = bytes.Cut(pgm, []byte("\n"))
	}
	return pgm
}

// says holds the paper to sentences; a line's end is as good as a blank.
func (p printed) says(wants ...string) {
	p.t.Helper()
	run := strings.Join(strings.Fields(p.text), " ")
	for _, want := range wants {
		if !strings.Contains(run, want) {
			p.t.Errorf("%s does not say %q:\n%s", p.name, want, p.text)
		}
	}
}

// line holds the paper to a line that begins with some words and has figures after them,
// in their order.
func (p printed) line(start string, figures ...string) {
	p.t.Helper()
	for text := range strings.Lines(p.text) {
		rest, begins := strings.CutPrefix(strings.TrimSpace(text), start)
		if begins && inOrder(strings.Fields(rest), figures) {
			return
		}
	}
	p.t.Errorf("%s has no line %q with %q:\n%s", p.name, start, figures, p.text)
}

// inOrder tells whether words hold wanted ones, each whole and in their order.
func inOrder(words, wanted []string) bool {
	for _, word := range words {
		if len(wanted) > 0 && strings.TrimLeft(word, "$") == wanted[0] {
			wanted = wanted[1:]
		}
	}
	return len(wanted) == 0
}
