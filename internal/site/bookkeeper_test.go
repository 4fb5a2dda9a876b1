package site

import (
	"encoding/csv"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"
)

func TestTheBookkeepersFilesHoldNumbersAsNumbers(t *testing.T) {
	w, _ := demoTown(t)
	w.contractor.post(lagoon+"/adjustment", "act", "issue", "reason", "The log shows 24.00 row-km.",
		"quantity_0", "1", "price_0", "380.00", "quantity_1", "164", "price_1", "2.90", "quantity_2", "24.00", "price_2", "105.00",
		"quantity_3", "24.00", "price_3", "22.7248", "quantity_4", "24.00", "price_4", "9.30", "quantity_5", "1", "price_5", "165.00")
	w.contractor.get("/accounts/bookkeeper").mustShow(t, 200, "sales.csv", "stock-value.xlsx")
	w.contractor.get("/accounts/bookkeeper?from=2026-07-02&to=2026-07-01").mustRefuse(t, "to", "begin on 2 Jul 2026")
	for path, want := range map[string]string{
		"sales":       "2026-07-20,A2026-0001,adjustment note,T2026-0001,Brackwater Flat,Lagoon,2026,AUD,-109.62,-10.96,-120.58,",
		"tax-accrual": "2026-07,-120.58,-10.96,-109.62",
		"tax-cash":    "2025-09,",
		"payments":    "2025-09-19,Brackwater Flat,payment,transfer,T2025-0001-",
		"stock-value": "seed lot,D26-02,Atriplex amnicola,38.00",
	} {
		p := w.contractor.get("/accounts/bookkeeper/" + path + ".csv?from=2025-07-01&to=2026-07-20")
		p.mustShow(t, 200, want)
		if _, err := csv.NewReader(strings.NewReader(p.text)).ReadAll(); err != nil {
			t.Errorf("%s: %v", path, err)
		}
	}
	book, err := excelize.OpenReader(strings.NewReader(w.contractor.get("/accounts/bookkeeper/sales.xlsx?from=2026-07-01&to=2026-07-20").text))
	if err != nil {
		t.Fatal(err)
	}
	kind, err := book.GetCellType("Sheet1", "K2")
	value, _ := book.GetCellValue("Sheet1", "K2")
	if err != nil || kind != excelize.CellTypeUnset && kind != excelize.CellTypeNumber || value != "-120.58" {
		t.Errorf("the total is %q, of type %v (%v)", value, kind, err)
	}
	for _, bad := range []string{"sales.pdf", "nothing.csv", "sales.csv?from=never"} {
		w.contractor.get("/accounts/bookkeeper/"+bad).mustShow(t, 404)
	}
}
