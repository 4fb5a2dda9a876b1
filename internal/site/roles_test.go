package site

import (
	"fmt"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"testing"

	"rowtally/internal/job"
)

func itoa(n int64) string { return strconv.FormatInt(n, 10) }

// someone is one of the people who try every route.
type someone struct {
	word string
	role job.Role
	of   func(town) *browser
}

var everyone = []someone{
	{"nobody", "", func(w town) *browser { return w.nobody }},
	{"the operator", job.Operator, func(w town) *browser { return w.operator }},
	{"the contractor", job.Contractor, func(w town) *browser { return w.contractor }},
}

// TestEveryRouteAdmitsItsRolesAlone tries each line of the table as each role. Who is
// admitted may meet a page that lacks what it asks for (404) or wants more typed (422);
// who is not is sent to sign in, or refused.
func TestEveryRouteAdmitsItsRolesAlone(t *testing.T) {
	w := newTown(t)
	table := (&site{}).routes()
	if len(table) < 30 {
		t.Fatalf("only %d routes", len(table))
	}
	for _, r := range table {
		for _, who := range everyone {
			if r.path == "/leave" {
				continue // ends the session that the next line needs; tried on its own
			}
			t.Run(fmt.Sprintf("%s %s as %s", r.method, r.path, who.word), func(t *testing.T) {
				p := try(who.of(w), r)
				switch {
				case r.open == firstRun:
					p.mustLead(t, "/enter")
				case r.open == anyone || r.open == alive || slices.Contains(r.roles, who.role):
					admitted(t, p)
				case who.role == "":
					if p.status != http.StatusSeeOther || !strings.HasPrefix(p.location, "/enter?to=") {
						t.Errorf("answered %d to %q, want to be sent to sign in", p.status, p.location)
					}
				default:
					p.mustShow(t, http.StatusForbidden, "This page is for the contractor.")
				}
			})
		}
	}
}

// try asks for a route with numbers that nothing has.
func try(b *browser, r route) page {
	var parts []string
	for _, part := range strings.Split(r.path, "/") {
		if strings.HasPrefix(part, ":") {
			part = "999"
		}
		parts = append(parts, part)
	}
	path := strings.Join(parts, "/")
	if r.method == post {
		return b.post(path)
	}
	return b.get(path)
}

func admitted(t *testing.T, p page) {
	t.Helper()
	toEnter := p.status == http.StatusSeeOther && strings.HasPrefix(p.location, "/enter")
	if p.status == http.StatusForbidden || toEnter || p.status >= 500 {
		t.Errorf("answered %d to %q: %s", p.status, p.location, p.mainText())
	}
}

func TestEveryClosedRouteNamesItsRoles(t *testing.T) {
	for _, r := range (&site{}).routes() {
		if r.open == closed && len(r.roles) == 0 {
			t.Errorf("%s %s is open to nobody", r.method, r.path)
		}
		if r.open != closed && len(r.roles) > 0 {
			t.Errorf("%s %s is open, and names roles that are not looked at", r.method, r.path)
		}
	}
}

// TestNoPostWithoutItsOwnPage sends every closed post as the contractor, once from a
// foreign page and once without the session's token.
func TestNoPostWithoutItsOwnPage(t *testing.T) {
	w := newTown(t)
	for _, route := range (&site{}).routes() {
		if route.method != post || route.open != closed {
			continue
		}
		path := strings.NewReplacer(":id", "1", ":", "").Replace(route.path)
		t.Run(path, func(t *testing.T) {
			foreign := w.contractor.form(path)
			foreign.Header.Set("Origin", "https://elsewhere.test")
			w.contractor.send(foreign).mustShow(t, 403, "not sent from Rowtally")

			silent := w.contractor.form(path)
			silent.Header.Del("Origin")
			w.contractor.send(silent).mustShow(t, 403, "not sent from Rowtally")

			bare := &browser{t: t, app: w.app}
			tokenless := bare.form(path)
			tokenless.AddCookie(&http.Cookie{Name: cookieName, Value: w.contractor.cookie})
			bare.send(tokenless).mustShow(t, 403, "older than your present sign-in")

			theirs := bare.form(path, "csrf", w.operatorToken())
			theirs.AddCookie(&http.Cookie{Name: cookieName, Value: w.contractor.cookie})
			bare.send(theirs).mustShow(t, 403, "older than your present sign-in")
		})
	}
}

// operatorToken is the form token of another session.
func (w town) operatorToken() string { return tokenIn(w.operator.get("/shed").text) }

func TestABrowserThatNamesItsFetchSiteNeedsNoOrigin(t *testing.T) {
	w := newTown(t)
	r := w.contractor.form("/machines/new", "name", "tractor", "kind", "tractor", "meter_h", "4812.4", "meter_on", "2026-07-01")
	r.Header.Del("Origin")
	r.Header.Set("Sec-Fetch-Site", "same-origin")
	w.contractor.send(r).mustLead(t, "/machines/1")
}
