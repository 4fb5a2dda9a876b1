package paper_test

import (
	"fmt"
	"math"
	"os"
	"strings"
	"testing"
	"time"

	"rowtally/internal/bill"
	"rowtally/internal/job"
	"rowtally/internal/mix"
	"rowtally/internal/money"
	"rowtally/internal/paper"
)

// The papers below are invented: they try the layout. Their figures add up, no more.

// press opens the typefaces that the web build puts beside the pages.
func press(tb testing.TB) *paper.Press {
	tb.Helper()
	pr, err := paper.New(os.DirFS("../../web/dist/font"))
	if err != nil {
		tb.Fatal(err)
	}
	return pr
}

// priced makes a line with its net, rounded to cents.
func priced(description, unitName, quantity, each string) bill.PaperLine {
	q, price := money.MustFactor(quantity), money.MustFactor(each)
	line := bill.PaperLine{Description: description, Unit: unitName, Basis: bill.Fixed, Quantity: q, UnitPrice: price,
		TaxCategory: "S", TaxPercent: money.Whole(10), Net: q.Times(price).Cents()}
	if unitName == "row-km" {
		line.Basis = bill.RowKm
	}
	return line
}

// totalled gives a paper its lines and the totals that they make at 10 %.
func totalled(p bill.Paper, lines ...bill.PaperLine) bill.Paper {
	p.Lines = lines
	p.NetTotal, p.TaxTotal = 0, 0
	for i := range p.Lines {
		p.Lines[i].Position = i + 1
		p.NetTotal += p.Lines[i].Net
	}
	if p.Registered {
		p.TaxTotal = p.NetTotal.Factor().Times(money.MustFactor("0.1")).Cents()
	}
	p.Total = p.NetTotal + p.TaxTotal
	return p
}

func sowingLines(rowKm string) []bill.PaperLine {
	return []bill.PaperLine{
		priced("Set-up: calibration, hopper clean-down and machinery hygiene", "each", "1", "380"),
		priced("Travel of truck and float", "km", "164", "2.90"),
		priced("Mounding and sowing, twin rows 2.0 m apart", "row-km", rowKm, "105"),
		priced("Shrub seed, lots D26-01 and D26-03, at cost and 12 % for handling", "row-km", rowKm, "22.725"),
		priced("Vermiculite, medium grade, placed with the seed", "row-km", rowKm, "9.30"),
		priced("Standby while the gate was locked", "h", "1", "165"),
	}
}

func invoice() bill.Paper {
	return totalled(bill.Paper{
		Kind: bill.Invoice, Number: "T2026-0007", Year: 2026, Serial: 7,
		IssuedOn: "2026-07-20", IssuedAt: time.Date(2026, 7, 20, 16, 40, 5, 0, time.FixedZone("", 34200)), UntilOn: "2026-08-03",
		Issuer: bill.Party{Name: "Samphire Row Seeding (demo)", ABN: "51824753556", Address: "1 Example Road, Demo Town SA",
			Phone: "08 5550 0100", Email: "office@samphire.example"},
		Buyer:      bill.Party{Name: "Brackwater Flat", Address: "Lot 9 Example Lane\nDemo Town SA", ABN: "51824753556"},
		Registered: true, TaxLabel: "GST", Currency: "AUD",
		PayTo:     "Samphire Row Seeding (demo)\nBSB 000-000\naccount 0000 0000",
		Reference: "T2026-0007-4",
		Farm:      "Brackwater Flat", Paddock: "Lagoon", Season: 2026, RowM: 24000,
		Basis: "Each row counted, from the GPS log of 14 Jul 2026 matched to the planned rows: 12.0 driven km of twin rows are 24.0 row-km. Headlands and turns are not counted.",
		Map:   planPicture(true),
		Particulars: []bill.Particular{
			{Heading: "Layout", Text: "Twin rows 2.0 m apart, 12 m alleys, 70° true, a placement every 3.00 m."},
			{Heading: "Seed", Text: "D26-01 old man saltbush, 34 % of fruits, tested 10 Feb 2026; D26-03 wavy leaf saltbush, 51 % of seeds, tested 2 Mar 2026."},
		},
	}, sowingLines("24.0")...)
}

func quote() bill.Paper {
	p := invoice()
	p.Kind, p.Number, p.Serial, p.Revision, p.RowM = bill.Quote, "Q2026-0012", 12, 2, 24800
	p.UntilOn, p.PayTo, p.Reference, p.Map = "2026-08-19", "", "", planPicture(false)
	p.Basis = "24.8 row-km, each row counted, along the planned rows between 20 m headlands. Measured on the map, not yet in the paddock."
	p.Particulars = append(p.Particulars,
		bill.Particular{Heading: "Medium", Text: "Vermiculite, medium grade: 45 mL a placement, 15.0 L per row-km."},
		bill.Particular{Heading: "Weather", Text: "The standby clock runs from your confirmed go. The first hour is free, then 165.00 an hour ex GST."},
		bill.Particular{Heading: "You see to", Text: "Gates open, stock out, weeds and old grass dealt with, buried services shown."},
		bill.Particular{Heading: "Not promised", Text: "How many plants come up is not part of this price."},
		bill.Particular{Heading: "Terms", Text: "14 days from the invoice. A newer seed test before sowing changes the seed rate, not the price per row-km."})
	return totalled(p, sowingLines("24.8")...)
}

// alternatives is the quote with two more beside it, one of a long name: single rows and less
// of them.
func alternatives() bill.Paper {
	p := quote()
	p.Alternatives = []bill.Alternative{
		{Letter: "A", Name: "twin rows, 12 m alleys", Says: "2 rows 2 m apart to a belt, alley 12 m, along 70° true; a placement every 3 m. Seed of old man saltbush.", Placements: 8267, AlleyHa: 14.9, GrossHa: 18.5},
		beside("B", "alleys of 20 m, wide enough for the air seeder and its tow-between cart", "15.6", 5200, 15.4),
		beside("C", "single rows every 6 m", "30.9", 10300, 16.9),
	}
	p.Particulars = append([]bill.Particular{{Heading: "Alternatives", Text: "This quote offers three alternatives. One of them is done, the one that your yes names, at its own total; the totals do not add up."}}, p.Particulars...)
	return p
}

// beside is an alternative of the quote over so many row-km.
func beside(letter, name, km string, placements int64, alleyHa float64) bill.Alternative {
	p := totalled(quote(), sowingLines(km)...)
	p.Particulars = []bill.Particular{{Heading: "Layout", Text: "Laid otherwise, alternative " + letter + "."}}
	one := bill.Alternative{Letter: letter, Name: name, Says: "Laid otherwise; a placement every 3 m. Seed as in A. Prices as in A.", Placements: placements, AlleyHa: alleyHa, GrossHa: 18.5}
	p.RowM = money.MustFactor(km).Float() * 1000
	one.Offered = bill.OfferOf(p)
	return one
}

// estimate is the quote as an estimate, with a line if wanted.
func estimate() bill.Paper {
	p := quote()
	p.Kind, p.Number, p.Serial, p.Revision = bill.Estimate, "E2026-0002", 2, 0
	wanted := priced("Roller over the alleys", "ha", "18.5", "18.00")
	wanted.Optional = true
	p = totalled(p, sowingLines("24.8")...)
	p.Lines = append(p.Lines, wanted)
	p.Particulars = append([]bill.Particular{{Heading: "An estimate", Text: "This is no quote. It binds neither side."}}, p.Particulars...)
	return p
}

// variation takes travel back and adds hours.
func variation() bill.Paper {
	p := quote()
	p.Kind, p.Number, p.Serial, p.Revision, p.Map, p.Basis, p.RowM = bill.Variation, "V2026-0003", 3, 0, "", "", 0
	p.Particulars = []bill.Particular{{Heading: "Varies", Text: "Quote Q2026-0012, revision 2, of 20 Jul 2026. Everything else stays as agreed."}, {Heading: "Why", Text: "Stumps nobody knew of."}}
	return totalled(p, priced("Stumps pushed aside", "h", "3", "210.00"), priced("Float travels less", "driven km", "-100", "2.90"))
}

// planPicture is a paddock of six corners with a dam and a drain, rows at 70°.
func planPicture(sown bool) string {
	m := job.Map{
		Outline: []job.Ring{{{0, 60}, {230, 0}, {560, 90}, {610, 330}, {330, 420}, {40, 300}}},
		Holes:   []job.Ring{circle(430, 210, 32)},
		NoGo:    []job.Ring{{{120, 42}, {150, 36}, {235, 378}, {205, 366}}},
	}
	for offset := -150.0; offset < 330; offset += 14 {
		for _, gap := range []float64{0, 2} {
			spans := across(m, offset+gap)
			m.Rows = append(m.Rows, spans...)
			if sown && offset > 60 {
				m.Sown = append(m.Sown, spans...)
			}
		}
	}
	text, err := m.Text()
	if err != nil {
		panic(err)
	}
	return text
}

// across lays one row through the sample paddock in steps of a metre: what lies inside the
// outline, off the dam and off the drain, is row.
func across(m job.Map, offset float64) []job.Stretch {
	sin, cos := math.Sincos(70 * math.Pi / 180)
	at := func(along float64) (e, n float64) { return along * sin, offset + along*cos }
	var out []job.Stretch
	start, open := 0.0, false
	for along := 0.0; along < 800; along++ {
		e, n := at(along)
		free := inside(m.Outline[0], e, n) && !inside(m.Holes[0], e, n) && !inside(m.NoGo[0], e, n)
		if open && !free {
			e1, n1 := at(start + 12)
			e2, n2 := at(along - 12)
			out = append(out, job.Stretch{job.Metres(e1), job.Metres(n1), job.Metres(e2), job.Metres(n2)})
		}
		if free && !open {
			start = along
		}
		open = free
	}
	return out
}

func inside(ring job.Ring, e, n float64) bool {
	in := false
	for i := range ring {
		a, b := ring[i], ring[(i+1)%len(ring)]
		if (float64(a[1]) > n) != (float64(b[1]) > n) && e < float64(a[0])+(n-float64(a[1]))/float64(b[1]-a[1])*float64(b[0]-a[0]) {
			in = !in
		}
	}
	return in
}

func circle(e, n, radius float64) job.Ring {
	var out job.Ring
	for i := range 24 {
		sin, cos := math.Sincos(float64(i) * math.Pi / 12)
		out = append(out, [2]job.Metres{job.Metres(e + radius*sin), job.Metres(n + radius*cos)})
	}
	return out
}

// plainDraft is a draft of an issuer not registered for the tax, without a picture.
func plainDraft() bill.Paper {
	p := invoice()
	p.Number, p.Serial, p.IssuedOn, p.Map, p.Registered = "", 0, "", "", false
	return totalled(p, p.Lines...)
}

// long is an invoice of many lines.
func long(lines int) bill.Paper {
	p := invoice()
	var all []bill.PaperLine
	for i := range lines {
		line := priced(fmt.Sprintf("Length %d: mounding and sowing between pegs %d and %d", i+1, i, i+1), "row-km", fmt.Sprintf("%d.%02d", i%7, i%100), "105")
		if i%9 == 4 {
			line.Description = strings.Repeat("stony ground worked twice, stumps pushed aside, ", 4) + line.Description
		}
		all = append(all, line)
	}
	return totalled(p, all...)
}

// strained is a quote with names that no layout likes.
func strained() bill.Paper {
	p := quote()
	p.Farm = strings.Repeat("Three Soaks and Limestone Gutter Grazing ", 5)[:200]
	p.Buyer.Name = p.Farm
	p.Issuer.Name = strings.Repeat("Samphire", 25)
	p.Paddock = "Ōtākou\tτμήμα Поле 漢字 🌱\u202e\u200bend\x07"
	p.Lines[0].Description = strings.Repeat("unbroken", 40)
	p.Lines[1].Unit = "per return trip of truck and float"
	p.Lines[1].Quantity = money.MustFactor("123456789.123456")
	p.Lines[2].UnitPrice = money.MustFactor("1234567.123456789")
	p.Lines[3].Net = 99_999_999_999_99
	return totalled(p, p.Lines...)
}

// sheet is a mixing sheet of full tubs and one part tub.
func sheet(fullTubs int) job.MixingSheet {
	s := job.MixingSheet{
		Business: "Samphire Row Seeding (demo)", Code: "J-03", Name: "Bore", Farm: "Three Soaks", Paddock: "Bore",
		Season: 2026, Day: "2026-07-20", Layout: "Twin rows 2.0 m apart, 12 m alleys, 70° true, a placement every 3.00 m.",
		RowM: 34900, LeftM: 34900, SpacingM: 3, PerKm: 1000.0 / 3, PlacementML: 45, IntendedML: 45, LPerKm: 15, TubL: 160,
		Medium: "vermiculite, medium grade", Sower: "twin-row mounder-seeder", Hoppers: 2, Catch: new(mix.ExpectCatch(20, 2.36, 3, 45)),
		Lots: []job.SheetLot{
			{LotID: 1, Code: "D26-01", Name: "old man saltbush, fruit, bracts on", Species: "Atriplex nummularia", Grams: 13390,
				Live: "tested 10 Feb 2026 at 34 %: 26.1 live per g (95 %: 22.5 to 29.8)"},
			{LotID: 3, Code: "D26-03", Name: "wavy leaf saltbush, seed, bracts removed", Species: "Atriplex undulata", Grams: 1009,
				Live: "tested 2 Mar 2026 at 51 %: 230.7 live per g (95 %: 208.0 to 253.3)"},
		},
		Cautions: []string{
			"Vermiculite dust: mix outdoors with the wind behind you, wear a P2 mask, and keep the supplier's asbestos-free statement.",
			"Lift with two people or in halves. Stop and isolate the machine before clearing an outlet; guards stay on.",
			"Nobody works alone without a check-in agreed beforehand.",
			"Labels, local codes and licensed practice rule over this sheet.",
		},
	}
	for i := range fullTubs {
		s.Tubs = append(s.Tubs, job.SheetTub{Number: i + 1, MixL: 160, MediumL: 155.4, RowM: 10666.7, Grams: []float64{4092, 308}})
	}
	s.Tubs = append(s.Tubs, job.SheetTub{Number: fullTubs + 1, MixL: 43.5, MediumL: 42.2, RowM: 2900, Grams: []float64{1109, 85}})
	return s
}

// adjustment corrects the invoice of 24.8 row-km to the 24.0 that the log shows.
func adjustment() bill.Paper {
	p := invoice()
	was := totalled(p, sowingLines("24.8")...)
	note := p
	note.Kind, note.Number, note.Serial, note.UntilOn, note.PayTo, note.Lines, note.Particulars = bill.Adjustment, "A2026-0001", 1, "", "", nil, nil
	note.Reason = "24.80 row-km were billed; the machine's log shows 24.00."
	was.ID, was.Number, was.IssuedOn = 7, "T2026-0007", "2026-06-29"
	if err := bill.StandingOf(was, nil).Correct(&note, p.Lines); err != nil {
		panic(err)
	}
	return note
}

// statement is an account with a settled invoice, one adjusted, and a payment too large.
func statement() job.StatementSheet {
	inv := invoice()
	old, late := inv, inv
	old.ID, old.Number, old.IssuedOn, old.UntilOn, old.Reference, old.Total = 1, "T2026-0003", "2026-03-02", "2026-03-16", bill.PaymentReference("T2026-0003"), 1_200_00
	late.ID, late.Total, late.IssuedOn, late.UntilOn, late.Reference = 2, 4_860_70, "2026-06-29", "2026-07-13", bill.PaymentReference(inv.Number)
	note := adjustment()
	note.AnswersID, note.IssuedOn, note.Reference = 2, "2026-07-20", late.Reference
	l := job.Ledger{Farm: job.Farm{Name: inv.Buyer.Name, Address: inv.Buyer.Address}, Account: bill.Account{Papers: []bill.Paper{old, late, note},
		Payments: []bill.Payment{{ID: 1, Kind: bill.Paid, PaidOn: "2026-03-20", Amount: 1_000_00, Way: "transfer", Reference: old.Reference, Placings: []bill.Placing{{PaperID: 1, Amount: 900_00}}}}}}
	s, err := job.StatementOf(l, job.Business{Name: inv.Issuer.Name, ABN: inv.Issuer.ABN, Address: inv.Issuer.Address, Phone: inv.Issuer.Phone, Currency: "AUD", PayTo: inv.PayTo},
		"2026-02-01", "2026-07-31", "2026-07-31")
	if err != nil {
		panic(err)
	}
	return s
}
