package site

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"slices"
	"strconv"

	"rowtally/internal/job"
)

// sownBooks is what the sown record asks of the store.
type sownBooks interface {
	AddLog(ctx context.Context, act job.Act, log job.Log) (int64, error)
	RemoveLog(ctx context.Context, act job.Act, id int64) error
	LogContent(ctx context.Context, id int64) ([]byte, error)
	KeepSown(ctx context.Context, act job.Act, sown job.Sown) error
}

func (s *site) sownRoutes() []route {
	return []route{
		office(get, "/jobs/:id/sown", s.sown),
		office(post, "/jobs/:id/sown", s.sown),
		office(post, "/jobs/:id/sown/:log/remove", s.logRemove),
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
	if facts.Sown != nil {
		page.Rows, page.Refused = facts.Sown.Rows(), facts.Sown.RefusedFixes()
	}
	return r.show("sown", page)
}

func logFields(laid job.Laid) []Field {
	return []Field{
		{Name: "log", Label: "Log of the machine", Kind: "file", Hint: "CSV or GPX, as the receiver wrote it. A column “sowing” with 1 and 0 is used where there is one."},
		{Name: "rows", Label: "Rows sown in one pass", Kind: "number", Required: true},
		{Name: "row_gap_m", Label: "Gap between them", Unit: "m", Kind: "number"},
		{Name: "offset_right_m", Label: "Rows' middle lies right of the antenna by", Unit: "m", Kind: "number", Hint: "Below zero when it lies to the left."},
	}
}

func implementTyped(facts job.Facts) map[string]string {
	typed := map[string]string{"rows": "1", "offset_right_m": "0"}
	if facts.Layout != nil {
		typed["rows"], typed["row_gap_m"] = strconv.Itoa(facts.Layout.RowsPerBelt), short(facts.Layout.RowGapM)
	}
	return typed
}

// loadLog matches the job's logs with the new one, and only when that works keeps both.
func (s *site) loadLog(r *request, f *form, facts job.Facts) error {
	name, content, given := f.file(r, "log")
	if !given && f.ok() {
		f.refuse("log", "Choose the log's file.")
	}
	log := job.Log{JobID: facts.Job.ID, Name: name, LoadedAt: r.now, PersonID: r.person.ID,
		PassRows: f.integer("rows", 1, 50), OffsetRightM: f.maybe("offset_right_m", -50, 50, 0)}
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

func (s *site) keepSown(r *request, record job.Sown) error {
	record.MadeAt = r.now
	act := r.act()
	act.Key = "" // follows from what is stored, and may be done again
	return s.Books.KeepSown(r.Context(), act, record)
}

// logsWhole reads the content of the logs loaded so far.
func (s *site) logsWhole(r *request, logs []job.Log) ([]job.Log, error) {
	whole := make([]job.Log, len(logs))
	var failed error
	for i, log := range logs {
		content, err := s.Books.LogContent(r.Context(), log.ID)
		failed = errors.Join(failed, err)
		log.Content = content
		whole[i] = log
	}
	return whole, failed
}

// logRemove takes a log of the job, loaded by mistake, out again and matches the rest anew.
func (s *site) logRemove(r *request) error {
	facts, err := s.jobFacts(r)
	if err != nil {
		return err
	}
	id, err := r.id("log")
	if err != nil {
		return err
	}
	if !slices.ContainsFunc(facts.Logs, func(l job.Log) bool { return l.ID == id }) {
		return noPage()
	}
	if err := s.Books.RemoveLog(r.Context(), r.act(), id); err != nil {
		return err
	}
	facts.Logs = slices.DeleteFunc(facts.Logs, func(l job.Log) bool { return l.ID == id })
	if err := s.matchAnew(r, facts); err != nil {
		return err
	}
	return r.see(jobPath(facts.Job.ID) + "/sown?done=kept")
}

// matchAnew keeps the record of the logs that are left; of none there is no record.
func (s *site) matchAnew(r *request, facts job.Facts) error {
	if len(facts.Logs) == 0 {
		return nil
	}
	logs, err := s.logsWhole(r, facts.Logs)
	if err != nil {
		return err
	}
	record, err := job.Match(facts, logs)
	if err != nil {
		return err
	}
	return s.keepSown(r, record)
}
