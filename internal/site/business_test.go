package site

import (
	"context"
	"strings"
	"testing"
	"time"

	"rowtally/internal/job"
)

func TestTheBusinessIsChangedForLaterPapers(t *testing.T) {
	w := newTown(t)
	form := with(with(beginning, "name", "Example Rows Pty Ltd"), "address", "1 Example Road")
	form = append(form, "phone", "08 5550 0000", "email", "office@example.test", "pay_to", "Example Rows, BSB 000-000")
	w.contractor.post("/business", form...).mustLead(t, "/business?done=kept")
	w.contractor.get("/business").mustShow(t, 200, `value="Example Rows Pty Ltd"`, "1 Example Road", `value="office@example.test"`, "BSB 000-000")
	w.contractor.post("/business", with(form, "abn", "123")...).mustShow(t, 422, "has 11 digits and this number has 3", `value="123"`, "1 Example Road")
}

func TestABusinessNotRegisteredNeedsNoABN(t *testing.T) {
	w := newTown(t)
	form := with(with(with(beginning, "registered", "no"), "abn", ""), "registered_on", "")
	w.contractor.post("/business", form...).mustLead(t, "/business?done=kept")
	b, err := w.store.Business(context.Background())
	if err != nil || b.Registered || b.ABN != "" || b.RegisteredOn != "" {
		t.Errorf("kept %+v, %v", b, err)
	}
}

func TestTheDemosDaySurvivesAChangeOfTheBusiness(t *testing.T) {
	w := newTown(t)
	demo := exampleBusiness
	demo.DemoDay = "2026-07-20"
	if err := w.store.ChangeBusiness(context.Background(), w.act(), demo); err != nil {
		t.Fatal(err)
	}
	w.contractor.post("/business", beginning...).mustLead(t, "/business?done=kept")
	if b, err := w.store.Business(context.Background()); err != nil || b.DemoDay != "2026-07-20" {
		t.Errorf("the demo's day is %q, %v", b.DemoDay, err)
	}
}

func TestSomebodyNewSignsIn(t *testing.T) {
	w := newTown(t)
	w.contractor.post("/people", "name", "Mia Second", "role", "operator", "password", "another long word").mustLead(t, "/people?done=kept")
	w.contractor.get("/people").mustShow(t, 200, "Mia Second", "Ned Operator")
	mia := w.enter("Mia Second", "another long word")
	mia.get("/people").mustShow(t, 403)
	mia.get("/shed").mustShow(t, 200)
}

func TestAPersonFormSaysWhatToChangeAndKeepsTheRest(t *testing.T) {
	w := newTown(t)
	for _, c := range []struct{ name, role, password, says string }{
		{"", "operator", "another long word", "Enter the person"},
		{"Mia Second", "owner", "another long word", "Choose operator or contractor."},
		{"Mia Second", "operator", "short", "choose at least 10"},
		{"ned operator", "operator", "another long word", "is called ned operator already"},
	} {
		w.contractor.post("/people", "name", c.name, "role", c.role, "password", c.password).mustShow(t, 422, c.says, `value="`+c.name+`"`)
	}
	if people, err := w.store.People(context.Background()); err != nil || len(people) != 2 {
		t.Errorf("%d people after refused forms, %v", len(people), err)
	}
}

func TestANewPasswordReplacesTheOld(t *testing.T) {
	w := newTown(t)
	w.contractor.post("/people/2/password", "password", "tiny").mustShow(t, 422, "choose at least 10")
	w.contractor.post("/people/2/password", "password", "salty creek ladder").mustLead(t, "/people?done=kept")
	w.nobody.post("/enter", "name", operatorName, "password", operatorPassword).mustShow(t, 422)
	w.enter(operatorName, "salty creek ladder")
}

func TestTheLastContractorStays(t *testing.T) {
	w := newTown(t)
	w.contractor.post("/people/1/go").mustShow(t, 409, "is the only contractor left")
	w.contractor.get("/shed").mustShow(t, 200)
}

func TestTheJournalTellsNewestFirstByLocalDay(t *testing.T) {
	w := newTown(t)
	ctx := context.Background()
	late := job.Act{PersonID: 1, Who: contractorName, Now: time.Date(2026, 7, 20, 14, 31, 0, 0, time.UTC)} // 00:01 on the 21st in Adelaide
	if _, err := w.store.AddFarm(ctx, late, job.Farm{Name: "Late Farm"}); err != nil {
		t.Fatal(err)
	}
	p := w.contractor.get("/journal")
	p.mustShow(t, 200, "21 Jul 2026", "00:01", "added the farm Late Farm", "20 Jul 2026", "09:30", "added Ned Operator as operator")
	mustStandBefore(t, p.text, "Late Farm", "added Ned Operator")
}

func mustStandBefore(t *testing.T, text, first, second string) {
	t.Helper()
	if i, k := strings.Index(text, first), strings.Index(text, second); i < 0 || k < 0 || i > k {
		t.Errorf("%q stands at %d and %q at %d", first, i, second, k)
	}
}
