package site

import (
	"strings"
	"testing"
)

// A figure of four digits and more stays on one line: no blank in it lets a line break.
func TestNoLineBreaksBetweenThousands(t *testing.T) {
	w := machined(t)
	page := w.contractor.get("/machines/1")
	if !strings.Contains(page.text, thin) {
		t.Fatalf("the page shows no figure of four digits: %s", page.mainText())
	}
	if all, joined := strings.Count(page.text, thin), strings.Count(page.text, thin+joiner); joined != all {
		t.Errorf("%d of %d thin spaces are joined to what follows", joined, all)
	}
}
