package paper

import (
	"fmt"
	"maps"
	"slices"
)

// face is one typeface as its TrueType file describes it: which characters it can draw,
// and how far each moves the pen. Figures are tabular where the face has such figures.
type face struct {
	name    string           // as gofpdf knows it
	ttf     []byte           // never handed out: the PDF writer changes what it is given
	advance map[rune]float64 // in ems
	plain   [128]float64     // the same of the ASCII characters, at hand for measuring; 0 for those it lacks
	spare   *face            // draws what this face lacks; nil for none
}

// table is one table of a font file, read big-endian. Reading outside it gives 0, so a
// damaged font shows as characters it does not have.
type table []byte

func (t table) u16(at int) int {
	if at < 0 || at+2 > len(t) {
		return 0
	}
	return int(t[at])<<8 | int(t[at+1])
}

func (t table) u32(at int) int { return t.u16(at)<<16 | t.u16(at+2) }

func (t table) from(at int) table {
	if at < 0 || at > len(t) {
		return nil
	}
	return t[at:]
}

// readFace reads a TrueType font and gives it its tabular figures. It refuses a file that
// is cut short or cannot draw plain English.
func readFace(name string, ttf []byte) (*face, error) {
	tables, err := tablesOf(ttf)
	if err != nil {
		return nil, fmt.Errorf("typeface %s: %w", name, err)
	}
	glyphs := tables["cmap"].glyphs()
	for c := rune(' '); c <= '~'; c++ {
		if _, ok := glyphs[c]; !ok {
			return nil, fmt.Errorf("typeface %s: it has no character %q, it may be damaged", name, c)
		}
	}
	figures := tables["GSUB"].singles("tnum")
	for c := '0'; c <= '9'; c++ {
		if tabular, ok := figures[glyphs[c]]; ok {
			glyphs[c] = tabular
		}
	}
	f := &face{name: name, ttf: withGlyphs(ttf, glyphs), advance: advances(tables, glyphs)}
	for c := range f.plain {
		f.plain[c] = f.advance[rune(c)]
	}
	return f, nil
}

// tablesOf cuts a font file along its directory.
func tablesOf(ttf []byte) (map[string]table, error) {
	file := table(ttf)
	if file.u32(0) != 0x00010000 {
		return nil, fmt.Errorf("the file is not a TrueType font")
	}
	out := map[string]table{}
	for i := range file.u16(4) {
		entry := file.from(12 + 16*i)
		offset, length := entry.u32(8), entry.u32(12)
		if len(entry) < 16 || offset+length > len(ttf) {
			return nil, fmt.Errorf("the file is cut short")
		}
		out[string(entry[:4])] = file[offset : offset+length]
	}
	return out, nil
}

// glyphs reads the character map's format 4 subtable: the characters of the Basic
// Multilingual Plane.
func (t table) glyphs() map[rune]int {
	out := map[rune]int{}
	for i := range t.u16(2) {
		sub := t.from(t.u32(8 + 8*i))
		if sub.u16(0) != 4 {
			continue
		}
		segments := sub.u16(6) / 2
		for s := range segments {
			sub.segment(segments, s, out)
		}
	}
	return out
}

func (t table) segment(segments, s int, out map[rune]int) {
	last, first := t.u16(14+2*s), t.u16(16+2*segments+2*s)
	delta, at := t.u16(16+4*segments+2*s), 16+6*segments+2*s
	for c := first; c <= last && c < 0xFFFF; c++ {
		glyph := c
		if away := t.u16(at); away != 0 {
			glyph = t.u16(at + away + 2*(c-first))
			if glyph == 0 {
				continue
			}
		}
		if glyph = (glyph + delta) & 0xFFFF; glyph != 0 {
			out[rune(c)] = glyph
		}
	}
}

// advances gives each character's advance in ems.
func advances(tables map[string]table, glyphs map[rune]int) map[rune]float64 {
	em := float64(tables["head"].u16(18))
	metrics := tables["hhea"].u16(34)
	out := map[rune]float64{}
	for c, glyph := range glyphs {
		out[c] = float64(tables["hmtx"].u16(4*min(glyph, metrics-1))) / em
	}
	return out
}

// withGlyphs is the font with another character map, put at the file's end. It is only
// for the PDF writer, which copies the glyphs it needs and leaves checksums alone.
func withGlyphs(ttf []byte, glyphs map[rune]int) []byte {
	out := slices.Clone(ttf)
	for i := range table(ttf).u16(4) {
		entry := out[12+16*i:]
		if string(entry[:4]) == "cmap" {
			cmap := characterMap(glyphs)
			copy(entry[8:], be32(len(out)))
			copy(entry[12:], be32(len(cmap)))
			return append(out, cmap...)
		}
	}
	return out
}

// characterMap writes a format 4 character map with one segment for each character.
func characterMap(glyphs map[rune]int) []byte {
	characters := slices.Sorted(maps.Keys(glyphs))
	segments := len(characters) + 1
	var ends, starts, deltas []byte
	for _, c := range characters {
		ends, starts = append(ends, be16(int(c))...), append(starts, be16(int(c))...)
		deltas = append(deltas, be16(glyphs[c]-int(c))...)
	}
	last := be16(0xFFFF)
	ends, starts, deltas = append(ends, last...), append(starts, last...), append(deltas, be16(1)...)
	sub := slices.Concat(be16(4), be16(16+8*segments), be16(0), be16(2*segments), make([]byte, 6),
		ends, be16(0), starts, deltas, make([]byte, 2*segments))
	return slices.Concat(be16(0), be16(1), be16(3), be16(1), be32(12), sub)
}

func be16(v int) []byte { return []byte{byte(v >> 8), byte(v)} }
func be32(v int) []byte { return []byte{byte(v >> 24), byte(v >> 16), byte(v >> 8), byte(v)} }
