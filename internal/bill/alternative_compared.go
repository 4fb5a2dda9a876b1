package bill

import "rowtally/internal/unit"

// Compared is one figure by which alternatives are compared, as it stands on papers and pages.
type Compared struct {
	Name    string   // with its unit
	Figures []string // one for each alternative, in their order; "–" where it has none
	Total   bool     // what is paid
}

// CompareAlternatives sets the figures of alternatives side by side. A figure that none of them has is
// left out. Nothing is added up over them.
func CompareAlternatives(all []AlternativePaper) (lines []Compared) {
	if len(all) == 0 {
		return nil
	}
	currency := all[0].Paper.Currency
	if all[0].Paper.Registered {
		currency += " incl. " + all[0].Paper.TaxLabel
	}
	for _, figure := range []struct {
		name  string
		total bool
		of    func(AlternativePaper) string
	}{
		{"row-km", false, func(a AlternativePaper) string { return unlessNothing(a.Paper.RowM/1000, 2) }},
		{"placements", false, func(a AlternativePaper) string { return unlessNothing(float64(a.Placements), 0) }},
		{"placements to the ha of paddock", false, func(a AlternativePaper) string { return unlessNothing(a.PlacementsPerHa(), 0) }},
		{"ha of alley", false, func(a AlternativePaper) string { return unlessNothing(a.AlleyHa, 1) }},
		{currency + " to the ha of paddock", false, AlternativePaper.perHaShown},
		{"total, " + currency, true, unlessOpen},
	} {
		line, any := Compared{Name: figure.name, Total: figure.total}, false
		for _, a := range all {
			shown := figure.of(a)
			line.Figures, any = append(line.Figures, shown), any || shown != none
		}
		if any {
			lines = append(lines, line)
		}
	}
	return lines
}

// none stands where an alternative has no such figure.
const none = "–"

func unlessNothing(v float64, decimals int) string {
	if v == 0 {
		return none
	}
	return unit.Grouped(v, decimals)
}

// unlessOpen is an alternative's total; none while it cannot be offered.
func unlessOpen(a AlternativePaper) string {
	if len(a.Paper.Lines) == 0 {
		return none
	}
	return a.Paper.Total.Shown()
}

func (a AlternativePaper) perHaShown() string {
	each, ok := a.PerHa()
	if !ok || len(a.Paper.Lines) == 0 {
		return none
	}
	return each.Shown()
}

// Compared are a paper's alternatives side by side; nothing where it offers none.
func (p Paper) Compared() []Compared { return CompareAlternatives(p.Apart()) }
