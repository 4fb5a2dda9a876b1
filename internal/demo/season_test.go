package demo_test

import (
	"html"
	"regexp"
	"strings"
	"testing"

	"rowtally/internal/demo"
)

var (
	tag   = regexp.MustCompile(`<[^>]*>`)
	space = regexp.MustCompile(`\s+`)
)

// says fails where a page of the demo, read as a person reads it, lacks a sentence.
func (v visitor) says(path string, sentences ...string) {
	v.t.Helper()
	status, _, text := v.get(path)
	plain := strings.ReplaceAll(space.ReplaceAllString(html.UnescapeString(tag.ReplaceAllString(text, "")), " "), "\u2060", "")
	for _, sentence := range sentences {
		if !strings.Contains(plain, sentence) {
			v.t.Errorf("%s, answered %d, does not say %q: %s", path, status, sentence, plain)
		}
	}
}

// Each job of the season shows one thing that goes wrong in a season, with its figures.
func TestEachJobShowsWhatItIsThereFor(t *testing.T) {
	v := demoOf(t).enter(t, "contractor")
	v.says("/jobs/1", "J-01 · season 2025", "34.0 ha gross", "45.70 row-km", "agreed by the owner")
	v.says("/jobs/2", "J-02 · season 2026", "18.5 ha gross", "24.80 row-km", "$4,860.70 incl. GST, billed", "the log shows 24.00 of 24.80 row-km billed")
	v.says("/jobs/3", "J-03 · season 2026 · sowing", "34.90 row-km", "Bore ran out of mix at 27.10 of 34.90 row-km. The meter drops 58 mL for 45.", "13.39", "1.01")
	v.says("/jobs/4", "J-04 · season 2026 · agreed", "19.40 row-km", "V2026-0001, $346.50, waits for its yes.")
	v.says("/jobs/5", "J-05 · season 2026 · agreed", "35.00 row-km", "Lot D25-11 is on hold: failed its retest", "50.42 kg", "22.00 kg are free", "D26-01 has enough free live seed.")
	v.says("/jobs/6", "J-06 · season 2026 · looked at", "ECe 34 dS/m", "above 32 dS/m", "shallower than 0.3 m")
	v.says("/jobs/7", "J-07 · season 2026 · quoted", "22.0 ha gross", "66.0 kg of U26-01")
	v.says("/jobs/8", "J-08 · season 2026 · asked", "Single rows, alley 4 m", "Estimate E2026-0001 of 17 Jul 2026 came to $4,912.52")
}

func TestTheShedAndTheYardStandAsTheDayFindsThem(t *testing.T) {
	v := demoOf(t).enter(t, "contractor")
	v.says("/", "Monday 20 July 2026", "Bore at Three Soaks", "Gate 4 at Limestone Gutter")
	v.says("/shed", "D26-01", "41.5", "vermiculite, medium grade", "47.2")
	v.says("/shed/lots/1", "26.1", "34")
	v.says("/machines/1", "5\u2009006.8 h on the meter", "43.2 h left to service")
}

// The farmer reads what was billed by the plan beside what the log shows.
func TestTheQueriedBillReadsTheSameToTheFarmer(t *testing.T) {
	s := demoOf(t)
	for _, link := range s.town.Links {
		if link.Farm == "Brackwater Flat" {
			visitor{t: t, app: s.app}.says("/farm/"+link.Token+"/jobs/2", "4,860.70", "24.00 of 24.80 row-km covered", "You said yes to")
		}
	}
}

// The demo is made anew at every start: nobody knows its passwords but who reads them then.
func TestEveryDemoHasItsOwnPasswords(t *testing.T) {
	s := demoOf(t)
	seen := map[string]bool{}
	for _, p := range s.town.People {
		if seen[p.Password] || len(p.Password) < 12 {
			t.Errorf("%s has the password %q", p.Name, p.Password)
		}
		seen[p.Password] = true
	}
	for _, l := range s.town.Links {
		if seen[l.Token] || len(l.Token) < 30 {
			t.Errorf("%s has the link %q", l.Farm, l.Token)
		}
		seen[l.Token] = true
	}
	if now := demo.Now(); now.Format("2006-01-02") != string(demo.Day) || now.Location().String() != "Australia/Adelaide" {
		t.Errorf("the demo's moment is %s", now)
	}
}
