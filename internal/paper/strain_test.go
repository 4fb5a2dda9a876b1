package paper_test

import (
	"strings"
	"testing"
)

func TestStrangeTextComesOutAsSomethingReadable(t *testing.T) {
	pdf, err := press(t).Quote(strained())
	text := textOf(t, printed(t, pdf, err))
	// What Literata has stands; what no face has is a question mark; a tab is a space; what
	// cannot be seen, or turns the direction of the text, is gone.
	holds(t, text, "Ōtākou τμήμα Поле ?? ?end", "$110,000,004,240.75", "per return")
	for _, bad := range []string{"\t", "\u202e", "\u200b", "\x07", "\ufffd", "漢", "🌱"} {
		if strings.Contains(text, bad) {
			t.Errorf("the paper still holds %q", bad)
		}
	}
	flat := strings.Join(strings.Fields(text), "")
	if got := strings.Count(flat, "unbroken"); got < 38 {
		t.Errorf("%d of 40 parts of the unbroken word are printed", got)
	}
}

func TestMarksOfOtherTongues(t *testing.T) {
	p := invoice()
	p.Buyer.Name = "Te Whānau o Ōhōpō, Müller & Søn, Łąka, N\u0303andu\u0301"
	p.Buyer.Address = "line one\r\nline two\nline three\u2028line four"
	pdf, err := press(t).Invoice(p)
	holds(t, textOf(t, printed(t, pdf, err)), "Whānau", "Ōhōpō", "Müller &", "Søn", "Łąka", "Ñandú", "line one", "line two", "line three line four")
}

func TestInvalidBytesAreAQuestionMark(t *testing.T) {
	p := invoice()
	p.Paddock = "Lag\xffoon"
	pdf, err := press(t).Invoice(p)
	holds(t, textOf(t, printed(t, pdf, err)), "Lag?oon")
}
