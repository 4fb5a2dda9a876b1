package bank

import (
	"strings"
	"testing"

	"rowtally/internal/bill"
	"rowtally/internal/fault"
	"rowtally/internal/money"
)

// A statement made up by the element names of ISO 20022 BankToCustomerStatement, versions 2
// and 8 (the message's published structure: entry, status, booking day, details, parties,
// remittance information).
const statement = `<?xml version="1.0" encoding="UTF-8"?>
<Document xmlns="urn:iso:std:iso:20022:tech:xsd:camt.053.001.02"><BkToCstmrStmt><GrpHdr><MsgId>1</MsgId></GrpHdr><Stmt><Id>1</Id>
<Ntry><Amt Ccy="AUD">4740.12</Amt><CdtDbtInd>CRDT</CdtDbtInd><Sts>BOOK</Sts><BookgDt><Dt>2026-07-13</Dt></BookgDt><AcctSvcrRef>R1</AcctSvcrRef>
 <NtryDtls><TxDtls><Refs><EndToEndId>NOTPROVIDED</EndToEndId></Refs><RltdPties><Dbtr><Nm>Brackwater  Flat</Nm></Dbtr></RltdPties><RmtInf><Ustrd>inv T2026 0001</Ustrd></RmtInf></TxDtls></NtryDtls></Ntry>
<Ntry><Amt Ccy="AUD">100.00</Amt><CdtDbtInd>DBIT</CdtDbtInd><Sts>BOOK</Sts><BookgDt><DtTm>2026-07-14T09:30:00+09:30</DtTm></BookgDt><AddtlNtryInf>fuel</AddtlNtryInf></Ntry>
<Ntry><Amt Ccy="AUD">5.00</Amt><CdtDbtInd>DBIT</CdtDbtInd><RvslInd>true</RvslInd><Sts><Cd>BOOK</Cd></Sts><BookgDt><Dt>2026-07-14</Dt></BookgDt></Ntry>
<Ntry><Amt Ccy="AUD">30.00</Amt><CdtDbtInd>CRDT</CdtDbtInd><Sts>BOOK</Sts><BookgDt><Dt>2026-07-15</Dt></BookgDt><AcctSvcrRef>R2</AcctSvcrRef>
 <NtryDtls><TxDtls><Refs><EndToEndId>A</EndToEndId></Refs><AmtDtls><TxAmt><Amt Ccy="AUD">10.00</Amt></TxAmt></AmtDtls><RmtInf><Strd><CdtrRefInf><Ref>T2026-0002-X</Ref></CdtrRefInf></Strd></RmtInf></TxDtls>
 <TxDtls><Refs><EndToEndId>B</EndToEndId></Refs><Amt Ccy="AUD">20.00</Amt><RltdPties><Dbtr><Pty><Nm>Somebody</Nm></Pty></Dbtr></RltdPties></TxDtls></NtryDtls></Ntry>
<Ntry><Amt Ccy="NZD">7.00</Amt><CdtDbtInd>CRDT</CdtDbtInd><Sts>BOOK</Sts><BookgDt><Dt>2026-07-15</Dt></BookgDt></Ntry>
<Ntry><Amt Ccy="AUD">8.00</Amt><CdtDbtInd>CRDT</CdtDbtInd><Sts>PDNG</Sts><BookgDt><Dt>2026-07-15</Dt></BookgDt></Ntry>
</Stmt></BkToCstmrStmt></Document>`

func TestAStatementIsReadEntryByEntry(t *testing.T) {
	lines, skipped, err := ReadCAMT([]byte(statement), "AUD")
	if err != nil || len(lines) != 5 || len(skipped) != 2 {
		t.Fatalf("%d lines, %d skipped, %v", len(lines), len(skipped), err)
	}
	for i, want := range []struct {
		day, amount, who, text string
	}{
		{"2026-07-13", "4740.12", "Brackwater Flat", "inv T2026 0001"}, {"2026-07-14", "-100.00", "", "fuel"}, {"2026-07-14", "5.00", "", ""},
		{"2026-07-15", "10.00", "", "T2026-0002-X A"}, {"2026-07-15", "20.00", "Somebody", "B"},
	} {
		l := lines[i]
		if string(l.Day) != want.day || l.Amount.String() != want.amount || l.Who != want.who || l.Text != want.text {
			t.Errorf("line %d: %+v, want %+v", i, l, want)
		}
	}
	again, _, _ := ReadCAMT([]byte(statement), "AUD")
	keys := map[string]bool{}
	for i := range lines {
		if lines[i].Key != again[i].Key || keys[lines[i].Key] {
			t.Errorf("line %d has the key %s", i, lines[i].Key)
		}
		keys[lines[i].Key] = true
	}
}

func TestAFileThatIsNoStatementSaysSo(t *testing.T) {
	for _, bad := range []string{"", "<a>", "<Document/>", `<Document><BkToCstmrStmt><Stmt><Ntry><Amt Ccy="AUD">x</Amt><Sts>BOOK</Sts><BookgDt><Dt>2026-07-15</Dt></BookgDt></Ntry></Stmt></BkToCstmrStmt></Document>`,
		`<Stmt><Ntry><Amt Ccy="AUD">1.005</Amt><Sts>BOOK</Sts><BookgDt><Dt>2026-07-15</Dt></BookgDt></Ntry></Stmt>`, `<Stmt><Ntry><Amt Ccy="AUD">1</Amt><Sts>BOOK</Sts></Ntry></Stmt>`} {
		if _, _, err := ReadCAMT([]byte(bad), "AUD"); fault.Fields(err)["file"] == "" {
			t.Errorf("%.40q: %v", bad, err)
		}
	}
	for _, bad := range []string{"", "one column\nonly", strings.Repeat("a,b\n", mostRows+1)} {
		if _, err := Table(bad); fault.Fields(err)["file"] == "" {
			t.Errorf("%.40q: %v", bad, err)
		}
	}
}

// The writings of days and amounts that banks use (common practice, no source).
func TestACSVFileIsReadByItsColumns(t *testing.T) {
	for _, c := range []struct{ file, day, amount, words string }{
		{"Date,Amount,Narrative\n13/07/2026,\"4,740.12\",Deposit T2026-0001\n", "2026-07-13", "4740.12", "Deposit T2026-0001"},
		{"Date;Debit;Credit;Description\n2026-07-13;;$1 234.50;x\n", "2026-07-13", "1234.50", "x"},
		{"date\tdebit\tcredit\tdetails\n3 Jul 2026\t12.00\t\tfuel\n", "2026-07-03", "-12.00", "fuel"},
		{"Buchungsdate;amount;text\n13.07.2026;1.234,56;x\n", "2026-07-13", "1234.56", "x"},
		{"Date,Amount,Text\n13-Jul-2026,(7.05),fee\n", "2026-07-13", "-7.05", "fee"},
		{"Date,Amount,Text\n13/07/26,234 CR,in\n", "2026-07-13", "234.00", "in"},
	} {
		table, err := Table(c.file)
		if err != nil {
			t.Fatal(err)
		}
		lines, skipped, err := ReadCSV(table, Guess(table))
		if err != nil || len(lines) != 1 || len(skipped) != 0 {
			t.Errorf("%q: %v, %v, %v", c.file, lines, skipped, err)
			continue
		}
		if l := lines[0]; string(l.Day) != c.day || l.Amount.String() != c.amount || l.Words() != c.words {
			t.Errorf("%q is read as %+v", c.file, l)
		}
	}
	table, _ := Table("Date,Amount\n13/07/2026,1.005\n31/02/2026,1\n,\n1/7/2026,12\n")
	lines, skipped, err := ReadCSV(table, Guess(table))
	if err != nil || len(lines) != 1 || len(skipped) != 3 || skipped[0].At != 2 {
		t.Errorf("%v, %v, %v", lines, skipped, err)
	}
	american, _, _ := ReadCSV([][]string{{"7/4/2026", "1"}}, Columns{Day: 0, Amount: 1, In: None, Out: None, Who: None, Text: None, MonthFirst: true})
	if len(american) != 1 || american[0].Day != "2026-07-04" {
		t.Errorf("month first: %v", american)
	}
	for field, c := range map[string]Columns{"day": {Day: None, Amount: 1, In: None, Out: None, Who: None, Text: None}, "amount": {Day: 0, Amount: None, In: None, Out: None, Who: None, Text: None},
		"in": {Day: 0, Amount: 1, In: 1, Out: None, Who: None, Text: None}, "text": {Day: 0, Amount: 1, In: None, Out: None, Who: None, Text: 9}} {
		if _, _, err := ReadCSV(table, c); fault.Fields(err)[field] == "" {
			t.Errorf("%s: %v", field, err)
		}
	}
}

// Equal payments stay two, and a longer file brings the earlier ones under the same keys.
func TestTheSameMovementHasTheSameKeyInALaterFile(t *testing.T) {
	read := func(rows string) []Line {
		table, err := Table("Date,Amount,Text\n" + rows)
		if err != nil {
			t.Fatal(err)
		}
		lines, _, _ := ReadCSV(table, Guess(table))
		return lines
	}
	first, later := read("1/7/2026,50,x\n1/7/2026,50,x\n"), read("30/6/2026,9,y\n1/7/2026,50,x\n1/7/2026,50,x\n")
	if first[0].Key == first[1].Key || first[0].Key != later[1].Key || first[1].Key != later[2].Key {
		t.Errorf("keys %v, later %v", first, later)
	}
}

func invoice(id int64, number string, total money.Cents) bill.Paper {
	return bill.Paper{ID: id, Kind: bill.Invoice, Number: number, Reference: bill.PaymentReference(number), IssuedOn: "2026-07-01", UntilOn: "2026-07-15", Total: total}
}

func TestWhatMoneyIsProposedFor(t *testing.T) {
	payers := []Payer{
		{FarmID: 1, Name: "Brackwater Flat", Account: bill.Account{Papers: []bill.Paper{invoice(1, "T2026-0001", 474012), invoice(2, "T2026-0002", 20000)}}},
		{FarmID: 2, Name: "Three Soaks", Account: bill.Account{Papers: []bill.Paper{invoice(3, "T2026-0003", 31100), invoice(4, "T2026-0004", 20000)}}},
	}
	line := func(amount money.Cents, words, key string) Line {
		return Line{Day: "2026-07-10", Amount: amount, Text: words, Key: key}
	}
	got := Propose([]Line{
		line(1000, "thanks t2026 0003", "a"), line(474012, "deposit", "b"), line(20000, "deposit", "c"), line(5000, "THREE-SOAKS pastoral", "d"),
		line(-700, "fee", "e"), line(31100, "deposit", "f"), line(30100, "deposit", "g"), line(474012, "again", "h"), line(20, "T2026-0001", "old"),
	}, payers, map[string]bool{"old": true})
	for i, want := range []struct {
		farm, invoice int64
		why           string
	}{
		{2, 3, "its words name T2026-0003"}, {1, 1, "T2026-0001 alone asks for this amount"}, {0, 0, "no invoice and no farm"}, {2, 0, "name the farm"},
		{0, 0, "money out"}, {0, 0, "no invoice"}, {0, 0, "no invoice"}, {0, 0, "no invoice"}, {0, 0, "entered already"},
	} {
		p := got[i]
		if p.FarmID != want.farm || p.InvoiceID != want.invoice || !strings.Contains(p.Why, want.why) {
			t.Errorf("%d: farm %d, invoice %d, %q, want %+v", i, p.FarmID, p.InvoiceID, p.Why, want)
		}
	}
	if len(payers[0].Account.Payments) != 0 {
		t.Error("proposing changed the accounts given")
	}
}

func FuzzReadCAMT(f *testing.F) {
	f.Add([]byte(statement))
	f.Fuzz(func(t *testing.T, content []byte) {
		lines, _, err := ReadCAMT(content, "AUD")
		if err != nil && len(lines) > 0 {
			t.Error("lines of a file that is refused")
		}
	})
}

func FuzzTable(f *testing.F) {
	f.Add("Date,Amount\n1/7/2026,5\n")
	f.Fuzz(func(t *testing.T, text string) {
		if table, err := Table(text); err == nil {
			lines, skipped, err := ReadCSV(table, Columns{Day: 0, Amount: 1, In: None, Out: None, Who: None, Text: None})
			if err != nil || len(lines)+len(skipped) > len(table) {
				t.Errorf("%d rows gave %d lines and %d skipped, %v", len(table), len(lines), len(skipped), err)
			}
		}
	})
}

// Amounts as banks of several countries write them (common practice, no source); what could
// mean two amounts, or none, is not read.
func TestAmountsAreReadOrNotReadButNeverGuessed(t *testing.T) {
	for text, want := range map[string]string{
		"1234.5": "1234.50", "1,234.50": "1234.50", "1.234,50": "1234.50", "12.345.678,9": "12345678.90", "1 234,50": "1234.50", "1'234.50": "1234.50", "1’234.50": "1234.50", "1\u202f234,50": "1234.50",
		"1,234": "1234.00", "1.234.567": "1234567.00", "12,5": "12.50", "4740.1200": "4740.12", "AUD 12.00": "12.00", "12.00 EUR": "12.00", "A$12": "12.00", "€ 7,05": "7.05",
		"12.00-": "-12.00", "−3.10": "-3.10", "(1,000.00)": "-1000.00", "5.00 DR": "-5.00", "5.00 CR": "5.00", "+5": "5.00", "0": "0.00",
	} {
		if got, ok := amountOf(text); !ok || got.String() != want {
			t.Errorf("%q is read as %s, %v, want %s", text, got, ok, want)
		}
	}
	for _, text := range []string{"", "-", "x", "1.005", "1.234", "12.000", "0,125", "1,23,45", "1,2345", "1.2.3", "1,234,5", "1e5", "12.345678", "NaN", "12 34.00", "9999999999999999999999"} {
		if got, ok := amountOf(text); ok {
			t.Errorf("%q is read as %s", text, got)
		}
	}
}

func TestDaysWithAClockAreRead(t *testing.T) {
	for _, text := range []string{"2026-07-13T09:30:00+09:30", "13/07/2026 10:15", "2026-07-13 00:00:00", "13.07.26"} {
		if day, ok := dayOf(text, false); !ok || day != "2026-07-13" {
			t.Errorf("%q is read as %q, %v", text, day, ok)
		}
	}
	for _, text := range []string{"", "31/02/2026", "13/13/2026", "T", "yesterday"} {
		if day, ok := dayOf(text, false); ok {
			t.Errorf("%q is read as %s", text, day)
		}
	}
}

// The message's name spaces of versions 2 to 13, with a prefix and without, and a declared
// encoding that was undone before.
func TestStatementsOfOtherVersionsAreRead(t *testing.T) {
	want, _, err := ReadCAMT([]byte(statement), "AUD")
	if err != nil {
		t.Fatal(err)
	}
	prefixed := strings.NewReplacer("</", "</b:", "<?", "<?", "<", "<b:").Replace(statement)
	prefixed = strings.Replace(strings.Replace(prefixed, "<b:?", "<?", 1), "xmlns=", "xmlns:b=", 1)
	for what, text := range map[string]string{
		"version 8": strings.Replace(statement, "001.02", "001.08", 1), "version 13": strings.Replace(statement, "001.02", "001.13", 1),
		"a prefix": prefixed, "no name space": strings.Replace(statement, ` xmlns="urn:iso:std:iso:20022:tech:xsd:camt.053.001.02"`, "", 1),
		"ISO-8859-1": strings.Replace(statement, "UTF-8", "ISO-8859-1", 1), "UTF-16": strings.Replace(statement, "UTF-8", "UTF-16", 1),
	} {
		got, skipped, err := ReadCAMT([]byte(text), "AUD")
		if err != nil || len(got) != len(want) || len(skipped) != 2 || got[0] != want[0] || !IsCAMT([]byte(text)) {
			t.Errorf("%s: %d lines, %d skipped, %v", what, len(got), len(skipped), err)
		}
	}
	if _, _, err := ReadCAMT([]byte(strings.Replace(statement, "<CdtDbtInd>CRDT</CdtDbtInd>", "", 1)), "AUD"); !strings.Contains(fault.Fields(err)["file"], "came in or went out") {
		t.Errorf("an entry without a side: %v", err)
	}
}
