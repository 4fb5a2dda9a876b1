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
		if err := t.driveToldOnce(m, sheet); err != nil {
			return 0, err
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

// driveToldOnce refuses row-km that the sheet of the machine which pulls this one, or of one that
// it pulls, tells of the same job and day: one drive would count twice.
func (t tx) driveToldOnce(m machine.Machine, sheet machine.DaySheet) error {
	if sheet.RowM == 0 {
		return nil
	}
	var told []string
	err := t.Table("day_sheets").Joins("JOIN machines ON machines.id = day_sheets.machine_id").
		Where("job_id = ? AND day = ? AND row_m > 0 AND (machines.id = ? OR pulled_by_id = ?)", sheet.JobID, sheet.Day, m.PulledByID, m.ID).
		Limit(1).Pluck("machines.name", &told).Error
	if err != nil || len(told) == 0 {
		return err
	}
	return fault.Refuse("row_km", "the sheet of %s tells the row-km of %s already, and the two drive as one: enter 0 here, or take that sheet away first", told[0], sheet.Day)
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
