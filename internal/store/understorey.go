package store

import (
	"context"

	"gorm.io/gorm"

	"rowtally/internal/fault"
	"rowtally/internal/job"
)

// understoreyRow is an understorey without its species.
type understoreyRow struct {
	JobID      int64
	HectaresOf job.HectaresOf
}

// understoreySpeciesRow is one species of an understorey.
type understoreySpeciesRow struct {
	JobID           int64
	Position        int
	Species         string
	RateKgPerHa     float64
	RateIsLive      bool
	CountHard       bool
	InoculantGroup  string
	InoculantGPerKg float64
	InoculantHours  float64
}

// understoreyLotRow is one lot that supplies a species of an understorey.
type understoreyLotRow struct {
	JobID           int64
	SpeciesPosition int
	Position        int
	LotID           int64
	SharePercent    float64 // 0 for equal shares
}

// sownSpecies is one species of an understorey with one of the lots that supply it.
type sownSpecies struct {
	Of    understoreySpeciesRow `gorm:"embedded"`
	LotID *int64                // nil for a species without a lot

	SharePercent float64
}

// Understorey is what is sown over a job's hectares; ok is false while nothing is chosen.
func (s *Store) Understorey(ctx context.Context, jobID int64) (u job.Understorey, ok bool, err error) {
	return first(understoreys(s.reader(ctx), jobID))
}

func understoreys(db *gorm.DB, jobIDs ...int64) ([]job.Understorey, error) {
	heads, err := all[understoreyRow](of(several(db), "job_id", jobIDs...))
	if err != nil || len(heads) == 0 {
		return nil, err
	}
	species, err := speciesSown(of(several(db).Table("understorey_species AS s"), "s.job_id", jobIDs...))
	var out []job.Understorey
	for _, h := range heads {
		out = append(out, job.Understorey{JobID: h.JobID, HectaresOf: h.HectaresOf, Species: species[h.JobID]})
	}
	return out, err
}

// speciesSown reads the species of understoreys with their lots, by job, in one statement;
// the species are s in it.
func speciesSown(named *gorm.DB) (map[int64][]job.UnderstoreySpecies, error) {
	var rows []sownSpecies
	err := named.Select("s.*, l.lot_id, coalesce(l.share_percent, 0) AS share_percent").
		Joins("LEFT JOIN understorey_lots AS l ON l.job_id = s.job_id AND l.species_position = s.position").
		Order("s.job_id, s.position, l.position").Scan(&rows).Error
	species := map[int64][]job.UnderstoreySpecies{}
	for i, r := range rows {
		list := species[r.Of.JobID]
		if i == 0 || rows[i-1].Of.JobID != r.Of.JobID || rows[i-1].Of.Position != r.Of.Position {
			list = append(list, r.Of.species())
		}
		if r.LotID != nil {
			last := &list[len(list)-1]
			last.LotIDs = append(last.LotIDs, *r.LotID)
			if r.SharePercent > 0 {
				last.SharePercents = append(last.SharePercents, r.SharePercent)
			}
		}
		species[r.Of.JobID] = list
	}
	return species, err
}

func (r understoreySpeciesRow) species() job.UnderstoreySpecies {
	return job.UnderstoreySpecies{Species: r.Species, RateKgPerHa: r.RateKgPerHa, RateIsLive: r.RateIsLive, CountHard: r.CountHard,
		InoculantGroup: r.InoculantGroup, InoculantGPerKg: r.InoculantGPerKg, InoculantHours: r.InoculantHours}
}

// KeepUnderstorey chooses a job's understorey, or chooses it anew; one without species takes
// it away.
func (s *Store) KeepUnderstorey(ctx context.Context, a job.Act, u job.Understorey) error {
	return s.done(ctx, a, "choose an understorey", func(t tx) error {
		j, err := locked[job.Job](t, "job", u.JobID)
		if err != nil {
			return err
		}
		for _, table := range []any{&understoreyLotRow{}, &understoreySpeciesRow{}, &understoreyRow{}} {
			if err := t.Where("job_id = ?", u.JobID).Delete(table).Error; err != nil {
				return err
			}
		}
		if len(u.Species) == 0 {
			return t.tell("job", j.ID, "took the understorey of %s away", j.Code)
		}
		if err := t.keepUnderstorey(u); err != nil {
			return err
		}
		return t.tell("job", j.ID, "chose the understorey of %s: %d species over its %s hectares", j.Code, len(u.Species), u.HectaresOf)
	})
}

func (t tx) keepUnderstorey(u job.Understorey) error {
	if u.HectaresOf != job.GrossHa && u.HectaresOf != job.AlleyHa {
		return fault.Refuse("hectares_of", "an understorey is sown over the gross or the alley hectares, choose one")
	}
	if err := t.Create(&understoreyRow{u.JobID, u.HectaresOf}).Error; err != nil {
		return err
	}
	for position, s := range u.Species {
		row := understoreySpeciesRow{u.JobID, position, s.Species, s.RateKgPerHa, s.RateIsLive, s.CountHard,
			s.InoculantGroup, s.InoculantGPerKg, s.InoculantHours}
		if err := t.Create(&row).Error; err != nil {
			return err
		}
		for i, lotID := range s.LotIDs {
			lot := understoreyLotRow{u.JobID, position, i, lotID, 0}
			if s.SharePercents != nil {
				lot.SharePercent = s.SharePercents[i]
			}
			if err := t.Create(&lot).Error; err != nil {
				return err
			}
		}
	}
	return nil
}
