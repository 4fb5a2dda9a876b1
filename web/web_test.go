package web_test

import (
	"html/template"
	"io/fs"
	"strings"
	"testing"

	"rowtally/internal/unit"
	"rowtally/internal/working"
	"rowtally/web"
)

type frame struct {
	Title, Here, Business, Person, Role, CSRF string
	Today                                     unit.Date
	Demo                                      bool
	Notice                                    string
}

type option struct{ Value, Label string }

type field struct {
	Name, Label, Unit, Value, Error, Hint, Kind string
	Options                                     []option
	Required                                    bool
	Inputmode, Step                             string
}

func parts(t *testing.T) *template.Template {
	t.Helper()
	parsed, err := template.New("").Funcs(template.FuncMap{"asset": web.Asset}).
		ParseFS(web.Pages, "part/layout.html", "part/top.html", "part/working.html", "part/field.html")
	if err != nil {
		t.Fatal(err)
	}
	return parsed
}

func shown(t *testing.T, name string, data any) string {
	t.Helper()
	var b strings.Builder
	if err := parts(t).ExecuteTemplate(&b, name, data); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func mustHold(t *testing.T, page string, wanted ...string) {
	t.Helper()
	for _, one := range wanted {
		if !strings.Contains(page, one) {
			t.Errorf("page lacks %q:\n%s", one, page)
		}
	}
}

func TestLayoutMarksThePageAndCarriesTheToken(t *testing.T) {
	page := shown(t, "layout", frame{Title: "Shed", Here: "shed", Business: "Sown <Rows>", Person: "Ann", CSRF: "t0k", Today: "2026-07-20", Demo: true, Notice: "Kept."})
	mustHold(t, page, `<a href="/shed" aria-current="page">Shed</a>`, `name="csrf" value="t0k"`,
		"Sown &lt;Rows&gt;", "The day is 20 Jul 2026.", `role="status">Kept.`, web.Asset("face.css"))
	if n := strings.Count(page, "aria-current"); n != 1 {
		t.Errorf("%d pages marked as the current one, want 1", n)
	}
}

func TestLayoutShowsNoPagesToAStranger(t *testing.T) {
	page := shown(t, "layout", frame{Title: "Enter"})
	mustHold(t, page, "<title>Enter</title>")
	if strings.Contains(page, "/accounts") || strings.Contains(page, "csrf") {
		t.Errorf("a stranger is shown the pages:\n%s", page)
	}
}

func TestWorkingLinesFiguresUpOnThePoint(t *testing.T) {
	steps := working.Steps{}.
		Add("placements", "35.0 × 1000 ÷ 3.00 m", working.Number(11666.67, 1), "", "").
		Add("in all", "", working.Text("$387.47"), "", "the law").
		Add("verdict", "", working.Text("refused, choose lots"), "", "")
	mustHold(t, shown(t, "working", steps),
		"<td class=\"whole\">11\u2009666</td><td class=\"frac\">.7</td>",
		`<td class="whole">$387</td><td class="frac">.47</td>`,
		`<td class="whole">refused, choose lots</td><td class="frac"></td>`, "the law")
	if page := shown(t, "working", working.Steps{}); strings.TrimSpace(page) != "" {
		t.Errorf("an empty working shows %q", page)
	}
}

func TestFieldKeepsWhatWasTypedAndSaysWhatToChange(t *testing.T) {
	page := shown(t, "field", field{Name: "purity_percent", Label: "Purity", Unit: "%", Value: `14"0`, Kind: "number",
		Required: true, Error: "purity is 140 %, enter a figure above 0 and up to 100", Hint: "by mass"})
	mustHold(t, page, `value="14&#34;0"`, `inputmode="decimal"`, `aria-invalid="true"`, `aria-required="true"`,
		`aria-describedby="purity_percent-says"`, `id="purity_percent-says">purity is 140 %`, `<span class="unit">%</span>`)
	if strings.Contains(page, "by mass") {
		t.Error("hint shown beside the error")
	}
}

func TestFieldOfEachKind(t *testing.T) {
	for kind, wanted := range map[string]string{
		"": `type="text" value="x"`, "text": `type="text"`, "date": `type="date"`, "file": `type="file"`,
		"textarea": `>x</textarea>`, "select": `<option value="x" selected>Ex</option>`, "password": `type="password"`,
	} {
		page := shown(t, "field", field{Name: "f", Label: "F", Value: "x", Kind: kind, Options: []option{{"", "none yet"}, {"x", "Ex"}}})
		mustHold(t, page, wanted, "may be left empty")
		if kind == "password" && strings.Contains(page, `"x"`) {
			t.Error("a password is written back to the page")
		}
	}
	if page := shown(t, "field", field{Name: "f", Label: "F", Value: "x", Kind: "select", Options: []option{{"w", "Double"}, {"x", "Ex"}}}); strings.Contains(page, "may be left empty") {
		t.Errorf("a list without an empty choice may be left empty:\n%s", page)
	}
}

func TestAssetOfTheBuild(t *testing.T) {
	if _, err := fs.Stat(web.Dist, "manifest.json"); err != nil {
		if web.Asset("face.css") != "/dist/face.css" {
			t.Errorf("without a build face.css stands at %s", web.Asset("face.css"))
		}
		return
	}
	for _, name := range []string{"face.css", "page.js", "font/literata-latin-wght-normal.woff2"} {
		path, below := strings.CutPrefix(web.Asset(name), web.Prefix)
		if !below || path == name {
			t.Errorf("%s stands at %s, without a hash", name, web.Asset(name))
		}
		if _, err := fs.Stat(web.Dist, path); err != nil {
			t.Error(err)
		}
	}
}
