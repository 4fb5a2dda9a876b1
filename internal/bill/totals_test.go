package bill

import (
	"encoding/json"
	"strings"
	"testing"

	"rowtally/internal/fault"
	"rowtally/internal/money"

	"pgregory.net/rapid"
)

func line(quantity, price, category, percent string) Line {
	return Line{Quantity: money.MustFactor(quantity), UnitPrice: money.MustFactor(price), Taxed: taxed(category, percent)}
}

// Tax once on the sum of 299.90, 1,000.00 and 187.50 at 15 % is 223.11; line by line it
// would be 223.12 (worked by hand).
func TestTaxIsTakenOnceOnTheSumOfLines(t *testing.T) {
	got, err := WorkOut(TotalsIn{Lines: []Line{line("1", "299.90", "S", "15"), line("2", "500", "S", "15.0"), line("25", "7.50", "S", "15.00")}})
	if err != nil || got.TotalTax != 22311 || len(got.Tax) != 1 {
		t.Errorf("tax %s in %d rows, %v", got.TotalTax, len(got.Tax), err)
	}
}

// 7 at 12.345 is 86.415: 86.42; a charge of 1.005 and an allowance of 0.124 are rounded
// apart to 1.01 and 0.12, in all 87.31 (worked by hand). Rounded together it would be 87.30.
func TestPartsOfALineAreRoundedApart(t *testing.T) {
	l := line("7", "12.345", "S", "10")
	l.Charge, l.Allowance = money.MustFactor("1.005"), money.MustFactor("0.124")
	if net, err := l.Net(); err != nil || net != 8731 {
		t.Errorf("net %s, %v", net, err)
	}
	three := money.Whole(3)
	l.BaseQuantity = &three // 28.805: 28.81, in all 29.70
	if net, err := l.Net(); err != nil || net != 2970 {
		t.Errorf("net %s for three, %v", net, err)
	}
	half := line("1", "0.01", "S", "10") // 0.01 ÷ 2 is an exact half cent
	two := money.Whole(2)
	half.BaseQuantity = &two
	if net, err := half.Net(); err != nil || net != 1 {
		t.Errorf("half a cent is %s, %v", net, err)
	}
}

func TestAllowancesChargesPrepaidAndRounding(t *testing.T) {
	got, err := WorkOut(TotalsIn{
		Lines:      []Line{line("1", "100.00", "S", "10"), line("1", "50.00", "Z", "0")},
		Allowances: []Extra{{money.MustFactor("10.00"), taxed("S", "10")}, {money.MustFactor("5.00"), taxed("Z", "0")}},
		Charges:    []Extra{{money.MustFactor("3.33"), taxed("S", "10")}},
		Prepaid:    money.MustFactor("40.00"), Rounding: money.MustFactor("0.04"),
	})
	if err != nil {
		t.Fatal(err)
	}
	// 100 − 10 + 3.33 = 93.33 taxed at 10 %: 9.33; 45 free; 138.33 + 9.33 − 40 + 0.04 = 107.70
	if got.TotalExcl != 13833 || got.TotalTax != 933 || got.TotalIncl != 14766 || got.Payable != 10770 {
		t.Errorf("%s + %s = %s, payable %s", got.TotalExcl, got.TotalTax, got.TotalIncl, got.Payable)
	}
}

func TestTaxRowsStandInOneOrder(t *testing.T) {
	got, err := WorkOut(TotalsIn{Lines: []Line{line("1", "1", "G", "0"), line("1", "1", "O", "0"), line("1", "1", "S", "15"), line("1", "1", "E", "0"), line("1", "1", "Z", "0"), line("1", "1", "S", "10")}})
	if err != nil {
		t.Fatal(err)
	}
	var order []string
	for _, row := range got.Tax {
		order = append(order, row.TaxCategory+row.TaxPercent.String())
	}
	if want := "S10 S15 Z0 E0 O0 G0"; strings.Join(order, " ") != want {
		t.Errorf("%v, want %s", order, want)
	}
}

func TestWhatNoBillCanHoldIsRefused(t *testing.T) {
	zero, below := money.Whole(0), money.Whole(-1)
	withBase := func(base *money.Factor) Line { l := line("1", "1", "S", "10"); l.BaseQuantity = base; return l }
	many := make([]Line, mostLines+1)
	for name, c := range map[string]struct {
		in    TotalsIn
		field string
	}{
		"no lines":             {TotalsIn{}, "lines"},
		"too many lines":       {TotalsIn{Lines: many}, "lines"},
		"unknown category":     {TotalsIn{Lines: []Line{line("1", "1", "S", "10"), line("1", "1", "X", "10")}}, "lines[1].tax_category"},
		"two categories":       {TotalsIn{Lines: []Line{line("1", "1", "SZ", "10")}}, "lines[0].tax_category"},
		"no category":          {TotalsIn{Lines: []Line{line("1", "1", "", "10")}}, "lines[0].tax_category"},
		"rate where none is":   {TotalsIn{Lines: []Line{line("1", "1", "Z", "10")}}, "lines[0].tax_percent"},
		"rate of an exempt":    {TotalsIn{Lines: []Line{line("1", "1", "E", "0.01")}}, "lines[0].tax_percent"},
		"negative rate":        {TotalsIn{Lines: []Line{line("1", "1", "S", "-10")}}, "lines[0].tax_percent"},
		"rate above 100":       {TotalsIn{Lines: []Line{line("1", "1", "S", "100.01")}}, "lines[0].tax_percent"},
		"base quantity 0":      {TotalsIn{Lines: []Line{withBase(&zero)}}, "lines[0].base_quantity"},
		"base quantity below":  {TotalsIn{Lines: []Line{withBase(&below)}}, "lines[0].base_quantity"},
		"huge quantity":        {TotalsIn{Lines: []Line{line("100000000001", "1", "S", "10")}}, "lines[0].quantity"},
		"huge price":           {TotalsIn{Lines: []Line{line("1", "-100000000001", "S", "10")}}, "lines[0].unit_price"},
		"huge product":         {TotalsIn{Lines: []Line{line("99999999999", "99999999999", "S", "10")}}, "lines[0].quantity"},
		"huge sum":             {TotalsIn{Lines: []Line{line("9", "99999999999", "S", "10"), line("9", "99999999999", "S", "10")}}, "lines"},
		"huge allowance":       {TotalsIn{Lines: []Line{line("1", "1", "S", "10")}, Allowances: []Extra{{money.MustFactor("999999999999999"), taxed("S", "10")}}}, "allowances[0].amount"},
		"category of a charge": {TotalsIn{Lines: []Line{line("1", "1", "S", "10")}, Charges: []Extra{{money.Whole(1), taxed("s", "10")}}}, "charges[0].tax_category"},
		"huge prepaid":         {TotalsIn{Lines: []Line{line("1", "1", "S", "10")}, Prepaid: money.MustFactor("1000000000000")}, "prepaid"},
		"huge rounding":        {TotalsIn{Lines: []Line{line("1", "1", "S", "10")}, Rounding: money.MustFactor("1000000000000")}, "rounding"},
	} {
		_, err := WorkOut(c.in)
		if sentence := fault.Fields(err)[c.field]; sentence == "" {
			t.Errorf("%s: want %s refused, got %v", name, c.field, fault.Fields(err))
		}
	}
}

func TestEveryWrongFieldOfABillIsNamedAtOnce(t *testing.T) {
	_, err := WorkOut(TotalsIn{Lines: []Line{line("1", "1", "X", "10"), line("1", "1", "Z", "5")}})
	if got := fault.Fields(err); len(got) != 2 {
		t.Errorf("%v", got)
	}
}

// drawn is any bill of a contractor's size: up to eight lines, allowances and charges.
func drawn(t *rapid.T) TotalsIn {
	tax := rapid.SampledFrom([]Taxed{taxed("S", "10"), taxed("S", "15"), taxed("Z", "0"), taxed("E", "0")})
	decimal := rapid.Custom(func(t *rapid.T) money.Factor {
		return money.MustFactor(rapid.StringMatching(`-?[0-9]{1,5}(\.[0-9]{1,4})?`).Draw(t, "decimal"))
	})
	drawnLine := rapid.Custom(func(t *rapid.T) Line {
		l := Line{Quantity: decimal.Draw(t, "quantity"), UnitPrice: decimal.Draw(t, "price"), Allowance: decimal.Draw(t, "allowance"), Charge: decimal.Draw(t, "charge"), Taxed: tax.Draw(t, "tax")}
		if rapid.Bool().Draw(t, "based") {
			base := money.Whole(rapid.Int64Range(1, 1000).Draw(t, "base"))
			l.BaseQuantity = &base
		}
		return l
	})
	extra := rapid.Custom(func(t *rapid.T) Extra { return Extra{decimal.Draw(t, "amount"), tax.Draw(t, "tax")} })
	return TotalsIn{
		Lines:      rapid.SliceOfN(drawnLine, 1, 8).Draw(t, "lines"),
		Allowances: rapid.SliceOfN(extra, 0, 3).Draw(t, "allowances"),
		Charges:    rapid.SliceOfN(extra, 0, 3).Draw(t, "charges"),
		Prepaid:    decimal.Draw(t, "prepaid"), Rounding: decimal.Draw(t, "rounding"),
	}
}

func TestWhatABillShowsAddsUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := drawn(t)
		got, err := WorkOut(in)
		if err != nil {
			t.Fatal(err)
		}
		var lines, taxable, tax money.Cents
		for i, l := range got.Lines {
			lines += l.Net
			off := l.Net.Factor().Times(basedOn(in.Lines[i])).Minus(exactNet(in.Lines[i]))
			if off.Compare(money.MustFactor("0.015").Times(basedOn(in.Lines[i]))) > 0 || off.Compare(money.MustFactor("-0.015").Times(basedOn(in.Lines[i]))) < 0 {
				t.Fatalf("line %d: %s is more than three half cents from exact", i, l.Net)
			}
		}
		for _, row := range got.Tax {
			taxable, tax = taxable+row.Taxable, tax+row.Tax
			off := row.Tax.Factor().Minus(row.Taxable.Factor().Percent(row.TaxPercent.Factor))
			if off.Compare(money.MustFactor("0.005")) > 0 || off.Compare(money.MustFactor("-0.005")) < 0 {
				t.Fatalf("tax of %s %s on %s is %s", row.TaxCategory, row.TaxPercent, row.Taxable, row.Tax)
			}
		}
		if got.SumOfLines != lines || got.TotalExcl != taxable || got.TotalTax != tax {
			t.Fatalf("lines %s of %s, taxable %s of %s, tax %s of %s", lines, got.SumOfLines, taxable, got.TotalExcl, tax, got.TotalTax)
		}
		if got.TotalIncl != got.TotalExcl+got.TotalTax || got.Payable != got.TotalIncl-in.Prepaid.Cents()+in.Rounding.Cents() {
			t.Fatalf("%+v", got)
		}
	})
}

func basedOn(l Line) money.Factor {
	if l.BaseQuantity == nil {
		return money.Whole(1)
	}
	return *l.BaseQuantity
}

// exactNet is a line's exact net amount times its base quantity.
func exactNet(l Line) money.Factor {
	return l.Quantity.Times(l.UnitPrice).Plus(l.Charge.Minus(l.Allowance).Times(basedOn(l)))
}

// A bill with every quantity and amount turned round is the same bill with a minus sign:
// halves go away from zero on both sides.
func TestACreditMirrorsItsBill(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := drawn(t)
		bill, err := WorkOut(in)
		if err != nil {
			t.Fatal(err)
		}
		for i := range in.Lines {
			in.Lines[i].Quantity, in.Lines[i].Charge, in.Lines[i].Allowance = minus(in.Lines[i].Quantity), minus(in.Lines[i].Charge), minus(in.Lines[i].Allowance)
		}
		for _, extras := range [][]Extra{in.Allowances, in.Charges} {
			for i := range extras {
				extras[i].Amount = minus(extras[i].Amount)
			}
		}
		in.Prepaid, in.Rounding = minus(in.Prepaid), minus(in.Rounding)
		credit, err := WorkOut(in)
		if err != nil || credit.TotalExcl != -bill.TotalExcl || credit.TotalTax != -bill.TotalTax || credit.Payable != -bill.Payable {
			t.Fatalf("%+v is not the mirror of %+v, %v", credit, bill, err)
		}
	})
}

func minus(f money.Factor) money.Factor { return money.Whole(0).Minus(f) }

func TestTotalsAreDecimalStringsInJSON(t *testing.T) {
	got, err := WorkOut(TotalsIn{Lines: []Line{line("1", "3874.65", "S", "10")}})
	if err != nil {
		t.Fatal(err)
	}
	raw, err := json.Marshal(got)
	want := `{"lines":[{"net":"3874.65"}],"sum_of_lines":"3874.65","sum_of_allowances":"0.00","sum_of_charges":"0.00","total_excl":"3874.65",` +
		`"tax":[{"tax_category":"S","tax_percent":"10","taxable":"3874.65","tax":"387.47"}],"total_tax":"387.47","total_incl":"4262.12","prepaid":"0.00","rounding":"0.00","payable":"4262.12"}`
	if err != nil || string(raw) != want {
		t.Errorf("%s, %v", raw, err)
	}
}

func TestTheWorkingOfABillShowsItsFigures(t *testing.T) {
	l := line("24", "105.00", "S", "10")
	base := money.Whole(1)
	l.BaseQuantity, l.Charge, l.Allowance = &base, money.Whole(3), money.Whole(2)
	got, err := WorkOut(TotalsIn{Lines: []Line{l}, Charges: []Extra{{money.MustFactor("10"), taxed("S", "10")}}})
	if err != nil {
		t.Fatal(err)
	}
	shown := map[string]string{}
	for _, step := range got.Working() {
		shown[step.Step] = step.Value.String()
		if step.Formula == "" || step.Unit == "" || step.Source == "" {
			t.Errorf("step %q lacks its formula, unit or source", step.Step)
		}
	}
	for step, want := range map[string]string{"line 1": "2,521.00", "tax, S 10 %": "253.10", "total with tax": "2,784.10", "payable": "2,784.10", "charges on the whole bill": "10.00"} {
		if shown[step] != want {
			t.Errorf("%s: %q, want %q", step, shown[step], want)
		}
	}
	if first := got.Working()[0].Formula; first != "24 × 105 ÷ 1 + 3.00 charge − 2.00 allowance" {
		t.Errorf("line 1 is worked as %q", first)
	}
}
