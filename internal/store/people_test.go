package store

import (
	"testing"
	"time"

	"rowtally/internal/fault"
	"rowtally/internal/job"
)

func TestABusinessBeginsOnce(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		_, err := s.Business(t.Context())
		refused(t, err, fault.Missing, "", "no business is set up")
		y := newYard(t, s)
		_, err = s.Begin(y.ctx, y.act(), business(), job.Person{Name: "Someone Else"})
		refused(t, err, fault.Clash, "", "sign in instead")
		got, err := s.Business(y.ctx)
		y.must(err)
		same(t, got, business())
		first, err := s.PersonNamed(y.ctx, "contractor one")
		y.must(err)
		if first.ID != y.contractor || first.Role != job.Contractor {
			t.Errorf("the first person is %+v", first)
		}
		refused(t, second(s.PersonNamed(y.ctx, "Someone Else")), fault.Missing, "", "nobody is called Someone Else")
	})
}

// second is the error of a call that also gives something.
func second[T any](_ T, err error) error { return err }

func TestABusinessIsChangedOnlyOnceItHasBegun(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		refused(t, s.ChangeBusiness(t.Context(), job.Act{Now: morning}, business()), fault.Missing, "", "enter it with the first person")
	})
}

func TestNamesOfPeopleAreTheirOwn(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		_, err := s.AddPerson(y.ctx, y.act(), job.Person{Name: "OPERATOR one", Role: job.Operator})
		refused(t, err, fault.Refused, "name", "someone is called OPERATOR one already")
		_, err = s.AddPerson(y.ctx, y.act(), job.Person{Name: "Third", Role: "farmer"})
		refused(t, err, fault.Refused, "role", "choose contractor or operator")
		people, err := s.People(y.ctx)
		y.must(err)
		if len(people) != 2 || people[0].Name != "Contractor One" || people[1].PasswordHash != "hash 2" {
			t.Errorf("the people are %+v", people)
		}
	})
}

func TestAPasswordIsChangedForOnePersonAlone(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		later := y.act().Now.Add(time.Hour)
		for token, person := range map[string]int64{"here": y.operator, "elsewhere": y.operator, "another's": y.contractor} {
			y.must(s.OpenSession(y.ctx, token, person, y.act().Now, later))
		}
		y.must(s.ChangePassword(y.ctx, y.act(), y.operator, "hash 3", "here"))
		for _, token := range []string{"here", "another's"} {
			y.must(second(s.SessionPerson(y.ctx, token, y.act().Now)))
		}
		refused(t, second(s.SessionPerson(y.ctx, "elsewhere", y.act().Now)), fault.Missing, "", "this sign-in has ended")
		refused(t, s.ChangePassword(y.ctx, y.act(), 99, "hash", ""), fault.Missing, "", "no person with the number 99")
		people, err := s.People(y.ctx)
		y.must(err)
		if people[0].PasswordHash != "hash 1" || people[1].PasswordHash != "hash 3" {
			t.Errorf("the people are %+v", people)
		}
	})
}

func TestTheLastContractorStays(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		refused(t, s.LetGo(y.ctx, y.act(), y.contractor), fault.Clash, "", "the only contractor left")
		another := y.id(s.AddPerson(y.ctx, y.act(), job.Person{Name: "Contractor Two", Role: job.Contractor}))
		y.must(s.LetGo(y.ctx, y.act(), y.contractor))
		refused(t, s.LetGo(y.ctx, y.act(), another), fault.Clash, "", "the only contractor left")
		y.must(s.LetGo(y.ctx, y.act(), y.operator))
		y.sound()
	})
}

func TestTwoContractorsCannotLetEachOtherGoAtOnce(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		another := y.id(s.AddPerson(y.ctx, y.act(), job.Person{Name: "Contractor Two", Role: job.Contractor}))
		errs := crowd(2, func(i int) error {
			return s.LetGo(y.ctx, y.act(), []int64{y.contractor, another}[i])
		})
		if n := failures(t, errs, fault.Clash); n != 1 {
			t.Errorf("%d of the two were refused, want 1", n)
		}
		y.sound()
	})
}

func TestASessionEndsByItsTimeByClosingAndByLeaving(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		for _, token := range []string{"first", "second", "third"} {
			y.must(s.OpenSession(y.ctx, token, y.operator, morning, morning.Add(time.Hour)))
		}
		who, err := s.SessionPerson(y.ctx, "first", morning.Add(time.Hour-time.Second))
		y.must(err)
		if who.ID != y.operator || who.PasswordHash != "hash 2" {
			t.Errorf("the session is of %+v", who)
		}
		refused(t, second(s.SessionPerson(y.ctx, "first", morning.Add(time.Hour))), fault.Missing, "", "sign in again")
		refused(t, second(s.SessionPerson(y.ctx, "fourth", morning)), fault.Missing, "", "sign in again")
		y.must(s.CloseSession(y.ctx, "second"))
		y.must(s.CloseSession(y.ctx, "second"))
		refused(t, second(s.SessionPerson(y.ctx, "second", morning)), fault.Missing, "", "sign in again")
		y.must(s.LetGo(y.ctx, y.act(), y.operator))
		refused(t, second(s.SessionPerson(y.ctx, "third", morning)), fault.Missing, "", "sign in again")
		if n := rowsIn(t, s, "sessions"); n != 0 {
			t.Errorf("%d sessions are kept, want none", n)
		}
	})
}

func TestSessionsThatRanOutAreForgotten(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		y.must(s.OpenSession(y.ctx, "old", y.operator, morning, morning.Add(time.Hour)))
		y.must(s.OpenSession(y.ctx, "new", y.operator, morning.Add(2*time.Hour), morning.Add(3*time.Hour)))
		if n := rowsIn(t, s, "sessions"); n != 1 {
			t.Errorf("%d sessions are kept, want the new one alone", n)
		}
		refused(t, s.OpenSession(y.ctx, "nobody's", 99, morning, morning), fault.Clash, "", "not kept any more")
	})
}

func rowsIn(t *testing.T, s *Store, table string) int64 {
	t.Helper()
	var n int64
	if err := s.write.Table(table).Count(&n).Error; err != nil {
		t.Fatal(err)
	}
	return n
}
