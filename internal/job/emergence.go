package job

import (
	"rowtally/internal/count"
	"rowtally/internal/ground"
	"rowtally/internal/seed"
	"rowtally/internal/unit"
)

// SownInPlacements is what a placement of the job was sown with, species by species in the
// recipe's order: live seed as mixed, tub by tub, at what the meter dropped; by the recipe
// while no tub is mixed.
func (f Facts) SownInPlacements() (out []count.Sown) {
	if f.Recipe == nil || f.Layout == nil {
		return nil
	}
	for _, species := range f.Recipe.Species {
		out = append(out, f.sownAs(species))
	}
	if len(f.Tubs) == 0 {
		f.sownByRecipe(out)
		return out
	}
	placements := 0.0
	for _, tub := range f.Tubs {
		placements += float64(tub.MixML) / f.placementML()
	}
	for i := range out {
		out[i].LivePerPlacement = f.liveMixed(out[i].Species) / placements
	}
	return out
}

// sownAs is a species with the form and treatment of the lot that its recipe names first.
func (f Facts) sownAs(species RecipeSpecies) count.Sown {
	s := count.Sown{Species: species.Species}
	for _, id := range species.LotIDs {
		if lot, ok := f.Shelf.Lot(id); ok {
			s.Form, s.Treatment = lot.Form, lot.Treatment
			break
		}
	}
	return s
}

func (f Facts) sownByRecipe(out []count.Sown) {
	if w, err := f.WorkRecipe(1000); err == nil {
		for i := range out {
			out[i].LivePerPlacement = w.Mix.Species[i].LiveSeedsPerPlacement
		}
	}
}

// liveMixed is the live seed of a species in all tubs, by what was known of each lot on the
// day of mixing.
func (f Facts) liveMixed(species string) (live float64) {
	for _, tub := range f.Tubs {
		for _, in := range tub.Ingredient {
			if lot, ok := f.Shelf.Lot(in.LotID); ok && lot.Species == species {
				live += float64(in.Grams) * f.livePerGOn(lot, unit.DateOf(tub.MixedAt))
			}
		}
	}
	return live
}

// livePerGOn is a lot's live seed by its tests up to a day, by any test where none was
// finished then.
func (f Facts) livePerGOn(lot seed.Lot, day unit.Date) float64 {
	figures := f.Shelf.LotOn(lot, day)
	if !figures.Tested {
		figures = f.Shelf.LotOn(lot, f.Today)
	}
	return figures.LivePerG()
}

// GroundClass is the class of the paddock's subsoil where saltbush is judged, by the worst
// reading that stands; "" while none is read.
func (f Facts) GroundClass() string {
	worst, class := -1.0, ""
	for _, found := range f.Advice().Findings {
		if found.Kind.IsWatertable() || found.Source == "" || found.Value <= worst {
			continue
		}
		for _, c := range found.Classes {
			if c.Scheme == ground.SaltlandScheme {
				worst, class = found.Value, c.Name
			}
		}
	}
	return class
}

// Lessons are what the job's standing counts teach of the share of live seeds that becomes
// plants.
func (f Facts) Lessons() (all []count.Lesson) {
	sown, class := f.SownInPlacements(), f.GroundClass()
	for _, c := range f.Counted() {
		for _, lesson := range count.Lessons(c.Estimate, sown, c.Seen) {
			lesson.Job, lesson.Season, lesson.Kind, lesson.On, lesson.Ground = f.Job.Code, f.Job.Season, c.Kind, c.CountedOn, class
			all = append(all, lesson)
		}
	}
	return all
}

// EmergenceLearned is what all lessons say of a species of the job, by kind of count; empty
// while nothing was counted.
func (f Facts) EmergenceLearned(lessons []count.Lesson, lot seed.Lot) (all []count.Learned) {
	target := count.Target{Sown: count.Sown{Species: lot.Species, Form: lot.Form, Treatment: lot.Treatment}, Ground: f.GroundClass()}
	for _, target.Kind = range count.Kinds {
		if learned, ok := count.Learn(lessons, target); ok {
			all = append(all, learned)
		}
	}
	return all
}

// LearnedFrom is the sentence that a recipe keeps of where its share came from.
func (f Facts) LearnedFrom(l count.Learned) string {
	return l.Says() + ", " + l.From() + "; taken " + f.Today.String()
}

// CommonName is what a species of the shed is called.
func (f Facts) CommonName(species string) string {
	for _, lot := range f.Shelf.Lots {
		if lot.Species == species && lot.CommonName != "" {
			return lot.CommonName
		}
	}
	return species
}
