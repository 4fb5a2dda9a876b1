package store

import (
	"time"

	"gorm.io/gorm"

	"rowtally/internal/bill"
	"rowtally/internal/money"
	"rowtally/internal/unit"
)

// paperRow is an issued paper without its lines, its particulars and its file.
type paperRow struct {
	ID         int64
	Kind       bill.Kind
	JobID      int64
	Year       int
	Serial     int64
	Number     string
	Revision   int
	AnswersID  int64
	IssuedOn   unit.Date
	IssuedAt   time.Time
	UntilOn    unit.Date
	PersonID   int64
	PersonName string
	Issuer     bill.Party `gorm:"embedded;embeddedPrefix:issuer_"`
	Buyer      bill.Party `gorm:"embedded;embeddedPrefix:buyer_"`
	Registered bool
	Inclusive  bool
	Part       bill.Part
	TaxLabel   string
	Currency   string
	PayTo      string
	Reference  string
	Farm       string
	Paddock    string
	Season     int
	RowM       float64
	Basis      string
	Map        string
	NetTotal   money.Cents
	TaxTotal   money.Cents
	Total      money.Cents

	AnswersNumber string
	AnswersOn     unit.Date
	Reason        string

	Conditions bill.Conditions `gorm:"embedded;embeddedPrefix:terms_"`
}

// paperParticularRow is a heading and its sentence on a paper.
type paperParticularRow struct {
	PaperID  int64
	Position int
	bill.Particular
}

// paperFileRow is the PDF of a paper, kept once.
type paperFileRow struct {
	PaperID int64
	SHA256  string
	PDF     []byte
}

func rowOf(p bill.Paper) paperRow {
	return paperRow{p.ID, p.Kind, p.JobID, p.Year, p.Serial, p.Number, p.Revision, p.AnswersID, p.IssuedOn, p.IssuedAt, p.UntilOn,
		p.PersonID, p.PersonName, p.Issuer, p.Buyer, p.Registered, p.Inclusive, p.Part, p.TaxLabel, p.Currency, p.PayTo, p.Reference,
		p.Farm, p.Paddock, p.Season, p.RowM, p.Basis, p.Map, p.NetTotal, p.TaxTotal, p.Total,
		p.AnswersNumber, p.AnswersOn, p.Reason, p.Conditions}
}

func (r paperRow) paper() bill.Paper {
	return bill.Paper{ID: r.ID, Kind: r.Kind, JobID: r.JobID, Year: r.Year, Serial: r.Serial, Number: r.Number, Revision: r.Revision,
		AnswersID: r.AnswersID, IssuedOn: r.IssuedOn, IssuedAt: r.IssuedAt, UntilOn: r.UntilOn, PersonID: r.PersonID, PersonName: r.PersonName,
		Issuer: r.Issuer, Buyer: r.Buyer, Registered: r.Registered, Inclusive: r.Inclusive, Part: r.Part, TaxLabel: r.TaxLabel, Currency: r.Currency, PayTo: r.PayTo, Reference: r.Reference,
		Farm: r.Farm, Paddock: r.Paddock, Season: r.Season, RowM: r.RowM, Basis: r.Basis, Map: r.Map,
		NetTotal: r.NetTotal, TaxTotal: r.TaxTotal, Total: r.Total,
		AnswersNumber: r.AnswersNumber, AnswersOn: r.AnswersOn, Reason: r.Reason, Conditions: r.Conditions}
}

// papers reads the papers that a condition on their columns names, in the order of their
// issue. It takes seven statements; nothing of a paper but its file comes after its issue.
func papers(db *gorm.DB, condition string, args ...any) ([]bill.Paper, error) {
	named := func() *gorm.DB { return db.Session(&gorm.Session{}) }
	rows, err := all[paperRow](named().Where(condition, args...).Order("id"))
	if err != nil || len(rows) == 0 {
		return nil, err
	}
	const onThem = "paper_id IN (SELECT id FROM papers WHERE "
	lines, err := all[bill.PaperLine](named().Where(onThem+condition+")", args...).Order("paper_id, position"))
	if err != nil {
		return nil, err
	}
	adjusted, err := all[bill.AdjustedLine](named().Where(onThem+condition+")", args...).Order("paper_id, position"))
	if err != nil {
		return nil, err
	}
	particulars, err := all[paperParticularRow](named().Where(onThem+condition+")", args...).Order("paper_id, position"))
	if err != nil {
		return nil, err
	}
	lots, err := all[bill.PaperLot](named().Where(onThem+condition+")", args...).Order("paper_id, position"))
	if err != nil {
		return nil, err
	}
	files, err := all[paperFileRow](named().Select("paper_id", "sha256").Where(onThem+condition+")", args...))
	if err != nil {
		return nil, err
	}
	out := assembled(rows, lines, adjusted, particulars, lots, files)
	return out, addPaperAlternatives(named().Where(onThem+condition+")", args...), out)
}

func assembled(rows []paperRow, lines []bill.PaperLine, adjusted []bill.AdjustedLine, particulars []paperParticularRow, lots []bill.PaperLot, files []paperFileRow) []bill.Paper {
	out := make([]bill.Paper, 0, len(rows))
	at := map[int64]int{}
	for i, r := range rows {
		out, at[r.ID] = append(out, r.paper()), i
	}
	// A paper issued between two statements is in the later one only: leave it out whole.
	for _, l := range lines {
		if i, ok := at[l.PaperID]; ok {
			out[i].Lines = append(out[i].Lines, l)
		}
	}
	for _, l := range adjusted {
		if i, ok := at[l.PaperID]; ok {
			out[i].Adjusted = append(out[i].Adjusted, l)
		}
	}
	for _, p := range particulars {
		if i, ok := at[p.PaperID]; ok {
			out[i].Particulars = append(out[i].Particulars, p.Particular)
		}
	}
	for _, l := range lots {
		if i, ok := at[l.PaperID]; ok {
			out[i].Lots = append(out[i].Lots, l)
		}
	}
	for _, f := range files {
		if i, ok := at[f.PaperID]; ok {
			out[i].SHA256 = f.SHA256
		}
	}
	return out
}

// paperHeads reads papers without their lines, particulars and pictures: what accounts,
// statements and lists of papers need, in one statement.
func paperHeads(db *gorm.DB, condition string, args ...any) ([]bill.Paper, error) {
	rows, err := all[paperRow](db.Session(&gorm.Session{}).Omit("map").Where(condition, args...).Order("id"))
	out := make([]bill.Paper, len(rows))
	for i, r := range rows {
		out[i] = r.paper()
	}
	return out, err
}
