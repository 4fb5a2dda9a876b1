package site

import (
	"html"
	"regexp"
	"strings"
	"testing"
)

var (
	inputTag    = regexp.MustCompile(`<input[^>]*>`)
	selectTag   = regexp.MustCompile(`(?s)<select[^>]*name="([^"]+)".*?</select>`)
	chosen      = regexp.MustCompile(`<option value="([^"]*)" selected`)
	attribute   = regexp.MustCompile(`(name|type|value)="([^"]*)"`)
	learnButton = regexp.MustCompile(`name="learn" value="([^"]*)">Take ([0-9.]+) in 100`)
)

// filledIn is what a browser would send of a page's form as it stands.
func filledIn(text string) (pairs []string) {
	for _, tag := range inputTag.FindAllString(text, -1) {
		is := map[string]string{}
		for _, a := range attribute.FindAllStringSubmatch(tag, -1) {
			is[a[1]] = html.UnescapeString(a[2])
		}
		if is["type"] == "checkbox" {
			if !strings.Contains(tag, " checked") {
				continue
			}
			is["value"] = "on"
		}
		if is["name"] != "csrf" && is["name"] != "" {
			pairs = append(pairs, is["name"], is["value"])
		}
	}
	for _, s := range selectTag.FindAllStringSubmatch(text, -1) {
		if option := chosen.FindStringSubmatch(s[0]); option != nil {
			pairs = append(pairs, s[1], html.UnescapeString(option[1]))
		}
	}
	return pairs
}

// Pressing what the counts say changes the share of the species alone, and keeps where it
// came from. East Swamp, J-01, had 116 of 190 placements occupied of 30 live seeds each:
// -ln(1 - 116/190) / 30 is 3.14 in 100.
func TestTheShareLearnedFromCountsIsTakenByOnePress(t *testing.T) {
	y := newTruckYard(t)
	boss := y.session(1)
	const airstrip = int64(4)
	page := boss.get("/jobs/4/mix")
	button := learnButton.FindStringSubmatch(page.text)
	if button == nil {
		t.Fatalf("no share is offered: %s", page.mainText())
	}
	before := y.facts(t, airstrip).Recipe.Species[0]
	boss.post("/jobs/4/mix", append(filledIn(page.text), "learn", button[1])...).mustLead(t, "/jobs/4?done=kept#seed")
	after := y.facts(t, airstrip).Recipe.Species[0]
	if short(after.EmergencePercent) != button[2] || button[2] != "3.14" || after.EmergencePercent == before.EmergencePercent {
		t.Errorf("the share is %s in 100, was %s, the button says %s", short(after.EmergencePercent), short(before.EmergencePercent), button[2])
	}
	if !(after.EmergenceLowPercent < after.EmergencePercent && after.EmergencePercent < after.EmergenceHighPercent) {
		t.Errorf("it lies at %v, between %v and %v", after.EmergencePercent, after.EmergenceLowPercent, after.EmergenceHighPercent)
	}
	if !strings.Contains(after.EmergenceFrom, "J-01 24 Oct 2025") || before.EmergenceFrom != "" {
		t.Errorf("it came from %q, before from %q", after.EmergenceFrom, before.EmergenceFrom)
	}
	if after.LivePerPlacement != before.LivePerPlacement || len(after.LotIDs) != len(before.LotIDs) {
		t.Errorf("more than the share changed: %+v, was %+v", after, before)
	}
	boss.get("/jobs/4/mix").mustShow(t, 200, "Kept from counts:", "J-01 24 Oct 2025", `value="`+button[2]+`"`)
}
