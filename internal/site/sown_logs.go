package site

import (
	"errors"
	"slices"

	"rowtally/internal/job"
)

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
	record, matched, err := s.matched(r, facts)
	if err != nil || !matched {
		return err
	}
	return s.keepSown(r, record)
}

// matched matches the logs of a job as it stands; matched is false where there are none.
func (s *site) matched(r *request, facts job.Facts) (record job.Sown, matched bool, err error) {
	if len(facts.Logs) == 0 {
		return record, false, nil
	}
	logs, err := s.logsWhole(r, facts.Logs)
	if err != nil {
		return record, false, err
	}
	record, err = job.Match(facts, logs)
	return record, err == nil, err
}

// sownAgain matches the job's logs anew, with the settings and the rows of today.
func (s *site) sownAgain(r *request) error {
	facts, err := s.jobFacts(r)
	if err != nil {
		return err
	}
	if err := s.matchAnew(r, facts); err != nil {
		return err
	}
	return r.see(jobPath(facts.Job.ID) + "/sown?done=matched")
}
