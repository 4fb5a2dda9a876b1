package job

import (
	"strings"
	"testing"

	"rowtally/internal/bill"
	"rowtally/internal/money"
)

// seasonOf is three jobs of two farms: one half sown and billed with an adjustment, one sown
// a month later and not billed, one only asked for.
func seasonOf(t *testing.T) []Facts {
	first := halfSown(t)
	first.Papers = []bill.Paper{{ID: 1, Kind: bill.Quote, NetTotal: 5000_00}, {ID: 2, Kind: bill.Invoice, IssuedOn: "2026-07-18", NetTotal: 2000_00}, {ID: 3, Kind: bill.Adjustment, AnswersID: 2, IssuedOn: "2026-08-01", NetTotal: -100_00}}
	second := halfSown(t)
	second.Job.ID, second.Job.Code, second.Farm = 4, "J-04", Farm{ID: 2, Name: "Other Farm"}
	second.DaySheets[0].Day = "2026-06-30"
	third := costed(t) // with hours and a way planned, and nothing done
	third.Job.Code = "J-05"
	return []Facts{first, second, third}
}

func TestASeasonAddsItsJobsUp(t *testing.T) {
	all := seasonOf(t)
	s, err := SeasonCostOf(2026, all)
	if err != nil {
		t.Fatal(err)
	}
	if len(s.Jobs) != 2 || s.Jobs[0].Net != 1900_00 || s.Jobs[1].Net != 0 {
		t.Fatalf("%d jobs: %+v", len(s.Jobs), s.Jobs)
	}
	spent, err := SpentOn(all[0])
	if err != nil || s.Jobs[0].Cost != spent.Total || s.Jobs[0].Left != 1900_00-spent.Total || s.Jobs[1].Left != 0 || s.Sum.Left != s.Jobs[0].Left || s.Sum.Waiting != s.Jobs[1].Cost {
		t.Errorf("the season has %s for what cost %s alone, %v", s.Jobs[0].Cost, spent.Total, err)
	}
	for what, parts := range map[string][]Result{"farms": s.Farms, "months": s.Months} {
		var sum Result
		for _, p := range parts {
			sum.add(p)
		}
		sum.Name = s.Sum.Name
		if sum != s.Sum || len(parts) != 2 {
			t.Errorf("the %s add up to %+v, the season is %+v", what, sum, s.Sum)
		}
	}
	if s.Months[0].MonthSaid() != "Jun 2026" || s.Months[1].MonthSaid() != "Jul 2026" {
		t.Errorf("months %+v", s.Months)
	}
	// each job: 6 h at 12.25 and 44.00 and 66 L at 1.50
	m := s.Machines[0]
	if len(s.Machines) != 1 || m.Cost != 2*(73_50+264_00+99_00) || m.RunMin != 720 || m.FuelL.Compare(money.Whole(132)) != 0 || m.HourShown() != "72.75" {
		t.Errorf("the tractor: %+v", m)
	}
}

func TestResultsLeaveAsNumbers(t *testing.T) {
	s, err := SeasonCostOf(2026, seasonOf(t))
	if err != nil {
		t.Fatal(err)
	}
	table := ResultsTable([]SeasonCost{s})
	csv, err := table.CSV()
	if lines := strings.Split(strings.TrimSpace(string(csv)), "\r\n"); err != nil || len(lines) != 3 || !strings.HasPrefix(lines[1], "2026,J-03,Example Farm,Bore,2026-07,12.00,6.00,240.00,") {
		t.Errorf("%s, %v", csv, err)
	}
	for _, row := range table.Rows {
		if len(row) != len(table.Heads) || row[len(row)-4].Number == nil {
			t.Errorf("%d cells under %d heads: %v", len(row), len(table.Heads), row)
		}
	}
}
