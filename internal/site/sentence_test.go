package site

import "testing"

func TestSentenceKeepsTheNameOfAFile(t *testing.T) {
	for given, want := range map[string]string{
		"":                             "",
		"the ring is open":             "The ring is open.",
		"purity is 140 %.":             "Purity is 140 %.",
		"énergie":                      "Énergie.",
		"swale.gpx: the log is empty":  "swale.gpx: the log is empty.",
		"swale.kml does not hold KML":  "swale.kml does not hold KML.",
		"spacing: 3.5 m is too little": "Spacing: 3.5 m is too little.",
	} {
		if got := sentence(given); got != want {
			t.Errorf("sentence(%q) is %q, want %q", given, got, want)
		}
	}
}
