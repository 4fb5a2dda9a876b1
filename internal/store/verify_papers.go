package store

import (
	"fmt"
	"slices"

	"gorm.io/gorm"

	"rowtally/internal/bill"
	"rowtally/internal/money"
)

// paperSums works every issued paper out again from its quantities, prices and rates.
func paperSums(db *gorm.DB) ([]string, error) {
	issued, err := papers(db, "1 = 1")
	var broken []string
	for _, p := range issued {
		if wrong := p.AddsUp(); wrong != nil {
			broken = append(broken, fmt.Sprintf("the paper %s does not add up: %v", p.Number, wrong))
		}
	}
	if err != nil {
		return broken, err
	}
	agreed, err := all[bill.Acceptance](db)
	broken = append(broken, adjustmentChains(issued)...)
	broken = append(broken, variationsBilled(issued, agreed)...)
	return append(broken, claimChains(issued)...), err
}

// variationsBilled sets what every invoice bills of variations beside them: each with its
// yes, and no more of a line than it says.
func variationsBilled(issued []bill.Paper, agreed []bill.Acceptance) (broken []string) {
	yes, varied := map[int64]bool{}, map[int64][]bill.Paper{}
	for _, a := range agreed {
		yes[a.PaperID] = true
	}
	for _, p := range issued {
		if p.Kind == bill.Variation {
			if !yes[p.ID] {
				p.Lines = zeroed(p.Lines)
			}
			varied[p.JobID] = append(varied[p.JobID], p)
		}
	}
	for _, p := range issued {
		if p.Kind != bill.Invoice {
			continue
		}
		for _, number := range p.Overbilled(varied[p.JobID]) {
			broken = append(broken, fmt.Sprintf("the invoice %s bills more of the variation %s than was agreed", p.Number, number))
		}
	}
	return broken
}

// zeroed are lines of which nothing may be billed.
func zeroed(lines []bill.PaperLine) []bill.PaperLine {
	out := slices.Clone(lines)
	for i := range out {
		out[i].Quantity = money.Factor{}
	}
	return out
}

// claimChains follows every job's invoices: each takes off what those before it billed.
func claimChains(issued []bill.Paper) (broken []string) {
	jobs := map[int64][]bill.Paper{}
	for _, p := range issued {
		if p.Kind == bill.Invoice && !p.Takes(jobs[p.JobID]) {
			broken = append(broken, fmt.Sprintf("the invoice %s does not take off what was billed before it", p.Number))
		}
		jobs[p.JobID] = append(jobs[p.JobID], p)
	}
	return broken
}

// adjustmentChains follows every invoice through its adjustment notes: each must stand on
// what the one before left.
func adjustmentChains(issued []bill.Paper) (broken []string) {
	invoices := map[int64]bill.Standing{}
	for _, p := range issued {
		switch p.Kind {
		case bill.Invoice:
			invoices[p.ID] = bill.StandingOf(p, nil)
		case bill.Adjustment:
			standing, ok := invoices[p.AnswersID]
			if !ok || p.AnswersNumber != standing.Invoice.Number || !standsOn(p, standing) {
				broken = append(broken, fmt.Sprintf("the adjustment note %s does not stand on its invoice as it stood then", p.Number))
			}
			invoices[p.AnswersID] = bill.Standing{Invoice: standing.Invoice, Lines: p.NowLines()}
		}
	}
	return broken
}

// paperNumbers sets every number beside the serial it is made of.
func paperNumbers(db *gorm.DB) ([]string, error) {
	rows, err := all[paperRow](db.Order("id"))
	var broken []string
	for _, r := range rows {
		if due := number(letters[r.Kind], r.Year, r.Serial); r.Number != due {
			broken = append(broken, fmt.Sprintf("the paper %s is number %d of its series and should be %s", r.Number, r.Serial, due))
		}
		if r.IssuedOn.Time().Year() != r.Year {
			broken = append(broken, fmt.Sprintf("the paper %s of %s is in the series of %d", r.Number, r.IssuedOn, r.Year))
		}
	}
	return broken, err
}

// paperFiles hashes every kept PDF again, one at a time.
func paperFiles(db *gorm.DB) ([]string, error) {
	return hashes(db, `SELECT p.number, f.sha256, f.pdf FROM paper_files f JOIN papers p ON p.id = f.paper_id ORDER BY f.paper_id`,
		"the PDF of the paper %s is not the one that was kept")
}

// logFiles hashes every sowing log again, one at a time.
func logFiles(db *gorm.DB) ([]string, error) {
	return hashes(db, `SELECT name, sha256, content FROM logs ORDER BY id`, "the log %s is not the one that was loaded")
}

// lotDocuments hashes every document of a lot again, one at a time.
func lotDocuments(db *gorm.DB) ([]string, error) {
	return hashes(db, `SELECT title, sha256, content FROM lot_documents ORDER BY id`, "the document %s is not the one that was kept")
}

// photos hashes every photo from the truck again, one at a time.
func photos(db *gorm.DB) ([]string, error) {
	return hashes(db, `SELECT entry_key, sha256, content FROM photos ORDER BY id`, "the photo of the note %s is not the one that was kept")
}

func hashes(db *gorm.DB, statement, sentence string) ([]string, error) {
	rows, err := db.Raw(statement).Rows()
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var broken []string
	for rows.Next() {
		var name, sha256 string
		var content []byte
		if err := rows.Scan(&name, &sha256, &content); err != nil {
			return nil, err
		}
		if hashOf(content) != sha256 {
			broken = append(broken, fmt.Sprintf(sentence, name))
		}
	}
	return broken, rows.Err()
}
