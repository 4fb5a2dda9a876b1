package paper

import (
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

const (
	mmPerPt = 25.4 / 72
	nbsp    = '\u00a0'
	thin    = '\u2009'
	unknown = '?' // stands for a character that no typeface of the papers has
)

// style is how a text is set: the face, its size in points, and the ink.
type style struct {
	face *face
	pt   float64
	ink  colour
}

// at is the style in another size.
func (s style) at(pt float64) style { s.pt = pt; return s }

// leadMM is the distance of two lines of text.
func (s style) leadMM() float64 { return s.pt * 1.32 * mmPerPt }

// has tells whether the face, or the one that stands in for it, can draw a character.
func (f *face) has(c rune) bool {
	_, ok := f.advance[c]
	return ok || f.spare != nil && f.spare.has(c)
}

// lacks tells whether a text has a character that can be seen and cannot be drawn.
func (f *face) lacks(text string) bool {
	return strings.ContainsFunc(norm.NFC.String(strings.Map(visible, text)), func(c rune) bool { return c != '\n' && !f.has(c) })
}

// clean makes a text fit to be set: without control and invisible characters, composed,
// tabs as spaces, and a question mark for each character that cannot be drawn. Line
// breaks stay.
func (f *face) clean(text string) string {
	if isPlain(text) {
		return text
	}
	seen := strings.Map(visible, strings.ReplaceAll(text, "\r\n", "\n"))
	return strings.Map(func(c rune) rune {
		if c == '\n' || f.has(c) {
			return c
		}
		return unknown
	}, norm.NFC.String(seen))
}

// isPlain tells whether a text is printable ASCII alone, which every face can draw as it is.
func isPlain(text string) bool {
	for i := range len(text) {
		if text[i] < ' ' || text[i] > '~' {
			return false
		}
	}
	return true
}

// visible drops what cannot be seen and makes every kind of space a plain one, but for
// the thin space and the one that does not break.
func visible(c rune) rune {
	switch {
	case c == '\n' || c == nbsp || c == thin:
		return c
	case c == '\u202f':
		return nbsp
	case c == '\t' || c == '\r' || c == '\v' || c == '\f' || unicode.Is(unicode.Z, c):
		return ' '
	case unicode.IsControl(c) || unicode.Is(unicode.Cf, c):
		return -1
	}
	return c
}

// run is a stretch of text in one face.
type run struct {
	face *face
	text string
}

// runs cuts a cleaned text where the face lacks characters that its spare has.
func (f *face) runs(text string) []run {
	if isPlain(text) {
		return []run{{f, text}}
	}
	var out []run
	from := 0
	for at, c := range text {
		by := f.drawer(c)
		switch {
		case len(out) == 0:
			out = append(out, run{face: by})
		case out[len(out)-1].face != by:
			out[len(out)-1].text, from = text[from:at], at
			out = append(out, run{face: by})
		}
		out[len(out)-1].text = text[from:]
	}
	return out
}

// drawer is the face that draws a character: the first of a face and its spares that has it,
// else the last.
func (f *face) drawer(c rune) *face {
	for f.spare != nil {
		if _, ok := f.advance[c]; ok {
			break
		}
		f = f.spare
	}
	return f
}

// ems is how far a character moves the pen: 0 for one that neither face has.
func (f *face) ems(c rune) float64 {
	if c >= 0 && int(c) < len(f.plain) && f.plain[c] > 0 {
		return f.plain[c]
	}
	return f.drawer(c).advance[c]
}

// widthMM is how wide a text comes out on one line.
func (s style) widthMM(text string) float64 { return s.span(s.face.clean(text)) }

// span is the width of a cleaned text.
func (s style) span(text string) float64 {
	ems := 0.0
	for _, c := range text {
		ems += s.face.ems(c)
	}
	return ems * s.pt * mmPerPt
}

// centsMM is how far an amount's end is from the middle of its decimal point.
func (s style) centsMM() float64 { return s.span("00") + s.span(".")/2 }

// wrap breaks a text into lines no wider than given: at its own line breaks, between
// words, and inside a word only when the word alone is too wide.
func (s style) wrap(text string, mm float64) []string {
	var out []string
	for paragraph := range strings.SplitSeq(strings.TrimSpace(s.face.clean(text)), "\n") {
		line := ""
		for _, word := range unparted(paragraph) {
			if line != "" && s.span(line+" "+word) <= mm {
				line += " " + word
				continue
			}
			if line != "" {
				out = append(out, line)
			}
			var full []string
			full, line = s.cut(word, mm)
			out = append(out, full...)
		}
		out = append(out, line)
	}
	return out
}

// unparted cuts a paragraph into what must not be parted: a word, or a figure with the
// word after it, which may be its unit.
func unparted(paragraph string) []string {
	var out []string
	figure := false
	for _, word := range strings.FieldsFunc(paragraph, func(c rune) bool { return c == ' ' }) {
		if figure {
			out[len(out)-1] += " " + word
		} else {
			out = append(out, word)
		}
		figure = strings.Trim(word, "0123456789.,−-"+string(thin)) == ""
	}
	return out
}

// cut breaks a word that is wider than a line into full lines and what is left.
func (s style) cut(word string, mm float64) (full []string, rest string) {
	for _, c := range word {
		if rest != "" && s.span(rest+string(c)) > mm {
			full, rest = append(full, rest), ""
		}
		rest += string(c)
	}
	return full, rest
}

// clipped wraps a text and keeps its first lines; what was left out shows as an ellipsis.
func (s style) clipped(text string, mm float64, most int) []string {
	lines := s.wrap(text, mm)
	if len(lines) <= most {
		return lines
	}
	last := []rune(lines[most-1])
	for len(last) > 0 && s.span(string(last)+" …") > mm {
		last = last[:len(last)-1]
	}
	return append(lines[:most-1:most-1], string(last)+" …")
}

// fit is the style in the largest size, up to its own, at which a text fits.
func (s style) fit(text string, mm float64) style {
	if width := s.widthMM(text); width > mm {
		return s.at(s.pt * mm / width)
	}
	return s
}
