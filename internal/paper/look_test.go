package paper_test

import (
	"flag"
	"fmt"
	"image"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "draw the pictures of testdata/golden/paper again")

const pictures = "../../testdata/golden/paper"

// rendered draws one page as a person would see it, small and grey.
func rendered(t *testing.T, pdf []byte, page int) string {
	t.Helper()
	at := filepath.Join(t.TempDir(), "page")
	number := fmt.Sprint(page)
	run(t, pdf, "pdftoppm", "-r", "50", "-gray", "-png", "-singlefile", "-f", number, "-l", number, "PAPER", at)
	return at + ".png"
}

func picture(t *testing.T, path string) image.Image {
	t.Helper()
	file, err := os.Open(path)
	if err != nil {
		t.Fatalf("%v; look at the page, then go test ./internal/paper -update", err)
	}
	defer file.Close()
	img, err := png.Decode(file)
	if err != nil {
		t.Fatal(err)
	}
	return img
}

// apart counts the dots of two pictures that differ plainly: not by a renderer's shading.
func apart(a, b image.Image) int {
	if a.Bounds() != b.Bounds() {
		return a.Bounds().Dx() * a.Bounds().Dy()
	}
	count := 0
	for y := range a.Bounds().Dy() {
		for x := range a.Bounds().Dx() {
			one, _, _, _ := a.At(x, y).RGBA()
			other, _, _, _ := b.At(x, y).RGBA()
			if max(one, other)-min(one, other) > 0x6000 {
				count++
			}
		}
	}
	return count
}

// The pages are compared with pictures that a person has looked at: text alone reads
// right even where a page shows empty boxes or one thing over another.
func TestPagesLookAsTheyDid(t *testing.T) {
	const mayDiffer = 25 // dots of a page of 413 × 585
	pr := press(t)
	for name, page := range map[string]int{"quote": 1, "quote-2": 2, "alternatives": 1, "alternatives-2": 2, "invoice": 1, "adjustment": 1, "statement": 1, "plain": 1, "long-4": 4, "strain": 1, "mixing": 1, "labels": 1, "visit": 1,
		"estimate": 1, "variation": 1, "inclusive": 1, "deposit": 1, "claim": 1, "scripts": 1, "unbroken": 1, "mixing-six": 1, "mixing-two-2": 2, "sown-2": 2} {
		what := strings.TrimSuffix(name, fmt.Sprintf("-%d", page))
		pdf, err := printings[what](pr)
		got := rendered(t, printed(t, pdf, err), page)
		golden := filepath.Join(pictures, name+".png")
		if *update {
			copyFile(t, got, golden)
			continue
		}
		if dots := apart(picture(t, got), picture(t, golden)); dots > mayDiffer {
			t.Errorf("%s: %d dots differ from %s", name, dots, golden)
		}
	}
}

func copyFile(t *testing.T, from, to string) {
	t.Helper()
	content, err := os.ReadFile(from)
	if err == nil {
		err = os.MkdirAll(filepath.Dir(to), 0o755)
	}
	if err == nil {
		err = os.WriteFile(to, content, 0o644)
	}
	if err != nil {
		t.Fatal(err)
	}
}

// A missing character would show as the typeface's empty box. None of the papers shows
// one: no page holds what a box leaves behind when the same paper is drawn with and
// without the strange characters replaced.
func TestNoEmptyBoxes(t *testing.T) {
	if _, err := exec.LookPath("pdftoppm"); err != nil {
		t.Skip("pdftoppm is not installed")
	}
	pr, p := press(t), invoice()
	p.Reason = "漢" // an invoice does not show it; with it both say that a character is lacking
	p.Paddock = "漢\u0378\U0001F331"
	odd, err := pr.Invoice(p)
	odd = printed(t, odd, err)
	p.Paddock = "???"
	plain, err := pr.Invoice(p)
	if dots := apart(picture(t, rendered(t, odd, 1)), picture(t, rendered(t, printed(t, plain, err), 1))); dots != 0 {
		t.Errorf("%d dots differ between unknown characters and their question marks", dots)
	}
}
