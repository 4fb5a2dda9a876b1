package bank

import (
	"bytes"
	"encoding/xml"
	"io"
	"strings"

	"rowtally/internal/fault"
	"rowtally/internal/money"
	"rowtally/internal/unit"
)

// The elements of ISO 20022 BankToCustomerStatement that are read, by their local names, which
// camt.053.001.02 to .001.13 share; a party stands in Pty from version 8 on.
type (
	camtStatement struct {
		Entries []camtEntry `xml:"Ntry"`
	}
	camtEntry struct {
		Amount   camtAmount `xml:"Amt"`
		Side     string     `xml:"CdtDbtInd"`
		Reversal string     `xml:"RvslInd"`
		Status   camtStatus `xml:"Sts"`
		Booked   camtDay    `xml:"BookgDt"`
		Valued   camtDay    `xml:"ValDt"`
		Ref      string     `xml:"AcctSvcrRef"`
		Info     string     `xml:"AddtlNtryInf"`
		Parts    []camtPart `xml:"NtryDtls>TxDtls"`
	}
	camtAmount struct {
		Currency string `xml:"Ccy,attr"`
		Text     string `xml:",chardata"`
	}
	camtStatus struct {
		Text string `xml:",chardata"`
		Code string `xml:"Cd"` // from version 8 on
	}
	camtDay struct {
		Day  string `xml:"Dt"`
		Time string `xml:"DtTm"`
	}
	camtPart struct {
		Amount     camtAmount `xml:"Amt"` // from version 8 on
		Settled    camtAmount `xml:"AmtDtls>TxAmt>Amt"`
		EndToEnd   string     `xml:"Refs>EndToEndId"`
		Ref        string     `xml:"Refs>AcctSvcrRef"`
		Plain      []string   `xml:"RmtInf>Ustrd"`
		Structured []string   `xml:"RmtInf>Strd>CdtrRefInf>Ref"`
		Payer      string     `xml:"RltdPties>Dbtr>Nm"`
		PayerParty string     `xml:"RltdPties>Dbtr>Pty>Nm"`
	}
)

// IsCAMT tells whether a file looks like a statement of ISO 20022.
func IsCAMT(content []byte) bool {
	return bytes.Contains(content[:min(len(content), 4000)], []byte("BkToCstmrStmt")) || bytes.Contains(content[:min(len(content), 1000)], []byte("camt.053"))
}

// ReadCAMT reads, in UTF-8, the booked entries of a bank's statement in one currency. A bundle of
// payments whose parts have amounts that add up to it is read part by part. Entries that are
// not booked yet, and those in another currency, are skipped with the reason. What is no
// statement, and an amount or a day that cannot be read, is refused (field "file").
func ReadCAMT(content []byte, currency string) (lines []Line, skipped []Skipped, err error) {
	entries, err := camtEntries(content)
	if err != nil {
		return nil, nil, err
	}
	for i, e := range entries {
		switch {
		case e.Amount.Currency != currency:
			skipped = append(skipped, Skipped{i + 1, "it is in " + e.Amount.Currency + ", and accounts are kept in " + currency})
			continue
		case strings.TrimSpace(e.Status.Text+e.Status.Code) != "BOOK":
			skipped = append(skipped, Skipped{i + 1, "the bank has not booked it yet"})
			continue
		}
		read, err := e.lines()
		if err != nil {
			return nil, nil, fault.Refuse("file", "entry %d of the statement: %s", i+1, err.Error())
		}
		lines = append(lines, read...)
	}
	return keyed(lines), skipped, nil
}

func camtEntries(content []byte) ([]camtEntry, error) {
	decoder := xml.NewDecoder(bytes.NewReader(content))
	decoder.CharsetReader = func(_ string, text io.Reader) (io.Reader, error) { return text, nil } // it is UTF-8 by now, whatever it declares
	var entries []camtEntry
	found := false
	for {
		token, err := decoder.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			return nil, fault.Refuse("file", "the statement cannot be read: %v. Take it from the bank again", err)
		}
		start, ok := token.(xml.StartElement)
		if !ok || start.Name.Local != "Stmt" {
			continue
		}
		var s camtStatement
		if err := decoder.DecodeElement(&s, &start); err != nil {
			return nil, fault.Refuse("file", "the statement cannot be read: %v. Take it from the bank again", err)
		}
		found = true
		entries = append(entries, s.Entries...)
	}
	if !found {
		return nil, fault.Refuse("file", "there is no statement in this file: choose the camt.053 file of the account")
	}
	return entries, nil
}

// lines are the payments of an entry.
func (e camtEntry) lines() ([]Line, error) {
	day, err := unit.ParseDate(firstOf(e.Booked.Day, e.Booked.Time, e.Valued.Day, e.Valued.Time))
	if err != nil {
		return nil, err
	}
	total, err := camtCents(e.Amount.Text)
	if err != nil {
		return nil, err
	}
	if e.Side != "CRDT" && e.Side != "DBIT" {
		return nil, fault.Refuse("file", "it does not tell whether the money came in or went out")
	}
	sign := money.Cents(1)
	if (e.Side == "DBIT") != (strings.TrimSpace(e.Reversal) == "true" || strings.TrimSpace(e.Reversal) == "1") {
		sign = -1
	}
	whole := Line{Day: day, Amount: sign * total, Text: squeezed(e.Info), Key: e.Ref}
	if len(e.Parts) == 1 {
		return []Line{e.Parts[0].line(whole)}, nil
	}
	if parts := e.parts(whole, sign, total); parts != nil {
		return parts, nil
	}
	return []Line{whole}, nil
}

// parts are the payments of a bundle; nil where their amounts are not all told or do not add
// up to it.
func (e camtEntry) parts(whole Line, sign, total money.Cents) []Line {
	var lines []Line
	var sum money.Cents
	for _, p := range e.Parts {
		amount, err := camtCents(firstOf(p.Amount.Text, p.Settled.Text))
		if err != nil {
			return nil
		}
		line := p.line(whole)
		line.Amount = sign * amount
		if p.Ref == "" && whole.Key != "" {
			line.Key = whole.Key + "|" + p.EndToEnd + "|" + line.Text
		}
		sum += amount
		lines = append(lines, line)
	}
	if sum != total {
		return nil
	}
	return lines
}

// line is a payment of an entry in the words of its part.
func (p camtPart) line(whole Line) Line {
	whole.Who = squeezed(firstOf(p.Payer, p.PayerParty))
	words := append(append([]string{}, p.Structured...), p.Plain...)
	if p.EndToEnd != "NOTPROVIDED" {
		words = append(words, p.EndToEnd)
	}
	if text := squeezed(strings.Join(words, " ")); text != "" {
		whole.Text = text
	}
	if p.Ref != "" {
		whole.Key = p.Ref
	}
	return whole
}

func camtCents(text string) (money.Cents, error) {
	f, err := money.ParseFactor(strings.TrimSpace(text))
	if err != nil {
		return 0, err
	}
	if f.Sign() < 0 || f.Compare(f.Cents().Factor()) != 0 {
		return 0, fault.Refuse("file", "%s is no amount of whole cents from 0 up", text)
	}
	return f.Amount()
}

// firstOf is the first text that says anything; of a moment its day.
func firstOf(texts ...string) string {
	for _, text := range texts {
		if text = strings.TrimSpace(text); text != "" {
			if day, _, isMoment := strings.Cut(text, "T"); isMoment && len(day) == len("2006-01-02") {
				return day
			}
			return text
		}
	}
	return ""
}
