package store

import (
	"context"

	"gorm.io/gorm"

	"rowtally/internal/bill"
	"rowtally/internal/fault"
	"rowtally/internal/job"
)

// Logs is the sowing logs of a job in the order of their loading, without their content;
// jobID 0 gives those of every job.
func (s *Store) Logs(ctx context.Context, jobID int64) ([]job.Log, error) {
	return logs(s.reader(ctx), jobID)
}

func logs(db *gorm.DB, jobIDs ...int64) ([]job.Log, error) {
	return all[job.Log](logHeads(db, jobIDs...))
}

// logHeads is a reading of logs without the logs themselves.
func logHeads(db *gorm.DB, jobIDs ...int64) *gorm.DB {
	return of(db, "job_id", jobIDs...).Omit("Content").Order("id")
}

// LogContent is a log as it was loaded, byte for byte.
func (s *Store) LogContent(ctx context.Context, id int64) ([]byte, error) {
	log, err := one[job.Log](s.reader(ctx), "log", id)
	return log.Content, err
}

// AddLog keeps a sowing log of a job. The same bytes twice on one job would count rows
// twice: that is a clash.
func (s *Store) AddLog(ctx context.Context, a job.Act, log job.Log) (int64, error) {
	return s.do(ctx, a, "load a log", func(t tx) (int64, error) {
		j, err := one[job.Job](t.DB, "job", log.JobID)
		if err != nil {
			return 0, err
		}
		log.ID, log.LoadedAt, log.PersonID, log.SHA256 = 0, t.now, t.act.PersonID, hashOf(log.Content)
		if err := t.add(&log, fault.Conflict("this log is already loaded for %s, choose another file", j.Code)); err != nil {
			return 0, err
		}
		return log.ID, t.tell("job", j.ID, "loaded the log %s for %s", log.Name, j.Code)
	})
}

// RemoveLog takes a wrong log off a job, and with it the sown record that was matched from
// it. Once an invoice rests on the job's logs it is a clash.
func (s *Store) RemoveLog(ctx context.Context, a job.Act, id int64) error {
	return s.done(ctx, a, "remove a log", func(t tx) error {
		log, ok, err := maybe[job.Log](t.Omit("Content").Where("id = ?", id))
		if err != nil {
			return err
		}
		if !ok {
			return notHere("log", id)
		}
		j, err := locked[job.Job](t, "job", log.JobID)
		if err != nil {
			return err
		}
		invoice, billed, err := maybe[paperRow](t.Where("job_id = ? AND kind = ? AND part <> ?", j.ID, bill.Invoice, bill.Deposit))
		if err != nil {
			return err
		}
		if billed {
			return fault.Conflict("the invoice %s rests on the logs of %s, they stay with it", invoice.Number, j.Code)
		}
		if err := t.Where("job_id = ?", j.ID).Delete(&job.Sown{}).Error; err != nil {
			return err
		}
		if err := t.Where("id = ?", id).Delete(&job.Log{}).Error; err != nil {
			return err
		}
		return t.tell("job", j.ID, "removed the log %s from %s", log.Name, j.Code)
	})
}
