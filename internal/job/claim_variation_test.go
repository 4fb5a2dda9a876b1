package job

import (
	"testing"

	"pgregory.net/rapid"

	"rowtally/internal/bill"
	"rowtally/internal/fault"
	"rowtally/internal/money"
)

// varied is the scene with its quote and a variation agreed: 3 h at 210.00, and 100 driven km
// taken back at 2.90.
func varied(t testing.TB) Facts {
	t.Helper()
	f := sceneOf(t, 24.8).quoted(t, 1, today).agreed(1, today)
	p, err := VariationDraft(f, "Stumps nobody knew of.", []bill.Rate{rate("Stumps pushed aside", "h", "3", "210.00"), rate("Float travels less", "driven km", "-100", "2.90")})
	if err != nil {
		t.Fatal(err)
	}
	p.ID, p.Number = 2, "V2026-0001"
	f.Papers = append(f.Papers[:len(f.Papers):len(f.Papers)], p)
	return f.agreed(2, today)
}

// doneOfAll is a share of every line of a claim, those of variations among them.
func doneOfAll(f Facts, share string) (out []money.Factor) {
	for _, l := range f.ClaimLines() {
		out = append(out, l.Quantity.Times(money.MustFactor(share)))
	}
	return out
}

// By hand: 1 of 3 h at 210.00 and 50 of the 100 km taken back: 210.00 and −145.00. At the end
// 630.00 and −290.00 stand, and the claim is taken off: the two come to 4 309.20 + 340.00.
func TestAVariationIsClaimedInPart(t *testing.T) {
	f := varied(t)
	done := doneOfAll(f, "0")
	done[6], done[7] = money.Whole(1), money.Whole(-50)
	claim, err := ClaimDraft(f.logged(10), done)
	if err != nil {
		t.Fatal(err)
	}
	if got := nets(claim); got[6] != "210.00" || got[7] != "−145.00" || claim.Lines[6].Description != "V2026-0001: Stumps pushed aside" || len(claim.Overbilled([]bill.Paper{f.Papers[1]})) != 0 {
		t.Errorf("claimed %v", got)
	}
	rest, err := InvoiceDraft(f.issuedNow(claim).logged(24))
	if err != nil {
		t.Fatal(err)
	}
	if sum := claim.NetTotal + rest.NetTotal; sum != 4309_20+340_00 || rest.Lines[6].Net != 630_00 || len(rest.Overbilled([]bill.Paper{f.Papers[1]})) != 0 {
		t.Errorf("the two come to %s; the rest is %v", sum, nets(rest))
	}
}

func TestMoreOfAVariationThanAgreedIsRefused(t *testing.T) {
	f := varied(t).logged(10)
	for field, spoil := range map[string]func([]money.Factor){
		"done[6]": func(d []money.Factor) { d[6] = money.MustFactor("3.01") },
		"done[7]": func(d []money.Factor) { d[7] = money.MustFactor("-100.5") },
	} {
		done := doneOfAll(f, "1")
		spoil(done)
		if _, err := ClaimDraft(f, done); fault.Fields(err)[field] == "" {
			t.Errorf("%s: %v", field, err)
		}
	}
	for field, wrongWay := range map[string]int{"done[6]": 6, "done[7]": 7} {
		done := doneOfAll(f, "1")
		done[wrongWay] = money.Whole(0).Minus(done[wrongWay])
		if _, err := ClaimDraft(f, done); fault.Fields(err)[field] == "" {
			t.Errorf("%s the other way: %v", field, err)
		}
	}
	if _, err := ClaimDraft(f, doneOfAll(f, "1")[:6]); fault.Fields(err)["done[6]"] == "" {
		t.Errorf("a variation of which nothing is said: %v", err)
	}
}

// A variation that has no yes is in no claim.
func TestAVariationWithoutAYesIsNotClaimed(t *testing.T) {
	f := varied(t)
	f.Acceptances = f.Acceptances[:1]
	if lines := f.ClaimLines(); len(lines) != 6 {
		t.Errorf("claimed of %d lines", len(lines))
	}
}

// Whatever is claimed of a variation in between, all invoices come to what one would.
func TestClaimsOfAVariationBillItOnce(t *testing.T) {
	begun := varied(t)
	rapid.Check(t, func(t *rapid.T) {
		f, sum, km := begun, money.Cents(0), 0.0
		for range rapid.IntRange(0, 3).Draw(t, "claims") {
			km += rapid.Float64Range(0, 8).Draw(t, "km")
			done := doneOfAll(f, "0")
			for i, l := range f.ClaimLines() {
				done[i] = l.Quantity.Times(money.FactorOf(rapid.Float64Range(0, 1).Draw(t, "share"), 3))
			}
			claim, err := ClaimDraft(f.logged(km), done)
			if fault.KindOf(err) == fault.Clash {
				continue
			}
			if err != nil || claim.AddsUp() != nil || len(claim.Overbilled(f.Papers[1:2])) != 0 {
				t.Fatalf("%v, %v", err, claim.AddsUp())
			}
			f, sum = f.issuedNow(claim), sum+claim.NetTotal
		}
		rest, err := InvoiceDraft(f.logged(24))
		if fault.KindOf(err) == fault.Clash {
			return
		}
		if err != nil || sum+rest.NetTotal != 4309_20+340_00 {
			t.Fatalf("%v: %s in all", err, sum+rest.NetTotal)
		}
	})
}

// What no act would write is seen: a line billed twice, beyond its quantity, at another price.
func TestAnOverbilledVariationIsFound(t *testing.T) {
	f := varied(t)
	invoice, err := InvoiceDraft(f.logged(24))
	if err != nil {
		t.Fatal(err)
	}
	for what, spoil := range map[string]func(*bill.Paper){
		"twice":         func(p *bill.Paper) { p.Lines = append(p.Lines, p.Lines[6]) },
		"more":          func(p *bill.Paper) { p.Lines[6].Quantity = money.Whole(4) },
		"another price": func(p *bill.Paper) { p.Lines[6].UnitPrice = money.Whole(211) },
		"more back":     func(p *bill.Paper) { p.Lines[7].Quantity = money.Whole(-101) },
	} {
		spoiled := invoice
		spoiled.Lines = append([]bill.PaperLine{}, invoice.Lines...)
		spoil(&spoiled)
		if got := spoiled.Overbilled(f.Papers[1:2]); len(got) != 1 || got[0] != "V2026-0001" {
			t.Errorf("%s: %v", what, got)
		}
	}
}
