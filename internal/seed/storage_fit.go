package seed

import "strings"

// StorageFit is one published set of constants of the viability equation.
type StorageFit struct {
	Species   string // as the table names it, with the variety or kind of seed where fits differ
	Longevity Longevity
	Source    string // the work that the fit comes from
}

// otherNames leads from names on seed tags to the name in the table.
var otherNames = map[string]string{
	"thinopyrum ponticum":  "elytrigia elongata",
	"thinopyrum elongatum": "elytrigia elongata",
}

// StorageFits looks up the constants of a species by its botanical name, in any case;
// a name of genus and species finds fits of its varieties too. It is empty for a
// species without any, and most have none.
func StorageFits(species string) []StorageFit {
	want := strings.ToLower(strings.Join(strings.Fields(species), " "))
	if other, known := otherNames[want]; known {
		want = other
	}
	if !strings.Contains(want, " ") {
		return nil
	}
	var found []StorageFit
	for _, fit := range storageFits {
		if name := strings.ToLower(fit.Species); name == want || strings.HasPrefix(name, want+" ") {
			found = append(found, fit)
		}
	}
	return found
}

// Caution says why the fit must not be used to warn that a lot is running down; "" where
// nothing speaks against it. Two fits are doubted by name. Beyond them, a fit is doubted
// when drier or cooler seed does not keep longer by it, or when common storage (10 %
// moisture, 20 °C) comes out at under a day or over a thousand years.
func (f StorageFit) Caution() string {
	switch {
	case strings.HasPrefix(f.Species, "Elytrigia elongata"):
		return "predicts a life of many years, where field advice for tall wheatgrass is to sow no seed over 2 years old"
	case strings.HasPrefix(f.Species, "Chenopodium quinoa") && f.Longevity.KE < 3:
		return "differs six-fold from the other fit for quinoa, perhaps by its unit of time"
	}
	const shortestDays, longestDays = 1, 365_000
	common := f.Longevity.SigmaDays(10, 20)
	switch {
	case common < shortestDays || common > longestDays:
		return "gives no believable length of life at 10 % moisture and 20 °C"
	case f.Longevity.SigmaDays(5, 20) <= 1.01*common:
		return "says that drier seed keeps no longer"
	case f.Longevity.SigmaDays(10, 5) <= 1.01*common:
		return "says that cooler seed keeps no longer"
	}
	return ""
}
