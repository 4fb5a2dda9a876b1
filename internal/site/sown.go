package site

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"strconv"

	"rowtally/internal/job"
	"rowtally/internal/sown"
)

// sownBooks is what the sown record asks of the store.
type sownBooks interface {
	AddLog(ctx context.Context, act job.Act, log job.Log) (int64, error)
	RemoveLog(ctx context.Context, act job.Act, id int64) error
	LogContent(ctx context.Context, id int64) ([]byte, error)
	KeepSown(ctx context.Context, act job.Act, sown job.Sown) error
	Measuring(ctx context.Context, jobID int64) (job.Measuring, error)
	KeepMeasuring(ctx context.Context, act job.Act, m job.Measuring) error
	DropMeasuring(ctx context.Context, act job.Act, jobID int64) error
}

func (s *site) sownRoutes() []route {
	return []route{
		office(get, "/jobs/:id/sown", s.sown),
		office(post, "/jobs/:id/sown", s.sown),
		office(post, "/jobs/:id/sown/again", s.sownAgain),
		office(post, "/jobs/:id/sown/:log/remove", s.logRemove),
		office(get, "/jobs/:id/measuring", s.jobMeasuring),
		office(post, "/jobs/:id/measuring", s.jobMeasuring),
		office(post, "/jobs/:id/measuring/usual", s.measuringUsual),
		office(get, "/measuring", s.measuring),
		office(post, "/measuring", s.measuring),
	}
}

type sownPage struct {
	Frame
	Job     job.Job
	Sown    *job.Sown
	Rows    []job.SownRow
	Logs    []job.Log
	Sketch  *sketch
	Fields  []Field
	Head    string
	Refused []job.RefusedFix
	Files   []job.SownFile
	Remarks []string // what a person should look at before the figures are used

	Ways    []job.Way
	Compare sown.Comparison

	Now   job.Measuring // what holds for the next match
	Stale bool          // the record was matched with other settings
}

// Own tells whether the job has settings of its own.
func (p sownPage) Own() bool { return p.Now.JobID != 0 }

// Unlisted is how many refused fixes are beyond those that the record lists.
func (p sownPage) Unlisted() int {
	listed := 0
	for _, one := range p.Refused {
		listed++
		if one.ToLine > 0 {
			return 0 // runs of lines stand for more than one
		}
	}
	return p.Sown.Refused - listed
}

// sown shows rows planned against sown, and loads a log.
func (s *site) sown(r *request) error {
	facts, err := s.jobFacts(r)
	if err != nil {
		return err
	}
	id := facts.Job.ID
	laid, err := facts.Rows()
	if err != nil {
		return err
	}
	f := blank(implementTyped(facts))
	if r.isPost() {
		f = readForm(r)
		if err := s.loadLog(r, f, facts); err != nil {
			return err
		}
		if f.ok() {
			return r.see(jobPath(id) + "/sown?done=loaded")
		}
		r.Status(422)
	}
	chain := job.ChainOf(facts)
	page := sownPage{Frame: r.frame("jobs", "Sown: "+facts.Job.Name), Job: facts.Job, Sown: facts.Sown, Logs: facts.Logs,
		Sketch: sketchOf(*chain.Map, acrossPage), Fields: f.fields(logFields(laid)...)}
	page.Head = f.head()
	page.fill(facts)
	return r.show("sown", page)
}

func (p *sownPage) fill(facts job.Facts) {
	p.Ways, p.Compare = facts.ThreeWays()
	p.Now = facts.Measured()
	if facts.Sown == nil {
		return
	}
	p.Rows, p.Refused, p.Files = facts.Sown.Rows(), facts.Sown.RefusedFixes(), facts.Sown.Files()
	for i := range p.Files {
		p.Files[i].From, p.Files[i].To = inZone(p.Files[i].From, facts.Business.Zone), inZone(p.Files[i].To, facts.Business.Zone)
	}
	for _, note := range facts.Sown.Notes() {
		p.Remarks = append(p.Remarks, sentence(note))
	}
	p.Stale = facts.Sown.MatchedWith().Says("") != p.Now.Says("")
}

func logFields(laid job.Laid) []Field {
	return []Field{
		{Name: "log", Label: "Log of the machine", Kind: "file", Hint: "CSV, GPX, NMEA or GeoJSON, as the receiver wrote it, or packed as .gz. A column “sowing” with 1 and 0 is used where there is one."},
		{Name: "rows", Label: "Rows sown in one pass", Kind: "number", Required: true},
		{Name: "row_gap_m", Label: "Gap between them", Unit: "m", Kind: "number"},
		{Name: "offset_right_m", Label: "Rows' middle lies right of the antenna by", Unit: "m", Kind: "number", Hint: "Below zero when it lies to the left."},
		{Name: "behind_m", Label: "Rows lie behind the antenna by", Unit: "m", Kind: "number", Hint: "Where the seed falls. Below zero when it lies ahead."},
	}
}

func implementTyped(facts job.Facts) map[string]string {
	if n := len(facts.Logs); n > 0 { // most often the same machine goes on
		last := facts.Logs[n-1]
		return map[string]string{"rows": strconv.Itoa(last.PassRows), "row_gap_m": short(last.RowGapM), "offset_right_m": short(last.OffsetRightM), "behind_m": short(last.BehindM)}
	}
	typed := map[string]string{"rows": "1", "offset_right_m": "0", "behind_m": "0"}
	if facts.Layout != nil {
		typed["rows"], typed["row_gap_m"] = strconv.Itoa(facts.Layout.RowsPerBelt), short(facts.Layout.RowGapM)
	}
	return typed
}

// loadLog matches the job's logs with the new one, and only when that works keeps both.
func (s *site) loadLog(r *request, f *form, facts job.Facts) error {
	name, content, given := f.fileUpTo(r, "log", job.LargestLog)
	if !given && f.ok() {
		f.refuse("log", "Choose the log's file.")
	}
	log := job.Log{JobID: facts.Job.ID, Name: name, LoadedAt: r.now, PersonID: r.person.ID,
		PassRows: f.integer("rows", 1, 50), OffsetRightM: f.maybe("offset_right_m", -50, 50, 0), BehindM: f.maybe("behind_m", -50, 50, 0)}
	if log.PassRows > 1 {
		log.RowGapM = f.number("row_gap_m", 0.1, 100)
	}
	if !f.ok() {
		return nil
	}
	sum := sha256.Sum256(content)
	log.Content, log.SHA256 = content, hex.EncodeToString(sum[:])
	logs, err := s.logsWhole(r, facts.Logs)
	if err != nil {
		return err
	}
	record, err := job.Match(facts, append(logs, log))
	if err := f.take(err); err != nil || !f.ok() {
		return err
	}
	log.Format = job.LogFormat(name, content)
	if _, err := s.Books.AddLog(r.Context(), r.act(), log); err != nil {
		return f.take(err)
	}
	return s.keepSown(r, record)
}
