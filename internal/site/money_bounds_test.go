package site

import (
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"
)

// Money is kept in hundredths, so a currency without them, or with thousandths, is refused
// (minor units as ISO 4217 lists them; from memory), and what was kept stays.
func TestACurrencyThatHasNoHundredthsIsRefused(t *testing.T) {
	w := newTown(t)
	for code, says := range map[string]string{"JPY": "counted in whole units", "KRW": "counted in whole units", "CLP": "counted in whole units",
		"KWD": "other parts than hundredths", "BHD": "other parts than hundredths", "TND": "other parts than hundredths", "XYZ": "is not a currency", "": "three letters"} {
		w.contractor.post("/business", with(beginning, "currency", code)...).mustRefuse(t, "currency", says)
	}
	if b, err := w.store.Business(t.Context()); err != nil || b.Currency != "AUD" {
		t.Errorf("kept %s, %v", b.Currency, err)
	}
	w.contractor.post("/business", with(beginning, "currency", "nzd")...).mustShow(t, 303)
	if b, err := w.store.Business(t.Context()); err != nil || b.Currency != "NZD" {
		t.Errorf("kept %s, %v", b.Currency, err)
	}
}

// Hours, kilometres and rates that nobody has are refused beside their fields or at the head
// of the form, and nothing is kept.
func TestAbsurdCostsAreRefused(t *testing.T) {
	w := agreed(t)
	for field, typed := range map[string]string{"hand_h": "99999999999", "float_km": "1e9", "price_0": "10000000000", "billed_0": "-1", "resow_percent": "101"} {
		if p := w.contractor.post("/jobs/1/costs", with(costingForm, field, typed)...); p.status != 422 {
			t.Errorf("%s of %s is answered %d", field, typed, p.status)
		}
	}
	w.contractor.post("/business/costs", "labour_per_h", "1000000000", "float_per_km", "2", "overhead_percent", "0", "overhead_per_row_km", "0")
	if p := w.contractor.get("/jobs/1/cost"); p.status != 200 && p.status != 409 {
		t.Errorf("with a rate beyond all sense the cost is answered %d", p.status)
	}
	if c := w.facts(t, 1).Costs.Costing; c != nil {
		t.Errorf("kept %+v", c)
	}
}

func TestADaySheetBeforeItsJobIsRefused(t *testing.T) {
	w := agreed(t)
	asked := w.facts(t, 1).Job.AskedOn
	w.operator.post("/truck/1/day", with(dayForm, "day", string(asked.Plus(-1)))...).mustRefuse(t, "day", "before the farmer asked for this job on "+asked.String())
	if sheets := w.facts(t, 1).DaySheets; len(sheets) != 0 {
		t.Errorf("kept %+v", sheets)
	}
	w.operator.post("/truck/1/day", with(dayForm, "day", string(asked))...).mustLead(t, "/truck/1?done=day")
}

// A farm of 200 characters goes through to invoice, account, statement, reminder and UBL.
func TestALongFarmNameOnEveryPageOfMoney(t *testing.T) {
	w, _ := billedTown(t)
	name := strings.Repeat("Long ", 39) + "Name!"
	w.contractor.post("/farms/1/edit", with(farmForm, "name", name)...).mustLead(t, "/farms/1?done=kept")
	for _, path := range []string{"/accounts", "/farms/1/account", "/farms/1/payment", "/farms/1/statement?from=2026-01-01&to=2026-07-20", "/accounts/season?season=2026"} {
		w.contractor.get(path).mustShow(t, 200, name)
	}
	if pdf := w.contractor.get("/farms/1/statement.pdf?from=2026-01-01&to=2026-07-20"); pdf.status != 200 || !strings.HasPrefix(pdf.text, "%PDF-") {
		t.Errorf("the statement's PDF is answered %d", pdf.status)
	}
	w.contractor.get("/accounts/bookkeeper/sales.csv?from=2026-01-01&to=2026-07-20").mustShow(t, 200, "T2026-0001")
}

// In every file for the bookkeeper whatever is an amount or a measure is a number to a
// spreadsheet, in every row.
func TestEveryAmountOfTheBooksIsANumber(t *testing.T) {
	w, _ := demoTown(t)
	for file, columns := range map[string]int{"sales": 3, "tax-accrual": 3, "tax-cash": 3, "payments": 3, "stock-value": 3, "job-results": 16} {
		book, err := excelize.OpenReader(strings.NewReader(w.contractor.get("/accounts/bookkeeper/" + file + ".xlsx?from=2025-07-01&to=2026-07-20").text))
		if err != nil {
			t.Fatalf("%s: %v", file, err)
		}
		rows, err := book.GetRows("Sheet1")
		if err != nil || len(rows) < 2 {
			t.Fatalf("%s: %d rows, %v", file, len(rows), err)
		}
		numbers := map[int]bool{}
		for i := range rows[1:] {
			for c := range rows[0] {
				cell, err := excelize.CoordinatesToCellName(c+1, i+2)
				if err != nil {
					t.Fatal(err)
				}
				value, _ := book.GetCellValue("Sheet1", cell)
				kind, err := book.GetCellType("Sheet1", cell)
				if err != nil {
					t.Fatal(err)
				}
				if value != "" && (kind == excelize.CellTypeUnset || kind == excelize.CellTypeNumber) {
					numbers[c] = true
				} else if value != "" && numbers[c] {
					t.Errorf("%s %s: %q of %s is a text, and a number above", file, cell, value, rows[0][c])
				}
			}
		}
		if len(numbers) != columns {
			t.Errorf("%s: %d columns hold numbers, want %d (%v of %v)", file, len(numbers), columns, numbers, rows[0])
		}
	}
}
