package job

import (
	"encoding/json"
	"fmt"

	"rowtally/internal/bill"
	"rowtally/internal/fault"
	"rowtally/internal/unit"
)

// SownSheet is the sown record as paper and page show it. It has no number of its own: it
// is drawn from what is matched today, or, where an invoice or an adjustment note rests on
// it, as it was kept at that paper's issue. The same sheet prints as the same bytes.
type SownSheet struct {
	Issuer    bill.Party        `json:"issuer"`
	Code      string            `json:"code"`
	Name      string            `json:"name"`
	Farm      string            `json:"farm"`
	Season    int               `json:"season"`
	MatchedOn unit.Date         `json:"matched_on"` // when the logs were last matched, by the business's calendar
	For       string            `json:"for"`        // the paper that rests on it; "" for the record of today
	Map       Map               `json:"map"`
	Belts     []NumberedRow     `json:"belts"`
	Layout    string            `json:"layout"`
	Sums      []SheetSum        `json:"sums"`
	Rows      []SownRow         `json:"rows"` // without their stretches, which the map shows
	Headland  []SownLap         `json:"headland,omitempty"`
	How       []bill.Particular `json:"how"`
	Files     []SownFile        `json:"files"`
}

// SheetSum is one sum of a record: what, how much, and in which unit.
type SheetSum struct {
	What   string `json:"what"`
	Amount string `json:"amount"`
	Unit   string `json:"unit"`
}

// SownSheetOf is the sown record of a job as it stands today. It is a clash while no log is
// matched to the rows.
func SownSheetOf(f Facts) (SownSheet, error) {
	laid, err := f.Rows()
	if err != nil {
		return SownSheet{}, err
	}
	if f.Sown == nil || len(f.Sown.Rows()) == 0 {
		return SownSheet{}, fault.Conflict("No row of %s is matched to a log yet. Load the machine's log first.", f.Job.Name)
	}
	s := SownSheet{Issuer: f.draft(bill.Invoice).Issuer, Code: f.Job.Code, Name: f.Job.Name, Farm: f.Farm.Name, Season: f.Job.Season,
		MatchedOn: unit.DateOf(f.Sown.MadeAt), Map: *f.picture(&laid), Belts: laid.belts(), Layout: laid.Says(),
		Sums: f.Sown.sheetSums(), Files: f.Sown.Files(), How: f.howMeasured()}
	for _, row := range f.Sown.Rows() {
		row.Sown, row.Missed, row.Doubled = nil, nil, nil
		s.Rows = append(s.Rows, row)
	}
	for _, lap := range f.Sown.Headland() {
		lap.Sown, lap.Missed = nil, nil
		s.Headland = append(s.Headland, lap)
	}
	return s, nil
}

// sheetSums are the record's lengths of row, and apart from them what was driven.
func (s Sown) sheetSums() (sums []SheetSum) {
	for _, one := range []struct {
		what string
		m    float64
	}{
		{"planned", s.PlannedM}, {"covered", s.CoveredM}, {"missed", s.MissedM}, {"doubled", s.DoubledM},
		{"past the ends", s.OverrunM}, {"on no planned row", s.UnplannedM},
	} {
		sums = append(sums, SheetSum{one.what, km(one.m), "row-km"})
	}
	return append(sums, SheetSum{"driven while sowing", km(s.TrackM), "driven km"})
}

// howMeasured states the method, its settings and what checks it.
func (f Facts) howMeasured() []bill.Particular {
	out := []bill.Particular{{Heading: "Method and tolerances", Text: f.Sown.MeasuredHow()}}
	if summed := f.Sown.Summed(); summed != "" {
		out = append(out, bill.Particular{Heading: "Not billed", Text: summed})
	}
	for _, note := range f.Sown.Notes() {
		out = append(out, bill.Particular{Heading: "To know", Text: sentenceCase(note) + "."})
	}
	if ways, compared := f.ThreeWays(); len(ways) > 0 && compared.Verdict != "" {
		out = append(out, bill.Particular{Heading: "Checked", Text: compared.Verdict})
	}
	return out
}

// MachineSays tells what the file's machine sowed with.
func (f SownFile) MachineSays() string {
	says := unit.Counted(f.PassRows, "row")
	if f.PassRows > 1 {
		says += fmt.Sprintf(" %s m apart", unit.Plain(f.RowGapM))
	}
	says += " in a pass"
	if f.OffsetRightM != 0 {
		says += fmt.Sprintf(", their middle %s m right of the antenna", unit.Plain(f.OffsetRightM))
	}
	if f.BehindM != 0 {
		says += fmt.Sprintf(", %s m behind it", unit.Plain(f.BehindM))
	}
	return says
}

// Text is the sheet as a paper keeps it.
func (s SownSheet) Text() (string, error) {
	text, err := json.Marshal(s)
	if err != nil {
		return "", fmt.Errorf("sown record: %w", err)
	}
	return string(text), nil
}

// ReadSownSheet reads the sheet that a paper kept.
func ReadSownSheet(text string) (s SownSheet, err error) {
	if err = json.Unmarshal([]byte(text), &s); err != nil {
		err = fmt.Errorf("sown record: %w", err)
	}
	return s, err
}

// keepSheet freezes the sown record with a paper that rests on it. Where no log is matched,
// as for an invoice by the plan, there is none.
func (f Facts) keepSheet(p *bill.Paper) (err error) {
	if f.Sown == nil || len(f.Sown.Rows()) == 0 {
		return nil
	}
	sheet, err := SownSheetOf(f)
	if err != nil {
		return err
	}
	p.SownSheet, err = sheet.Text()
	return err
}
