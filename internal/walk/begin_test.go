package walk

import (
	"strings"
)

const (
	contractorName     = "Walker Contractor"
	contractorPassword = "salt lake heron bucket"
	operatorName       = "Walker Operator"
	operatorPassword   = "twin row hopper cog"
	exampleABN         = "51 824 753 556" // the register's own example
)

// begin is the first run: whatever is asked for, the first page is the one that begins.
func (w *walk) begin() {
	b := newBrowser(w.t, w.site, laptop, w.scripts)
	w.contractor = b
	b.open("/jobs")
	b.headed("Begin the books")
	b.fill("Name", w.business, "Your name", contractorName, "Password", contractorPassword)
	if w.registered {
		b.fill("ABN", exampleABN, "Registered since", "2020-07-01")
	} else {
		b.choose("Registered for the tax", "no")
	}
	b.press("Begin")
	b.says("Nothing is due and nothing is short.", contractorName)
	b.press(contractorName)
	b.fill("Phone", "08 5550 0199", "Where to pay", "Example Account, BSB 000-000, 123456")
	b.press("Keep the changes")
	b.says("Kept.")
}

// headed holds the page's heading against what it should be.
func (b *browser) headed(want string) {
	b.t.Helper()
	if got := ask[string](b, "headings"); !strings.Contains(got, want) {
		b.t.Errorf("%s is headed %q, want %q\n%s", b.path(), got, want, b.text())
	}
}

// next holds the season page against the stage that a job has come to, and what is to be
// done next.
func (w *walk) next(stage, mend string) {
	w.t.Helper()
	w.contractor.open("/")
	want := []string{stage + " " + w.paddock + " at " + w.farm, mend}
	for _, line := range ask[[]string](w.contractor, "due") {
		if strings.HasPrefix(line, want[0]) && strings.HasSuffix(line, want[1]) {
			return
		}
	}
	w.t.Errorf("the season page has no line %q … %q:\n%s", want[0], want[1], w.contractor.text())
}
