package paper

// singles reads one feature of a font's substitution table, where that feature swaps a
// single glyph for a single other one: "tnum" swaps figures for figures of one width.
func (t table) singles(feature string) map[int]int {
	out := map[int]int{}
	features, lookups := t.from(t.u16(6)), t.from(t.u16(8))
	for i := range features.u16(0) {
		entry := features.from(2 + 6*i)
		if len(entry) < 6 || string(entry[:4]) != feature {
			continue
		}
		wanted := features.from(entry.u16(4))
		for k := range wanted.u16(2) {
			lookups.from(lookups.u16(2 + 2*wanted.u16(4+2*k))).swap(out)
		}
	}
	return out
}

// swap reads one lookup of type 1, single substitution, in both its formats.
func (t table) swap(out map[int]int) {
	if t.u16(0) != 1 {
		return
	}
	for i := range t.u16(4) {
		sub := t.from(t.u16(6 + 2*i))
		for index, glyph := range sub.from(sub.u16(2)).covered() {
			if sub.u16(0) == 1 {
				out[glyph] = (glyph + sub.u16(4)) & 0xFFFF
			} else {
				out[glyph] = sub.u16(6 + 2*index)
			}
		}
	}
}

// covered lists the glyphs that a coverage table names, in their order.
func (t table) covered() []int {
	var out []int
	for i := range t.u16(2) {
		if t.u16(0) == 1 {
			out = append(out, t.u16(4+2*i))
			continue
		}
		for glyph := t.u16(4 + 6*i); glyph <= t.u16(6+6*i); glyph++ {
			out = append(out, glyph)
		}
	}
	return out
}
