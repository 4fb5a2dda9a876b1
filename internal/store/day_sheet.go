package store

import (
	"context"

	"gorm.io/gorm"

	"rowtally/internal/fault"
	"rowtally/internal/job"
	"rowtally/internal/machine"
)

// DaySheets is the day sheets of a job in the order of their days; jobID 0 gives all.
func (s *Store) DaySheets(ctx context.Context, jobID int64) ([]machine.DaySheet, error) {
	return daySheets(s.reader(ctx), jobID)
}

func daySheets(db *gorm.DB, jobIDs ...int64) ([]machine.DaySheet, error) {
	return all[machine.DaySheet](of(db, "job_id", jobIDs...).Order("day, id"))
}

// AddDaySheet keeps what one machine and operator did in one day, and moves the machine's
// meter forward with it. A sheet that comes in late leaves a later reading alone.
func (s *Store) AddDaySheet(ctx context.Context, a job.Act, sheet machine.DaySheet) (int64, error) {
	return s.do(ctx, a, "enter a day sheet", func(t tx) (int64, error) {
		m, err := locked[machine.Machine](t, "machine", sheet.MachineID)
		if err != nil {
			return 0, err
		}
		j, err := one[job.Job](t.DB, "job", sheet.JobID)
		if err != nil {
			return 0, err
		}
		if sheet.MeterToMin < sheet.MeterFromMin {
			return 0, fault.Refuse("meter_to_min", "the meter of %s went from %s back to %s, enter the later reading last",
				m.Name, meter(sheet.MeterFromMin), meter(sheet.MeterToMin))
		}
		sheet.ID, sheet.EnteredAt, sheet.PersonID = 0, t.now, t.act.PersonID
		if err := t.Create(&sheet).Error; err != nil {
			return 0, err
		}
		if sheet.MeterToMin > m.MeterMin {
			if err := t.setMeter(m.ID, sheet.MeterToMin, max(sheet.Day, m.MeterOn)); err != nil {
				return 0, err
			}
		}
		return sheet.ID, t.tell("job", j.ID, "entered the day sheet of %s for %s on %s", m.Name, j.Code, sheet.Day)
	})
}

// RemoveDaySheet takes a day sheet that was entered by mistake away again. The machine's
// meter goes back to where the sheet began, unless it was read since.
func (s *Store) RemoveDaySheet(ctx context.Context, a job.Act, id int64) error {
	return s.done(ctx, a, "take a day sheet away", func(t tx) error {
		sheet, err := one[machine.DaySheet](t.DB, "day sheet", id)
		if err != nil {
			return err
		}
		m, err := locked[machine.Machine](t, "machine", sheet.MachineID)
		if err != nil {
			return err
		}
		if err := t.Where("id = ?", id).Delete(&machine.DaySheet{}).Error; err != nil {
			return err
		}
		if m.MeterMin == sheet.MeterToMin {
			if err := t.setMeter(m.ID, sheet.MeterFromMin, m.MeterOn); err != nil {
				return err
			}
		}
		return t.tell("job", sheet.JobID, "took the day sheet of %s on %s away again", m.Name, sheet.Day)
	})
}
