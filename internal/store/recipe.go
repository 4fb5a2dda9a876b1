package store

import (
	"context"

	"gorm.io/gorm"

	"rowtally/internal/fault"
	"rowtally/internal/job"
)

// recipeRow is a recipe without its species.
type recipeRow struct {
	JobID        int64
	PlacementML  float64
	TubL         float64
	SparePercent float64
	ProductID    int64
	ScaleStepG   float64
	LiveBy       job.LiveBy
	Limits       job.LotLimits `gorm:"embedded"`

	SowerID                        int64
	VoidsFraction, FirstTubMediumL float64
}

// recipeSpeciesRow is one species of a recipe.
type recipeSpeciesRow struct {
	JobID               int64
	Position            int
	Species             string
	EmergencePercent    float64
	LivePerPlacement    float64
	TargetFilledPercent float64

	EmergenceLowPercent, EmergenceHighPercent float64

	EmergenceFrom string
}

// recipeLotRow is one lot that supplies a species of a recipe.
type recipeLotRow struct {
	JobID           int64
	SpeciesPosition int
	Position        int
	LotID           int64
	SharePercent    float64 // 0 for equal shares
}

// suppliedSpecies is one species of a recipe with one of the lots that supply it.
type suppliedSpecies struct {
	Of           recipeSpeciesRow `gorm:"embedded"`
	LotID        *int64           // nil for a species without a lot
	SharePercent float64
}

// Recipe is what goes into a job's tubs; ok is false while nothing is chosen.
func (s *Store) Recipe(ctx context.Context, jobID int64) (recipe job.Recipe, ok bool, err error) {
	return first(recipes(s.reader(ctx), jobID))
}

func recipes(db *gorm.DB, jobIDs ...int64) ([]job.Recipe, error) {
	rows, err := all[recipeRow](of(several(db), "job_id", jobIDs...))
	if err != nil || len(rows) == 0 {
		return nil, err
	}
	species, err := recipeSpecies(several(db), jobIDs...)
	var out []job.Recipe
	for _, row := range rows {
		out = append(out, job.Recipe{JobID: row.JobID, PlacementML: row.PlacementML, TubL: row.TubL,
			SparePercent: row.SparePercent, ProductID: row.ProductID, ScaleStepG: row.ScaleStepG, LiveBy: row.LiveBy, Limits: row.Limits,
			SowerID: row.SowerID, VoidsFraction: row.VoidsFraction, FirstTubMediumL: row.FirstTubMediumL, Species: species[row.JobID]})
	}
	return out, err
}

// recipeSpecies reads the species of recipes and their lots, by job, in one statement, so that a
// recipe that is changed meanwhile is never read half old, half new.
func recipeSpecies(db *gorm.DB, jobIDs ...int64) (map[int64][]job.RecipeSpecies, error) {
	var rows []suppliedSpecies
	err := of(db.Table("recipe_species AS s"), "s.job_id", jobIDs...).Select("s.*, l.lot_id, coalesce(l.share_percent, 0) AS share_percent").
		Joins("LEFT JOIN recipe_lots AS l ON l.job_id = s.job_id AND l.species_position = s.position").
		Order("s.job_id, s.position, l.position").Scan(&rows).Error
	out := map[int64][]job.RecipeSpecies{}
	for i, r := range rows {
		list := out[r.Of.JobID]
		if i == 0 || rows[i-1].Of.JobID != r.Of.JobID || rows[i-1].Of.Position != r.Of.Position {
			list = append(list, r.Of.species())
		}
		if r.LotID != nil {
			supply(&list[len(list)-1], *r.LotID, r.SharePercent)
		}
		out[r.Of.JobID] = list
	}
	return out, err
}

// supply adds a lot to a species; a share of 0 is an equal one.
func supply(species *job.RecipeSpecies, lotID int64, sharePercent float64) {
	species.LotIDs = append(species.LotIDs, lotID)
	if sharePercent > 0 {
		species.SharePercents = append(species.SharePercents, sharePercent)
	}
}

func (r recipeSpeciesRow) species() job.RecipeSpecies {
	return job.RecipeSpecies{Species: r.Species, EmergencePercent: r.EmergencePercent,
		EmergenceLowPercent: r.EmergenceLowPercent, EmergenceHighPercent: r.EmergenceHighPercent, EmergenceFrom: r.EmergenceFrom,
		LivePerPlacement: r.LivePerPlacement, TargetFilledPercent: r.TargetFilledPercent}
}

// JobsWithLot is the jobs whose recipe names a lot, soonest window first.
func (s *Store) JobsWithLot(ctx context.Context, lotID int64) ([]job.Job, error) {
	return all[job.Job](s.reader(ctx).
		Where("id IN (SELECT job_id FROM recipe_lots WHERE lot_id = ?)", lotID).Order("window_from, id"))
}

// KeepRecipe chooses a job's lots, medium and rates, or chooses them anew.
func (s *Store) KeepRecipe(ctx context.Context, a job.Act, recipe job.Recipe) error {
	return s.done(ctx, a, "choose a recipe", func(t tx) error {
		j, err := locked[job.Job](t, "job", recipe.JobID)
		if err != nil {
			return err
		}
		if err := t.keepRecipe(recipe); err != nil {
			return err
		}
		return t.tell("job", j.ID, "chose the recipe of %s: %d species at %g mL a placement", j.Code, len(recipe.Species), recipe.PlacementML)
	})
}

// KeepVoids keeps with a job's recipe what its first tub showed: the share of the seed's own
// volume that fills the medium's voids, and the litres of medium that showed it.
func (s *Store) KeepVoids(ctx context.Context, a job.Act, jobID int64, share, mediumL float64) error {
	return s.done(ctx, a, "keep the first tub", func(t tx) error {
		j, err := locked[job.Job](t, "job", jobID)
		if err != nil {
			return err
		}
		kept := t.Model(&recipeRow{}).Where("job_id = ?", jobID).Updates(map[string]any{"voids_fraction": share, "first_tub_medium_l": mediumL})
		if kept.Error == nil && kept.RowsAffected == 0 {
			return fault.Conflict("%s has no recipe yet, choose its lots first", j.Code)
		}
		return outcomeOf(kept.Error, t.tell("job", j.ID, "kept that the first tub of %s took %g L of medium to its line", j.Code, mediumL))
	})
}

func (t tx) keepRecipe(recipe job.Recipe) error {
	for _, child := range []any{&recipeLotRow{}, &recipeSpeciesRow{}} {
		if err := t.Where("job_id = ?", recipe.JobID).Delete(child).Error; err != nil {
			return err
		}
	}
	row := recipeRow{recipe.JobID, recipe.PlacementML, recipe.TubL, recipe.SparePercent, recipe.ProductID, recipe.ScaleStepG, recipe.LiveBy, recipe.Limits,
		recipe.SowerID, recipe.VoidsFraction, recipe.FirstTubMediumL}
	if err := t.replace(&row); err != nil {
		return err
	}
	for position, species := range recipe.Species {
		if err := t.keepSpecies(recipe.JobID, position, species); err != nil {
			return err
		}
	}
	return nil
}

func (t tx) keepSpecies(jobID int64, position int, species job.RecipeSpecies) error {
	row := recipeSpeciesRow{jobID, position, species.Species, species.EmergencePercent, species.LivePerPlacement, species.TargetFilledPercent,
		species.EmergenceLowPercent, species.EmergenceHighPercent, species.EmergenceFrom}
	if err := t.Create(&row).Error; err != nil {
		return err
	}
	for i, lotID := range species.LotIDs {
		lot := recipeLotRow{jobID, position, i, lotID, 0}
		if species.SharePercents != nil {
			lot.SharePercent = species.SharePercents[i]
		}
		if err := t.Create(&lot).Error; err != nil {
			return err
		}
	}
	return nil
}
