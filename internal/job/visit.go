package job

import (
	"fmt"
	"slices"
	"strings"

	"rowtally/internal/bill"
	"rowtally/internal/ground"
	"rowtally/internal/machine"
	"rowtally/internal/unit"
)

// namedPlant is up to how many names others of the yard are added to a job's own machines, and visitPlant how many lines it has for machines and vehicles at least. Our own
// choice: the sheet stays one page.
const namedPlant, visitPlant = 3, 5

// The headings of the terms that a quote and a visit sheet both state.
const (
	seesTo    = "You see to"
	cleanDown = "Clean-down"
)

// VisitSheet is the printed sheet of one visit to a job's paddock, with what is known filled
// in and lines for the rest: who and what came in and left clean, what was looked at, and the
// hold-points before the float leaves the yard.
type VisitSheet struct {
	Business string
	Code     string
	Name     string
	Farm     string
	Paddock  string
	Season   int
	Day      unit.Date // on which it was printed
	Window   string    // in words; "" while none is told
	GrossM2  float64   // of the paddock; 0 while no boundary is read
	Plant    []string  // machines by name; "" for a line to be filled in
	Terms    []bill.Particular
	TermsOf  string // where the terms come from
	Known    string // the last standing readings of soil and water; "" where there are none
	Holds    []string
	Cautions []string
}

// VisitSheetOf lays out the sheet of a visit to the job as it stands now.
func VisitSheetOf(f Facts) VisitSheet {
	s := VisitSheet{Business: f.Business.Name, Code: f.Job.Code, Name: f.Job.Name, Farm: f.Farm.Name, Paddock: f.Paddock.Name,
		Season: f.Job.Season, Day: f.Today, Window: f.Job.windowSays(), GrossM2: f.GrossM2(), Plant: f.visitPlant(), Known: lastRead(f.Readings),
		Holds: f.holdPoints(), Cautions: slices.Clone(visitCautions)}
	s.Terms, s.TermsOf = f.visitTerms()
	return s
}

// visitPlant names the machines of the job, then others of the yard while there are few, and
// leaves two lines at least for what else drives in.
func (f Facts) visitPlant() (names []string) {
	for _, m := range f.jobMachines() {
		if !slices.Contains(names, m.Name) {
			names = append(names, m.Name)
		}
	}
	for _, m := range f.Yard.Machines {
		if len(names) < namedPlant && !slices.Contains(names, m.Name) {
			names = append(names, m.Name)
		}
	}
	return append(names, make([]string, max(2, visitPlant-len(names)))...)
}

// jobMachines are what sows the job with what pulls it, and whatever has a day sheet on it.
func (f Facts) jobMachines() (all []machine.Machine) {
	if f.Sower != nil {
		all = f.Yard.Team(*f.Sower)
	}
	for _, sheet := range f.DaySheets {
		if m, ok := f.Yard.Machine(sheet.MachineID); ok {
			all = append(all, m)
		}
	}
	return all
}

// visitTerms are what was asked of the farm and said of clean-down: as agreed where there is
// a yes, else as the terms stand.
func (f Facts) visitTerms() (list []bill.Particular, of string) {
	from := []bill.Particular{{Heading: seesTo, Text: f.Terms.Access}, {Heading: cleanDown, Text: f.Terms.CleanDown}}
	of = "as they stand, not agreed yet"
	if quote, yes, ok := f.Agreed(); ok {
		from, of = quote.Particulars, fmt.Sprintf("as agreed with %s on %s", quote.Number, unit.DateOf(yes.AcceptedAt))
	}
	for _, one := range from {
		if (one.Heading == seesTo || one.Heading == cleanDown) && one.Text != "" {
			list = append(list, one)
		}
	}
	return list, of
}

// lastRead is the last standing reading of each kind, with depth and month.
func lastRead(readings []ground.Reading) string {
	var says []string
	for _, kind := range ground.ReadingKinds {
		var last *ground.Reading
		for i, r := range readings {
			if r.Kind == kind && r.Standing() && (last == nil || r.TakenOn >= last.TakenOn) {
				last = &readings[i]
			}
		}
		if last != nil {
			says = append(says, last.String())
		}
	}
	return strings.Join(says, "; ")
}

// holdPoints are what must be so before the float leaves the yard. Common practice, no source.
func (f Facts) holdPoints() []string {
	list := []string{"knockdown done", "fences hold, stock out"}
	if !f.Rowless() {
		list = append(list, "mounds settled")
	}
	return list
}

// visitCautions stand where somebody drives onto a farm.
var visitCautions = []string{
	"Nobody alone without a check-in: agree who waits for word, and by when. Stay off wet bog and soft drain banks.",
	"Buried services: have them located and shown before any digging, mounding or augering.",
	"Drains, outlets and water: change nothing without the authority's word.",
	"Declared weeds: note the place, carry none out, and tell the farmer, who knows whom to report to.",
	"Native seed is picked or moved only under its permit.",
	"Labels, local codes and licensed practice rule over this sheet.",
}
