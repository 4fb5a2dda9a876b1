package bill

import "testing"

func TestHowPapersStandIsSaidInWords(t *testing.T) {
	papers := []Paper{
		{ID: 1, Kind: Quote, UntilOn: "2026-08-01"}, {ID: 2, Kind: Quote, UntilOn: "2026-07-19"}, {ID: 3, Kind: Quote, UntilOn: "2026-07-20"},
		{ID: 4, Kind: Quote}, {ID: 5, Kind: Estimate, UntilOn: "2026-01-01"}, {ID: 6, Kind: Variation, UntilOn: "2026-07-01"},
		{ID: 7, Kind: Invoice, UntilOn: "2026-07-19", Total: 100_00}, {ID: 8, Kind: Invoice, UntilOn: "2026-07-20", Total: 100_00},
		{ID: 9, Kind: Invoice, UntilOn: "2026-07-01", Total: 100_00}, {ID: 10, Kind: Invoice, Total: 100_00},
		{ID: 11, Kind: Invoice, Total: 50_00}, {ID: 12, Kind: Adjustment, AnswersID: 11, AnswersNumber: "T2026-0005", Total: -50_00},
		{ID: 13, Kind: Invoice, UntilOn: "2026-07-01", Total: 100_00},
	}
	account := Account{Papers: papers, Payments: []Payment{
		{Amount: 100_00, Placings: []Placing{{PaperID: 10, Amount: 100_00}}},
		{Amount: 140_00, Placings: []Placing{{PaperID: 8, Amount: 40_00}}},
		{Amount: 110_00, Placings: []Placing{{PaperID: 13, Amount: 110_00}}},
	}}
	offers := []OfferState{{ID: 1, Agreed: true, Replaced: true}, {ID: 2}, {ID: 3}, {ID: 4, Replaced: true}, {ID: 5}, {ID: 6, Declined: true}}
	said := Stands(papers, offers, account.Bills(), "2026-07-20")
	for id, want := range map[int64]string{
		1: "agreed", 2: "ran out", 3: "open", 4: "replaced by a later revision", 5: "binds nobody", 6: "declined",
		7: "100.00 past due, 1 day", 8: "60.00 still open", 9: "100.00 past due, 19 days", 10: "paid",
		12: "of T2026-0005", 13: "10.00 paid too much",
	} {
		if said[id] != want {
			t.Errorf("paper %d stands as %q, want %q", id, said[id], want)
		}
	}
	if settled := Stands(papers, nil, nil, "2026-07-20"); settled[11] != "nothing left to pay" || settled[9] != "paid" {
		t.Errorf("what is settled stands as %q and %q", settled[11], settled[9])
	}
}
