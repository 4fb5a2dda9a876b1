package site

import (
	"context"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"rowtally/internal/job"
)

// beginning is a first-run form as it may be sent.
var beginning = []string{
	"name", "Example Rows", "abn", "51 824 753 556", "registered", "yes", "registered_on", "2020-07-01",
	"currency", "AUD", "tax_label", "GST", "tax_percent", "10", "zone", "Australia/Adelaide", "terms_days", "14", "valid_days", "30",
	"person", "Ada Contractor", "password", contractorPassword,
}

// with is a form with one field typed otherwise.
func with(form []string, name, value string) []string {
	out := append([]string{}, form...)
	for i := 0; i < len(out); i += 2 {
		if out[i] == name {
			out[i+1] = value
			return out
		}
	}
	return append(out, name, value)
}

func TestFirstRunComesBeforeEverything(t *testing.T) {
	w := bareTown(t)
	for _, path := range []string{"/", "/shed", "/enter", "/business"} {
		w.nobody.get(path).mustLead(t, "/begin")
	}
	w.nobody.get("/begin").mustShow(t, 200, "Begin the books", `name="abn"`)
}

func TestFirstRunKeepsTheBusinessAndSignsIn(t *testing.T) {
	w := bareTown(t)
	w.nobody.post("/begin", beginning...).mustLead(t, "/")
	w.nobody.get("/business").mustShow(t, 200, `value="Example Rows"`, `value="51 824 753 556"`)
	got, err := w.store.Business(context.Background())
	if err != nil || got.ABN != "51824753556" || got.TaxPercent != "10" || !got.Registered || got.TermsDays != 14 {
		t.Errorf("kept %+v, %v", got, err)
	}
	person, err := w.store.PersonNamed(context.Background(), "Ada Contractor")
	if err != nil || person.Role != job.Contractor || strings.Contains(person.PasswordHash, contractorPassword) {
		t.Errorf("kept %+v, %v", person, err)
	}
	w.nobody.post("/begin", beginning...).mustLead(t, "/enter")
}

func TestFirstRunSaysWhatToChangeAndKeepsTheRest(t *testing.T) {
	w := bareTown(t)
	for _, c := range []struct{ field, value, says string }{
		{"abn", "51 824 753 557", "check digits do not agree"},
		{"abn", "", "A registered business shows its ABN"},
		{"name", "", "Enter the business"},
		{"registered_on", "", "Enter the day from which the business is registered"},
		{"registered_on", "2027-07-22", "22 Jul 2027 is more than a year ahead"},
		{"tax_percent", "ten", "is not an amount"},
		{"tax_percent", "-1", "below zero"},
		{"tax_percent", "101", "more than the whole"},
		{"currency", "dollars", "three letters"},
		{"zone", "Australia/Nowhere", "is not a time zone"},
		{"zone", "", "is not a time zone"},
		{"terms_days", "400", "enter a whole number from 0 to 365"},
		{"terms_days", "1.5", "is not a whole number"},
		{"person", "", "Enter your name."},
		{"password", "short", "choose at least 10"},
	} {
		p := w.nobody.post("/begin", with(beginning, c.field, c.value)...)
		p.mustShow(t, 422, c.says, `aria-invalid="true"`)
		if c.field != "name" {
			p.mustShow(t, 422, `value="Example Rows"`)
		}
		if strings.Contains(p.text, contractorPassword) {
			t.Errorf("%s: the password is written back to the page", c.field)
		}
	}
	if _, err := w.store.Business(context.Background()); err == nil {
		t.Error("a refused first run was kept")
	}
}

func TestAForeignPageCannotBegin(t *testing.T) {
	w := bareTown(t)
	r := w.nobody.form("/begin", beginning...)
	r.Header.Set("Origin", "http://elsewhere.test")
	w.nobody.send(r).mustShow(t, 403, "not sent from Rowtally")
}

func TestSigningInAndOut(t *testing.T) {
	w := newTown(t)
	w.nobody.get("/enter?to=/shed").mustShow(t, 200, `name="to" value="/shed"`)
	ada := w.enter("ada contractor", contractorPassword) // names in any case
	ada.get("/shed").mustShow(t, 200, "Sign out")
	ada.get("/enter").mustLead(t, "/")
	cookie := ada.cookie
	ada.post("/leave").mustLead(t, "/enter")
	ada.cookie = cookie // as a thief of the cookie would
	ada.get("/shed").mustLead(t, "/enter?to=%2Fshed")
}

func TestTheSessionCookieIsGuarded(t *testing.T) {
	w := newTown(t)
	p := w.nobody.post("/enter", "name", operatorName, "password", operatorPassword)
	cookie := p.header.Get("Set-Cookie")
	for _, want := range []string{"HttpOnly", "SameSite=Lax", "path=/"} {
		if !strings.Contains(cookie, want) {
			t.Errorf("the session cookie lacks %s: %s", want, cookie)
		}
	}
}

func TestAWrongPasswordAndAnUnknownNameReadAlike(t *testing.T) {
	w := newTown(t)
	wrong := w.nobody.post("/enter", "name", operatorName, "password", contractorPassword)
	wrong.mustShow(t, 422, "Name and password do not fit together", `value="`+operatorName+`"`)
	unknown := w.nobody.post("/enter", "name", "Nobody Here", "password", contractorPassword)
	unknown.mustShow(t, 422, "Name and password do not fit together")
	if strings.ReplaceAll(unknown.text, "Nobody Here", operatorName) != wrong.text {
		t.Error("the two pages tell which names are known")
	}
	if w.nobody.cookie != "" {
		t.Error("a wrong password opened a session")
	}
}

func TestAfterFiveWrongPasswordsEvenTheRightOneWaits(t *testing.T) {
	w := newTown(t)
	for range mostWrong {
		w.nobody.post("/enter", "name", operatorName, "password", "wrong wrong wrong").mustShow(t, 422)
	}
	w.nobody.post("/enter", "name", operatorName, "password", operatorPassword).mustShow(t, 429, "Wait 15 minutes")
	w.nobody.post("/enter", "name", contractorName, "password", contractorPassword).mustLead(t, "/")
}

func TestAWrongTryIsForgottenAfterAWhile(t *testing.T) {
	tries := tries{wrong: map[string]wrong{}}
	for range mostWrong {
		tries.missed("ned", moment)
	}
	if !tries.spent("ned", moment) || tries.spent("ada", moment) || tries.spent("ned", moment.Add(wrongAfter)) {
		t.Error("five wrong tries must hold one name up, and for 15 minutes")
	}
	tries.missed("ned", moment.Add(wrongAfter))
	if tries.spent("ned", moment.Add(wrongAfter)) {
		t.Error("a try after the wait counts as the sixth")
	}
}

func TestAFloodOfNamesDoesNotFillMemory(t *testing.T) {
	tries := tries{wrong: map[string]wrong{}}
	for i := range 3 * mostKept {
		tries.missed(strings.Repeat("x", i%7)+string(rune(i)), moment)
	}
	if n := len(tries.wrong); n > mostKept {
		t.Errorf("%d names kept, want at most %d", n, mostKept)
	}
}

func TestSigningInLeadsOnlyToOwnPages(t *testing.T) {
	w := newTown(t)
	for to, want := range map[string]string{
		"/shed/lots/3?x=1": "/shed/lots/3?x=1", "": "/", "https://elsewhere.test/": "/", "//elsewhere.test": "/",
		`/\elsewhere.test`: "/", "/\t/elsewhere.test": "/", "javascript:alert(1)": "/", "shed": "/", "/enter": "/",
	} {
		b := &browser{t: t, app: w.app}
		p := b.post("/enter", "name", contractorName, "password", contractorPassword, "to", to)
		if p.location != want {
			t.Errorf("to %q led to %q, want %q", to, p.location, want)
		}
	}
}

func TestSomebodyLetGoCannotSignIn(t *testing.T) {
	w := newTown(t)
	ned, err := w.store.PersonNamed(context.Background(), operatorName)
	if err != nil {
		t.Fatal(err)
	}
	w.operator.get("/shed").mustShow(t, 200)
	w.contractor.post("/people/"+itoa(ned.ID)+"/go").mustLead(t, "/people?done=gone")
	w.operator.get("/shed").mustLead(t, "/enter?to=%2Fshed")
	w.nobody.post("/enter", "name", operatorName, "password", operatorPassword).mustShow(t, 422, "do not fit together")
}

func TestProbes(t *testing.T) {
	w := bareTown(t)
	w.nobody.get("/healthz").mustShow(t, 200, "ok")
	w.nobody.get("/readyz").mustShow(t, 200, "ok")
	if err := w.store.Close(); err != nil {
		t.Fatal(err)
	}
	w.nobody.get("/healthz").mustShow(t, 200, "ok")
	w.nobody.get("/readyz").mustShow(t, 503)
}

func TestEveryAnswerIsGuarded(t *testing.T) {
	w := newTown(t)
	for _, path := range []string{"/shed", "/enter", "/no-such-page", "/healthz"} {
		header := w.contractor.get(path).header
		if !strings.Contains(header.Get("Content-Security-Policy"), "default-src 'none'") || header.Get("X-Content-Type-Options") != "nosniff" {
			t.Errorf("%s is answered without its guards: %v", path, header)
		}
	}
}

func TestHeadIsAnsweredLikeGet(t *testing.T) {
	w := newTown(t)
	if p := w.nobody.send(httptest.NewRequest(http.MethodHead, "/healthz", nil)); p.status != 200 {
		t.Errorf("HEAD /healthz answered %d", p.status)
	}
}
