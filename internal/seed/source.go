package seed

// Source is a lot that another one came from: one for a lot that was split off, several
// for a blend.
type Source struct {
	LotID    int64
	Position int
	SourceID int64
	Grams    int64 // that went over
}

// ShareFraction is the share of a blend's mass, 0..1, that came from a source.
func ShareFraction(of Source, all []Source) float64 {
	total := int64(0)
	for _, s := range all {
		total += s.Grams
	}
	if total == 0 {
		return 0
	}
	return float64(of.Grams) / float64(total)
}
