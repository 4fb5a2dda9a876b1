package paper_test

import (
	"bytes"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"

	"rowtally/internal/paper"
)

// printings are one of each paper, printed by a press.
var printings = map[string]func(*paper.Press) ([]byte, error){
	"quote":        func(pr *paper.Press) ([]byte, error) { return pr.Quote(quote()) },
	"alternatives": func(pr *paper.Press) ([]byte, error) { return pr.Quote(alternatives()) },
	"estimate":     func(pr *paper.Press) ([]byte, error) { return pr.Estimate(estimate()) },
	"variation":    func(pr *paper.Press) ([]byte, error) { return pr.Variation(variation()) },
	"invoice":      func(pr *paper.Press) ([]byte, error) { return pr.Invoice(invoice()) },
	"adjustment":   func(pr *paper.Press) ([]byte, error) { return pr.Adjustment(adjustment()) },
	"statement":    func(pr *paper.Press) ([]byte, error) { return pr.Statement(statement()) },
	"plain":        func(pr *paper.Press) ([]byte, error) { return pr.Invoice(plainDraft()) },
	"long":         func(pr *paper.Press) ([]byte, error) { return pr.Invoice(long(60)) },
	"strain":       func(pr *paper.Press) ([]byte, error) { return pr.Quote(strained()) },
	"mixing":       func(pr *paper.Press) ([]byte, error) { return pr.Mixing(sheet(3)) },
	"labels":       func(pr *paper.Press) ([]byte, error) { return pr.Labels(sheet(3)) },
	"visit":        func(pr *paper.Press) ([]byte, error) { return pr.Visit(visitSheet()) },
}

func TestSameInputGivesTheSameBytes(t *testing.T) {
	one, other := press(t), press(t)
	for name, print := range printings {
		first, err := print(one)
		want := printed(t, first, err)
		var all sync.WaitGroup
		for range 4 {
			for _, pr := range []*paper.Press{one, other} {
				all.Go(func() {
					if got, err := print(pr); err != nil || !bytes.Equal(got, want) {
						t.Errorf("%s: printed again at the same time: other bytes, error %v", name, err)
					}
				})
			}
		}
		all.Wait()
	}
}

func TestBytesFollowTheMomentAndNotItsZone(t *testing.T) {
	pr, p := press(t), invoice()
	first, err := pr.Invoice(p)
	want := printed(t, first, err)
	p.IssuedAt = p.IssuedAt.UTC()
	if got, err := pr.Invoice(p); err != nil || !bytes.Equal(got, want) {
		t.Errorf("the same moment in another zone: other bytes, error %v", err)
	}
	p.IssuedAt = p.IssuedAt.Add(time.Second)
	if got, err := pr.Invoice(p); err != nil || bytes.Equal(got, want) {
		t.Errorf("another moment: the same bytes, error %v", err)
	}
}

func TestDraftWithoutAMomentDoesNotTakeTheClock(t *testing.T) {
	p := plainDraft()
	p.IssuedAt = time.Time{}
	pdf, err := press(t).Invoice(p)
	if info := run(t, printed(t, pdf, err), "pdfinfo", "-isodates", "PAPER"); !strings.Contains(info, "1970-01-01T00:00:00") {
		t.Errorf("the draft's properties hold another day than 1 Jan 1970:\n%s", info)
	}
}

func TestFilesAreSoundAndCarryTheirTypefaces(t *testing.T) {
	pr := press(t)
	line := regexp.MustCompile(`(?m)^(\S+) +CID TrueType +Identity-H +(yes|no) +(yes|no) +(yes|no) `)
	for name, print := range printings {
		pdf, err := print(pr)
		pdf = printed(t, pdf, err)
		if out := run(t, pdf, "qpdf", "--check", "PAPER"); !strings.Contains(out, "No syntax or stream encoding errors found") {
			t.Errorf("%s: qpdf finds faults:\n%s", name, out)
		}
		out := run(t, pdf, "pdffonts", "PAPER")
		faces := line.FindAllStringSubmatch(out, -1)
		if len(faces) < 2 || len(faces) != strings.Count(out, "\n")-2 {
			t.Errorf("%s: typefaces of another kind than CID TrueType:\n%s", name, out)
		}
		for _, face := range faces {
			if face[2] != "yes" || face[4] != "yes" {
				t.Errorf("%s: %s is embedded %s, maps to Unicode %s", name, face[1], face[2], face[4])
			}
		}
	}
}

func BenchmarkQuote(b *testing.B) {
	pr, p := press(b), quote()
	p.Particulars = p.Particulars[:2]
	for b.Loop() {
		pdf, err := pr.Quote(p)
		printed(b, pdf, err)
	}
}

func BenchmarkSixtyLines(b *testing.B) {
	pr, p := press(b), long(60)
	for b.Loop() {
		pdf, err := pr.Invoice(p)
		printed(b, pdf, err)
	}
}
