package site

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"rowtally/internal/fault"
	"rowtally/internal/seed"
	"rowtally/internal/unit"
)

const (
	usualReplicates = 4 // of 100 seeds: what a laboratory puts to germinate
	mostReplicates  = 8
)

// counts are the columns of a replicate, as a certificate orders them.
var counts = []string{"seeds", "normal", "abnormal", "hard", "fresh", "dead"}

var testKinds = []Option{
	{string(seed.GerminationTest), "germination: seedlings in five classes"},
	{string(seed.Tetrazolium), "tetrazolium: seeds stained viable, under normal"},
	{string(seed.CutTest), "cut test: seeds filled and sound, under normal"},
}

var certificates = []Option{
	{string(seed.NoCertificate), "none, or a plain report"},
	{string(seed.LotCertificate), "of the lot: sampled and sealed by the laboratory"},
	{string(seed.SampleCertificate), "of the sample that was sent in"},
}

// testPage is the form for a germination test.
type testPage struct {
	Frame
	Head    string
	Action  string
	Back    string
	Lot     seed.Lot
	Counts  []string
	Usual   []replicateRow
	More    []replicateRow // beyond the usual, folded away
	Unfold  bool           // something is typed or wrong in More
	About   []Field
	Missing string // when no replicate is counted
}

// replicateRow is one replicate's cells.
type replicateRow struct {
	Number int
	Cells  []Field
	Error  string // about the row as a whole
}

func (s *site) testNew(r *request) error {
	lot, err := named(r, s.Books.Lot)
	if err != nil {
		return err
	}
	f := blank(map[string]string{"kind": string(seed.GerminationTest), "seeds_1": "100", "seeds_2": "100", "seeds_3": "100", "seeds_4": "100"})
	back := fmt.Sprintf("/shed/lots/%d", lot.ID)
	if r.isPost() {
		f = readForm(r)
		if test := testFrom(f, lot, r.today()); f.ok() {
			if _, err := s.Books.AddTest(r.Context(), r.act(), test); err == nil {
				return r.see(back + "?done=tested")
			} else if err := f.take(err); err != nil {
				return err
			}
		}
	}
	return r.drawTest(f, lot, back)
}

func (r *request) drawTest(f *form, lot seed.Lot, back string) error {
	page := testPage{Frame: r.frame("shed", "A test of "+lot.Code), Lot: lot, Action: r.Path(), Back: back, Counts: counts}
	for n := 1; n <= mostReplicates; n++ {
		row, used := f.replicateRow(n)
		if n <= usualReplicates {
			page.Usual = append(page.Usual, row)
			continue
		}
		page.More = append(page.More, row)
		page.Unfold = page.Unfold || used
	}
	page.About = f.fields(
		Field{Name: "kind", Label: "Kind of test", Kind: "select", Required: true, Options: testKinds},
		Field{Name: "certificate", Label: "Certificate", Kind: "select", Options: certificates, Hint: "What it speaks for: a sample that was sent in does not speak for the lot."},
		Field{Name: "tested_on", Label: "Finished on", Kind: "date", Required: true},
		Field{Name: "laboratory", Label: "Laboratory", Required: true},
		Field{Name: "reference", Label: "Certificate or report number"},
		Field{Name: "method", Label: "Method", Hint: "Substrate, temperature, pre-treatment."},
		Field{Name: "note", Label: "Note", Kind: "textarea"},
	)
	page.Missing, f.drawn["replicates"] = f.wrong["replicates"], true
	page.Head = f.head()
	if !f.ok() {
		r.Status(422)
	}
	return r.show("germination_new", page)
}

// cell names the field of one count of one replicate.
func cell(count string, n int) string { return count + "_" + strconv.Itoa(n) }

// replicateRow draws one replicate; used tells whether anything is in it.
func (f *form) replicateRow(n int) (row replicateRow, used bool) {
	row = replicateRow{Number: n, Error: f.wrong[cell("replicate", n)]}
	f.drawn[cell("replicate", n)] = true
	used = row.Error != ""
	for _, count := range counts {
		drawn := f.field(Field{Name: cell(count, n), Label: count + " of replicate " + strconv.Itoa(n), Kind: "number", Inputmode: "numeric"})
		used = used || drawn.Value != "" || drawn.Error != ""
		row.Cells = append(row.Cells, drawn)
	}
	return row, used
}

// testFrom reads a test off its form, and holds its counts to the rules of seed testing.
func testFrom(f *form, lot seed.Lot, today unit.Date) seed.Test {
	t := seed.Test{
		LotID: lot.ID, Kind: seed.TestKind(f.typed["kind"]), Certificate: seed.Certificate(f.typed["certificate"]), TestedOn: f.past("tested_on", true, today), Laboratory: f.must("laboratory", "Enter who tested it."),
		Reference: f.text("reference"), Method: f.text("method"), Note: f.text("note"),
	}
	var numbers []int // of the rows that the replicates came from
	for n := 1; n <= mostReplicates; n++ {
		if f.counted(n) {
			t.Replicates = append(t.Replicates, f.replicate(n))
			numbers = append(numbers, n)
		}
	}
	if len(numbers) == 0 {
		f.refuse("replicates", "Enter the counts of at least one replicate.")
	}
	if f.ok() {
		_, err := seed.JudgeGermination(seed.GerminationCounts{Replicates: t.Replicates})
		f.heedTest(errors.Join(err, t.Check(lot, today)), numbers)
	}
	return t
}

// counted tells whether a row holds more than the seeds it begins with.
func (f *form) counted(n int) bool {
	for _, count := range counts[1:] {
		if f.typed[cell(count, n)] != "" {
			return true
		}
	}
	return n > usualReplicates && f.typed[cell("seeds", n)] != ""
}

func (f *form) replicate(n int) seed.Replicate {
	const most = 10_000
	maybe := func(count string) *int {
		if f.typed[cell(count, n)] == "" {
			return nil
		}
		v := f.integer(cell(count, n), 0, most)
		return &v
	}
	return seed.Replicate{
		Seeds: f.integer(cell("seeds", n), 1, most), Normal: f.integer(cell("normal", n), 0, most),
		Abnormal: maybe("abnormal"), Hard: maybe("hard"), Fresh: maybe("fresh"), Dead: maybe("dead"),
	}
}

// heedTest puts what is wrong with a test beside its fields.
func (f *form) heedTest(refused error, rows []int) {
	for _, name := range []string{"tested_on", "kind", "certificate"} {
		if message, wrong := fault.Fields(refused)[name]; wrong {
			f.refuse(name, "%s", sentence(message))
		}
	}
	f.heedReplicates(refused, rows)
}

// heedReplicates puts what is wrong with "replicates[1].dead" beside the cell of the row
// that the second replicate was typed in.
func (f *form) heedReplicates(refused error, rows []int) {
	for name, message := range fault.Fields(refused) {
		if !strings.HasPrefix(name, "replicates") {
			continue
		}
		where, count, _ := strings.Cut(strings.TrimPrefix(name, "replicates["), "]")
		i, err := strconv.Atoi(where)
		if err != nil || i >= len(rows) {
			f.refuse("replicates", "%s", sentence(message))
			continue
		}
		if count = strings.TrimPrefix(count, "."); count == "" {
			count = "replicate"
		}
		f.refuse(cell(count, rows[i]), "%s", sentence(message))
	}
}
