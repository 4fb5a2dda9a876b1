package job

import (
	"testing"
	"time"

	"rowtally/internal/bill"
)

func TestWhatTheFarmerMaySay(t *testing.T) {
	quoted := sceneOf(t, 24.8).quoted(t, 1, "2026-07-01")
	declined := quoted
	declined.Job.DeclinedOn = "2026-07-05"
	revised := quoted.agreed(1, "2026-07-03").quoted(t, 2, "2026-07-05")
	for _, c := range []struct {
		what   string
		facts  Facts
		canSay bool
		whyNot string
		yes    bool
	}{
		{"no quote", sceneOf(t, 24.8), false, "", false},
		{"a quote", quoted, true, "", false},
		{"a yes", quoted.agreed(1, "2026-07-03"), false, "", true},
		{"a revision after the yes", revised, true, "", false},
		{"declined", declined, false, "The contractor has declined this job.", false},
	} {
		v := ViewOf(c.facts)
		if v.CanSay != c.canSay || v.WhyNot != c.whyNot || (v.Yes != nil) != c.yes {
			t.Errorf("%s: may say yes %v, %q, said %v; want %v, %q, %v", c.what, v.CanSay, v.WhyNot, v.Yes != nil, c.canSay, c.whyNot, c.yes)
		}
	}
	if v := ViewOf(revised); v.Quote.ID != 2 {
		t.Errorf("the farmer reads quote %d, want the newest", v.Quote.ID)
	}
}

// 24.80 row-km were billed by the plan, and the log loaded since shows 24.00.
func TestTheFarmerIsToldWhereBillAndLogPart(t *testing.T) {
	f := sceneOf(t, 24.8).quoted(t, 1, "2026-07-01").agreed(1, "2026-07-03").logged(24.8)
	invoice, err := InvoiceDraft(f)
	if err != nil {
		t.Fatal(err)
	}
	invoice.ID, invoice.Number = 2, "T2026-0001"
	f.Papers = append(f.Papers, invoice)
	if v := ViewOf(f); v.Difference != "" {
		t.Errorf("bill and log agree, and the page says %q", v.Difference)
	}
	f = f.logged(24.0)
	want := "T2026-0001 billed 24.80 row-km, and the log loaded since shows 24.00."
	if v := ViewOf(f); v.Difference != want || v.Invoice == nil || v.Map == nil {
		t.Errorf("the page says %q, want %q", v.Difference, want)
	}
	owed := "An adjustment note is owed: the log shows 24.00 of 24.80 row-km billed."
	if c := ChainOf(f); len(c.Trouble) != 1 || c.Trouble[0] != owed {
		t.Errorf("the contractor's page says %q", c.Trouble)
	}
	f.Papers[1].RowM = 0 // a bill without rows rests on no log
	if v := ViewOf(f); v.Difference != "" {
		t.Errorf("without billed rows the page says %q", v.Difference)
	}
}

func TestTheFarmerReadsTheLotsOfTheRecipe(t *testing.T) {
	v := ViewOf(sceneOf(t, 24.8).quoted(t, 1, "2026-07-01"))
	if len(v.Lots) != 2 || v.Lots[0].Lot.Code != "D26-01" || v.Lots[1].Germination.GerminationPercent != 51 {
		t.Errorf("the lots are %+v", v.Lots)
	}
}

// 23:00 on 31 December in UTC is the next morning in Adelaide.
func TestMomentsArePrintedInTheBusinessesZone(t *testing.T) {
	moment := time.Date(2026, 12, 31, 23, 0, 0, 0, time.UTC)
	adelaide, err := time.LoadLocation("Australia/Adelaide")
	if err != nil {
		t.Fatal(err)
	}
	f := Facts{Acceptances: []bill.Acceptance{{AcceptedAt: moment}}, Logs: []Log{{LoadedAt: moment}}}
	f.InZone(adelaide)
	if yes, log := f.Acceptances[0].AcceptedAt.Format(time.DateOnly), f.Logs[0].LoadedAt.Format(time.DateOnly); yes != "2027-01-01" || log != yes {
		t.Errorf("%s and %s, want the first day of 2027", yes, log)
	}
}
