package store

import (
	"context"

	"rowtally/internal/fault"
	"rowtally/internal/job"
)

// Links is the links that were ever made for a farm, newest first.
func (s *Store) Links(ctx context.Context, farmID int64) ([]job.Link, error) {
	return all[job.Link](s.reader(ctx).Where("farm_id = ?", farmID).Order("id DESC"))
}

// AddLink lets the bearer of a token see a farm's jobs without an account.
func (s *Store) AddLink(ctx context.Context, a job.Act, farmID int64, token string) error {
	return s.done(ctx, a, "make a link", func(t tx) error {
		farm, err := one[job.Farm](t.DB, "farm", farmID)
		if err != nil {
			return err
		}
		if err := t.Create(&job.Link{FarmID: farmID, Token: token, MadeAt: t.now}).Error; err != nil {
			return err
		}
		return t.tell("farm", farmID, "made a link for %s", farm.Name)
	})
}

// WithdrawLink shuts a link for good.
func (s *Store) WithdrawLink(ctx context.Context, a job.Act, id int64) error {
	return s.done(ctx, a, "withdraw a link", func(t tx) error {
		link, err := locked[job.Link](t, "link", id)
		if err != nil {
			return err
		}
		if link.WithdrawnAt != nil {
			return fault.Conflict("this link is withdrawn already")
		}
		if err := t.set(&job.Link{}, "link", id, map[string]any{"withdrawn_at": t.now}); err != nil {
			return err
		}
		farm, err := one[job.Farm](t.DB, "farm", link.FarmID)
		if err != nil {
			return err
		}
		return t.tell("farm", farm.ID, "withdrew a link of %s", farm.Name)
	})
}

// FarmByToken is the farm that a link lets in; missing when it was withdrawn or never made.
func (s *Store) FarmByToken(ctx context.Context, token string) (job.Farm, error) {
	farm, ok, err := maybe[job.Farm](s.reader(ctx).
		Joins("JOIN links ON links.farm_id = farms.id").Where("links.token = ? AND links.withdrawn_at IS NULL", token))
	if err == nil && !ok {
		err = fault.Miss("this link no longer opens anything, ask the contractor for a new one")
	}
	return farm, err
}
