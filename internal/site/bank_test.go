package site

import (
	"encoding/binary"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode/utf16"
)

// A bank's CSV file: its columns are asked, its movements proposed, what is chosen entered
// once, also when the same file comes again.
func TestABanksFileBecomesPayments(t *testing.T) {
	w, invoice := billedTown(t)
	file := fmt.Sprintf("Date,Amount,Narrative\r\n20/07/2026,%s,Deposit caf\xe9 %s\r\n20/07/2026,-9.90,fee\r\n19/07/2026,50.00,thanks\r\nx,1,y\r\n", invoice.Total, invoice.Number)
	w.contractor.get("/accounts").mustShow(t, 200, "From the bank's file")
	asked := w.contractor.upload("/accounts/bank", "file", "bank.csv", file)
	asked.mustShow(t, 200, "column 1, “Date”", "Western European text", "Deposit café")
	form := slices.Clip([]string{"text", strings.ToValidUTF8(strings.ReplaceAll(file, "\xe9", "é"), ""), "columns", "named", "c_day", "0", "c_amount", "1", "c_in", "-1", "c_out", "-1", "c_who", "-1", "c_text", "2", "order", "day", "head", "yes"})
	shown := w.contractor.post("/accounts/bank", append(form, "act", "read")...)
	shown.mustShow(t, 200, "its words name "+invoice.Number, "Movements that may be payments: 2.", "entered already: 1.", "row 5: “x” is no day")
	if len(w.account(t).Payments) != 0 {
		t.Fatal("reading entered something")
	}
	w.contractor.post("/accounts/bank", append(with(form, "c_day", "-1"), "act", "read")...).mustShow(t, 422, "Say in which column the day stands")
	names := regexp.MustCompile(`name="(pays_[0-9a-f]+)"`).FindAllStringSubmatch(shown.text, -1)
	if len(names) != 2 {
		t.Fatalf("%d movements are asked", len(names))
	}
	chosen := []string{names[0][1], fmt.Sprintf("1:%d", invoice.ID), names[1][1], ""}
	w.contractor.post("/accounts/bank", append(append(form, chosen...), "act", "enter")...).mustLead(t, "/accounts?done=bank")
	w.contractor.post("/accounts/bank", append(append(form, chosen...), "act", "enter")...).mustShow(t, 422, "Nothing is chosen")
	w.contractor.post("/accounts/bank", append(form, "act", "enter", names[1][1], "77:0")...).mustShow(t, 422)
	account := w.account(t)
	if len(account.Payments) != 1 || account.Payments[0].Amount != invoice.Total || account.Owed() != 0 || string(account.Payments[0].PaidOn) != "2026-07-20" {
		t.Errorf("entered %+v, %s owed", account.Payments, account.Owed())
	}
	w.contractor.post("/accounts/bank", append(form, "act", "read")...).mustShow(t, 200, "Movements that may be payments: 1.", "entered already: 2.")
	w.sound(t)
}

// A statement of ISO 20022 needs no columns; what is no file of a bank says so.
func TestABanksStatementAndWhatIsNone(t *testing.T) {
	w, invoice := billedTown(t)
	statement := fmt.Sprintf(`<Document xmlns="urn:iso:std:iso:20022:tech:xsd:camt.053.001.02"><BkToCstmrStmt><Stmt><Ntry><Amt Ccy="AUD">%s</Amt><CdtDbtInd>CRDT</CdtDbtInd><Sts>BOOK</Sts><BookgDt><Dt>2026-07-20</Dt></BookgDt><AcctSvcrRef>R1</AcctSvcrRef></Ntry></Stmt></BkToCstmrStmt></Document>`, invoice.Total)
	w.contractor.upload("/accounts/bank", "file", "s.xml", statement).mustShow(t, 200, invoice.Number+" alone asks for this amount", "Enter these payments")
	w.contractor.upload("/accounts/bank", "file", "s.xml", "<Document><BkToCstmrStmt>").mustShow(t, 422, "The statement cannot be read", "Read it")
	w.contractor.upload("/accounts/bank", "file", "s.csv", "\x00\x01\x02").mustShow(t, 422, "This is a file of another kind, not text")
	w.contractor.post("/accounts/bank").mustShow(t, 422, "Choose the file that the bank gave you")
}

// The same statement in UTF-16 and in Windows-1252, declared as such; and files of other
// kinds, which say what they are.
func TestABanksFileInAnotherWriting(t *testing.T) {
	w, invoice := billedTown(t)
	csv := "Datum;amount;name\n20.07.2026;" + strings.Replace(invoice.Total.Shown(), ".", "!", 1) + ";Müller\n"
	csv = strings.NewReplacer(",", ".", "!", ",").Replace(csv)
	for writing, text := range map[string]string{"UTF-8": csv, "UTF-8 with its mark": "\ufeff" + csv, "UTF-16": utf16Of(csv, "\xff\xfe"), "UTF-16 without its mark": utf16Of(csv, ""), "Windows-1252": strings.ReplaceAll(csv, "ü", "\xfc")} {
		p := w.contractor.upload("/accounts/bank", "file", "s.csv", text)
		p.mustShow(t, 200, "Müller", "20.07.2026")
		if note := strings.Contains(p.text, "read as Western European text"); note != (writing == "Windows-1252") {
			t.Errorf("%s: said %v", writing, note)
		}
	}
	for text, says := range map[string]string{"%PDF-1.7\n1,2\n3,4": "This is a PDF, not text", "PK\x03\x04,\n,": "a spreadsheet or a zip file", "\xd0\xcf\x11\xe0a,b\nc,d": "a spreadsheet of the older kind", "a,b\x07\nc,d": "a file of another kind"} {
		w.contractor.upload("/accounts/bank", "file", "s.csv", text).mustShow(t, 422, says, "ask the bank for the CSV file")
	}
	if facts := w.facts(t, 1); len(facts.Placed) != 0 {
		t.Errorf("placed %+v", facts.Placed)
	}
}

// utf16Of is a text in UTF-16, low byte first.
func utf16Of(text, mark string) string {
	out := []byte(mark)
	for _, unit := range utf16.Encode([]rune(text)) {
		out = binary.LittleEndian.AppendUint16(out, unit)
	}
	return string(out)
}
