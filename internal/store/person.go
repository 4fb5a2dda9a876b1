package store

import (
	"context"

	"gorm.io/gorm/clause"

	"rowtally/internal/fault"
	"rowtally/internal/job"
)

// People is everyone who may or might once sign in, by name.
func (s *Store) People(ctx context.Context) ([]job.Person, error) {
	return all[job.Person](s.reader(ctx).Order("lower(name)"))
}

// PersonNamed finds a person by name in any case; someone who left is found too.
func (s *Store) PersonNamed(ctx context.Context, name string) (job.Person, error) {
	person, ok, err := maybe[job.Person](s.reader(ctx).Where("lower(name) = lower(?)", name))
	if err == nil && !ok {
		err = fault.Miss("nobody is called %s here, write the name as it stands in the list of people", name)
	}
	return person, err
}

// AddPerson lets someone sign in.
func (s *Store) AddPerson(ctx context.Context, a job.Act, person job.Person) (int64, error) {
	return s.do(ctx, a, "add a person", func(t tx) (int64, error) {
		person.ID, person.Left = 0, false
		if err := t.addPerson(&person); err != nil {
			return 0, err
		}
		return person.ID, t.tell("person", person.ID, "added %s as %s", person.Name, person.Role)
	})
}

func (t tx) addPerson(person *job.Person) error {
	if person.Role != job.Contractor && person.Role != job.Operator {
		return fault.Refuse("role", "%q is no role, choose contractor or operator", person.Role)
	}
	return t.add(person, fault.Refuse("name", "someone is called %s already, add a second name or an initial", person.Name))
}

// ChangePassword keeps the hash of a new password and ends every session of that person but
// the one whose token hashes to stays; "" ends all.
func (s *Store) ChangePassword(ctx context.Context, a job.Act, personID int64, hash, stays string) error {
	return s.done(ctx, a, "change a password", func(t tx) error {
		person, err := locked[job.Person](t, "person", personID)
		if err != nil {
			return err
		}
		if err := t.set(&job.Person{}, "person", personID, map[string]any{"password_hash": hash}); err != nil {
			return err
		}
		if err := t.Where("person_id = ? AND token_hash <> ?", personID, stays).Delete(&sessionRow{}).Error; err != nil {
			return err
		}
		return t.tell("person", personID, "changed the password of %s", person.Name)
	})
}

// LetGo ends a person's signing in and every session of theirs. The last contractor stays.
func (s *Store) LetGo(ctx context.Context, a job.Act, personID int64) error {
	return s.done(ctx, a, "let a person go", func(t tx) error {
		contractors, err := t.lockedContractors()
		if err != nil {
			return err
		}
		person, err := locked[job.Person](t, "person", personID)
		if err != nil {
			return err
		}
		if len(contractors) == 1 && contractors[0].ID == personID {
			return fault.Conflict("%s is the only contractor left, add another contractor first", person.Name)
		}
		if err := t.set(&job.Person{}, "person", personID, map[string]any{"left": true}); err != nil {
			return err
		}
		if err := t.Where("person_id = ?", personID).Delete(&sessionRow{}).Error; err != nil {
			return err
		}
		return t.tell("person", personID, "let %s go", person.Name)
	})
}

// lockedContractors is everyone who may let others go, so that two of them cannot let
// each other go at once.
func (t tx) lockedContractors() ([]job.Person, error) {
	return all[job.Person](t.Clauses(clause.Locking{Strength: clause.LockingStrengthUpdate}).
		Where(`role = ? AND NOT "left"`, job.Contractor).Order("id"))
}
