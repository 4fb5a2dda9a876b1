package job

import (
	"slices"
	"strings"
	"testing"

	"rowtally/internal/ground"
	"rowtally/internal/machine"
)

func TestAVisitSheetStatesTheTermsAsAgreedWhateverTheyBecame(t *testing.T) {
	f := sceneOf(t, 34.9)
	f.Terms = UsualTerms()
	s := VisitSheetOf(f)
	if len(s.Terms) != 2 || s.Terms[0].Text != UsualTerms().Access || s.TermsOf != "as they stand, not agreed yet" {
		t.Errorf("before a yes: %+v, %s", s.Terms, s.TermsOf)
	}
	f = f.quoted(t, 1, "2026-06-01").agreed(1, "2026-06-11")
	f.Terms.Access, f.Terms.CleanDown = "Something else.", ""
	s = VisitSheetOf(f)
	if len(s.Terms) != 2 || s.Terms[0].Text != UsualTerms().Access || s.Terms[1].Text != UsualTerms().CleanDown || s.TermsOf != "as agreed with Q2026-0001 on 11 Jun 2026" {
		t.Errorf("after the yes: %+v, %s", s.Terms, s.TermsOf)
	}
}

func TestAVisitSheetNamesTheJobsMachinesFirstAndLeavesLines(t *testing.T) {
	f := sceneOf(t, 34.9)
	if plant := VisitSheetOf(f).Plant; !slices.Equal(plant, make([]string, visitPlant)) {
		t.Errorf("of an empty yard: %q", plant)
	}
	f.Yard.Machines = []machine.Machine{{ID: 1, Name: "truck"}, {ID: 2, Name: "tractor"}, {ID: 3, Name: "seeder", PulledByID: 2}, {ID: 4, Name: "drill"}}
	f.Sower = &f.Yard.Machines[2]
	f.DaySheets = []machine.DaySheet{{MachineID: 2}}
	if plant := VisitSheetOf(f).Plant; !slices.Equal(plant, []string{"tractor", "seeder", "truck", "", ""}) {
		t.Errorf("with a sower: %q", plant)
	}
	f.DaySheets = []machine.DaySheet{{MachineID: 1}, {MachineID: 4}}
	if plant := VisitSheetOf(f).Plant; !slices.Equal(plant, []string{"tractor", "seeder", "truck", "drill", "", ""}) {
		t.Errorf("with all at work: %q", plant)
	}
}

func TestAVisitSheetTellsTheLastStandingReadingOfEachKind(t *testing.T) {
	f := sceneOf(t, 34.9)
	f.Readings = []ground.Reading{
		{Kind: ground.WinterWatertable, Value: 0.6, Unit: ground.Metres, TakenOn: "2025-08"},
		{Kind: ground.ECe, Value: 9.4, Unit: ground.DeciSiemens, FromCM: 25, ToCM: 50, TakenOn: "2026-03-04"},
		{Kind: ground.ECe, Value: 7, Unit: ground.DeciSiemens, FromCM: 25, ToCM: 50, TakenOn: "2025-03"},
		{Kind: ground.ECe, Value: 40, Unit: ground.DeciSiemens, FromCM: 25, ToCM: 50, TakenOn: "2026-06", WithdrawnOn: "2026-06-20"},
	}
	if known, want := VisitSheetOf(f).Known, "ECe 9.4 dS/m at 25–50 cm, 4 Mar 2026; winter watertable 0.6 m, Aug 2025"; known != want {
		t.Errorf("known is %q, not %q", known, want)
	}
}

func TestAVisitSheetAsksForMoundsOnlyWhereRowsAreSown(t *testing.T) {
	f := sceneOf(t, 34.9)
	if holds := strings.Join(VisitSheetOf(f).Holds, "; "); !strings.Contains(holds, "mounds settled") {
		t.Errorf("with rows: %s", holds)
	}
	f.Rates, f.Layout, f.Recipe = nil, nil, nil
	f.Rates = append(f.Rates, rate("Understorey", "ha", "12", "90"))
	if !f.Rowless() {
		t.Fatal("the job has rows still")
	}
	if holds := strings.Join(VisitSheetOf(f).Holds, "; "); strings.Contains(holds, "mounds") {
		t.Errorf("without rows: %s", holds)
	}
}

func TestTheGroundLinkLeadsToTheVisitSheetWithAndWithoutABoundary(t *testing.T) {
	f := sceneOf(t, 34.9)
	for _, boundary := range []string{f.Paddock.Boundary, ""} {
		f.Paddock.Boundary = boundary
		link := ChainOf(f).Links[0]
		if !slices.Contains(link.Doings, Next{"Visit sheet", "/jobs/3/visit.pdf"}) || link.Doings[0].Label == "Visit sheet" {
			t.Errorf("the ground leads to %+v", link.Doings)
		}
	}
}
