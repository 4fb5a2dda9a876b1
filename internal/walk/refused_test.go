package walk

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
)

// refused presses, and holds the form to coming back with a sentence beside a field and
// with what was typed: label, text, label, text …
func (b *browser) refused(press, label, want string, kept ...string) {
	b.t.Helper()
	b.press(press)
	if b.status != 422 {
		b.t.Errorf("%q was answered %d, want 422", want, b.status)
	}
	if said := figuresJoined(ask[string](b, "refusal", label)); !strings.Contains(said, want) {
		b.t.Errorf("beside “%s” stands %q, want %q", label, said, want)
	}
	if said := ask[string](b, "refusal", label); strings.Count(ask[string](b, "text"), said) != 1 {
		b.t.Errorf("%q does not stand once on the page", said)
	}
	b.keeps(kept...)
}

// keeps holds fields to what was typed into them.
func (b *browser) keeps(labelsAndTexts ...string) {
	b.t.Helper()
	for i := 0; i < len(labelsAndTexts); i += 2 {
		if got := ask[string](b, "value", labelsAndTexts[i]); got != labelsAndTexts[i+1] {
			b.t.Errorf("“%s” came back as %q, typed was %q", labelsAndTexts[i], got, labelsAndTexts[i+1])
		}
	}
}

// badBoundaries tries what is no paddock on the form that the right file goes into after.
func (w *walk) badBoundaries() {
	const large, pastedText = 50 << 20, "Boundary: or its text, pasted"
	b := w.contractor
	name := []string{"Paddock", w.paddock}
	b.fill(name...)
	for file, want := range map[string]string{
		"open.geojson":     "the ring is open: the last corner must repeat the first",
		"crossing.geojson": "The outside crosses itself near corners 1 and 3",
		"swapped.geojson":  "the two look swapped, put the longitude first",
	} {
		b.attach("Boundary file", sample(w.t, file))
		b.refused("Keep the paddock", "Boundary file", want, name...)
	}
	b.attach("Boundary file", w.largeFile(large))
	b.refused("Keep the paddock", "Boundary file", "whole-district.geojson is 50 MB, and a file of up to 10 MB is read", name...)
	pasted := strings.TrimSpace(string(readSample(w.t, "open.geojson")))
	b.typeIn(pastedText, pasted)
	b.refused("Keep the paddock", "Boundary file", "the ring is open", append(name, pastedText, pasted)...)
	b.typeIn(pastedText, "")
	b.typeIn("Paddock", "")
}

// largeFile is a boundary that would be read, but for its size.
func (w *walk) largeFile(bytes int) string {
	w.t.Helper()
	path := filepath.Join(w.t.TempDir(), "whole-district.geojson")
	content := append(readSample(w.t, "swale.geojson"), strings.Repeat(" ", bytes)...)
	if err := os.WriteFile(path, content[:bytes], 0o600); err != nil {
		w.t.Fatal(err)
	}
	return path
}

// badPurities tries purities that no lot has.
func (w *walk) badPurities(l lot) {
	b := w.contractor
	for purity, want := range map[string]string{
		"0":   "purity is 0 %, enter a figure above 0 and up to 100",
		"140": "purity is 140 %, enter a figure above 0 and up to 100",
		"":    "Enter the purity of the certificate.",
	} {
		b.typeIn("Purity", purity)
		b.refused("Keep the lot", "Purity", capital(want), "Purity", purity, "Lot code", l.code, "Weight of 1000 units", l.thousandG, "Cost of a kg, landed", l.costPerKg)
	}
	b.typeIn("Purity", l.purityPercent)
}

// badCounts tries a replicate whose counts do not add up to its seeds.
func (w *walk) badCounts() {
	b := w.contractor
	counts := []string{"normal of replicate 1", "33", "abnormal of replicate 1", "7", "hard of replicate 1", "0", "fresh of replicate 1", "4", "dead of replicate 1", "50"}
	b.fill(counts...)
	b.press("Keep the test")
	b.says("94", "100")
	if b.status != 422 {
		w.t.Errorf("counts that do not add up were answered %d", b.status)
	}
	b.keeps(append(counts, "Laboratory", "Example Seed Laboratory")...)
	for i := 0; i < len(counts); i += 2 {
		b.typeIn(counts[i], "")
	}
}

var awayKm = regexp.MustCompile(`the log lies (\d+\.\d) km from the paddock's rows`)

// badLogs tries a log of no bytes, one without fixes, and one of another paddock.
func (w *walk) badLogs() {
	b := w.contractor
	const field, offset = "Log of the machine", "Rows' middle lies right of the antenna by"
	b.typeIn(offset, "0.25")
	b.refused("Load the log", field, "Choose the log's file.", offset, "0.25")
	b.attach(field, w.keepFile("nothing"+filepath.Ext(w.logName), ""))
	b.refused("Load the log", field, "is empty", offset, "0.25")
	b.attach(field, w.keepFile("still"+filepath.Ext(w.logName), logOf(w.logName, nil)))
	b.refused("Load the log", field, "still"+filepath.Ext(w.logName)+": ", offset, "0.25")

	elsewhere := w.drive()
	const awayN, tallestM = 2500.0, 500.0
	elsewhere.offN = awayN
	b.attach(field, w.keepFile("other"+filepath.Ext(w.logName), logOf(w.logName, elsewhere.fixes())))
	b.refused("Load the log", field, "choose the log of this paddock", offset, "0.25")
	said := awayKm.FindStringSubmatch(ask[string](b, "refusal", field))
	if said == nil {
		w.t.Errorf("the refusal names no distance: %q", ask[string](b, "refusal", field))
	} else if km := amount(w.t, said[1]); km > awayN/1000 || km < (awayN-tallestM)/1000 {
		w.t.Errorf("the log was driven %.1f km away, the page says %.1f km from the rows", awayN/1000, km)
	}
	b.says("No log is loaded yet.")
	b.typeIn(offset, "0")
}

func capital(s string) string { return strings.ToUpper(s[:1]) + s[1:] }
