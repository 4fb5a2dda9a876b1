package main

import (
	"bytes"
	"context"
	"encoding/json"
	"strings"
	"testing"
)

// ran runs the program to its end and gives what it wrote and its exit status.
func ran(t *testing.T, in string, args ...string) (out string, code int, err error) {
	t.Helper()
	var written bytes.Buffer
	err = run(context.Background(), args, strings.NewReader(in), &written)
	return written.String(), status(err), err
}

// mustRun fails unless the program ends with this status, and gives what it wrote.
func mustRun(t *testing.T, code int, in string, args ...string) string {
	t.Helper()
	out, got, err := ran(t, in, args...)
	if got != code {
		t.Fatalf("rowtally %s ends with %d, want %d: %v\n%s", strings.Join(args, " "), got, code, err, out)
	}
	return out
}

func TestHelpIsNoFailure(t *testing.T) {
	for _, word := range []string{"help", "--help", "-h"} {
		if out := mustRun(t, 0, "", word); out != usage {
			t.Errorf("%s says %q", word, out)
		}
	}
	for _, command := range []string{"serve", "demo", "verify", "backup", "restore"} {
		out := mustRun(t, 0, "", command, "--help")
		if !strings.Contains(out, "-data") {
			t.Errorf("%s --help says %q", command, out)
		}
		if !strings.Contains(usage, "\n  "+command+" ") {
			t.Errorf("the usage does not name %s", command)
		}
	}
}

func TestAWordThatMeansNothingIsRefused(t *testing.T) {
	for _, c := range []struct {
		args []string
		says string
	}{
		{nil, "no command is given\nusage: rowtally COMMAND"},
		{[]string{"sow"}, "there is no command \"sow\"\nusage: rowtally COMMAND"},
		{[]string{"serve", "--sideways"}, "flag provided but not defined: -sideways"},
		{[]string{"demo", "--json=perhaps"}, "invalid boolean value"},
		{[]string{"backup"}, "name the file to copy to: rowtally backup FILE"},
		{[]string{"backup", "a", "b"}, "name the file to copy to"},
		{[]string{"restore"}, "name the copy: rowtally restore FILE"},
		{[]string{"calc", "mix", "--sideways"}, "\"--sideways\" means nothing here: rowtally calc NAME [--lines] [--working]"},
		{[]string{"calc", "mix", "seed"}, "\"seed\" means nothing here"},
	} {
		_, code, err := ran(t, "", c.args...)
		if code != 2 || err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("rowtally %s ends with %d: %v, want 2 and %q", strings.Join(c.args, " "), code, err, c.says)
		}
	}
}

// contracted are the calculations that others may rely on.
var contracted = []string{
	"germination-test", "retest-agreement", "binomial-interval", "pure-live-seed", "seed-storage", "placements-filled",
	"mix", "catch-test", "geodesic", "polygon-area", "row-plan", "sown",
	"remaining-value", "repair-cost", "capital-recovery", "field-rate", "machine-hour", "variance", "stock-value", "bill-totals", "business-number",
}

func TestCalcListsEveryCalculationOnce(t *testing.T) {
	seen := map[string]bool{}
	for _, line := range strings.Split(strings.TrimSpace(mustRun(t, 0, "", "calc")), "\n") {
		name, told, _ := strings.Cut(line, " ")
		if seen[name] || strings.TrimSpace(told) == "" {
			t.Errorf("the list says %q", line)
		}
		seen[name] = true
	}
	for _, name := range contracted {
		if !seen[name] {
			t.Errorf("%s is not listed", name)
		}
	}
}

// reply is one JSON object that calc writes, answered or refused.
type reply struct {
	Valid     bool
	Formatted string
	Working   []struct{ Step string }
	Error     *struct{ Kind, Field, Message string }
}

func replies(t *testing.T, out string) (all []reply) {
	t.Helper()
	for _, line := range strings.Split(strings.TrimSpace(out), "\n") {
		var a reply
		if err := json.Unmarshal([]byte(line), &a); err != nil {
			t.Fatalf("%v: %s", err, line)
		}
		all = append(all, a)
	}
	return all
}

// The register's own published example of a number.
const exampleABN = `{"scheme":"abn","number":"51 824 753 556"}`

func TestCalcAnswersInJSON(t *testing.T) {
	got := replies(t, mustRun(t, 0, exampleABN, "calc", "business-number"))
	if len(got) != 1 || !got[0].Valid || got[0].Formatted != "51 824 753 556" || got[0].Error != nil || got[0].Working != nil {
		t.Errorf("answered %+v", got)
	}
	in := `{"purity_percent":92,"germination_percent":34}`
	if got := replies(t, mustRun(t, 0, in, "calc", "pure-live-seed", "--working")); len(got[0].Working) == 0 {
		t.Errorf("--working shows none: %+v", got)
	}
}

func TestCalcRefusesWithTheFieldAndStatusTwo(t *testing.T) {
	for _, c := range []struct{ name, in, field, says string }{
		{"pure-live-seed", `{"purity_percent":140,"germination_percent":34}`, "purity_percent", "140"},
		{"pure-live-seed", `{"germination_percent":34}`, "purity_percent", ""},
		{"pure-live-seed", `{"purity_percent":92,"germination_percent":34,"colour":"red"}`, "colour", ""},
		{"pure-live-seed", `{"purity_percent":"92","germination_percent":34}`, "purity_percent", ""},
		{"pure-live-seed", `{"purity_percent":NaN,"germination_percent":34}`, "", ""},
		{"pure-live-seed", `{"purity_percent":1e999,"germination_percent":34}`, "", ""},
		{"pure-live-seed", `{"purity_percent":92,"germination_percent":34} more`, "", ""},
		{"business-number", ``, "", ""},
		{"business-number", `[]`, "", ""},
		{"no-such-thing", `{}`, "", "no-such-thing"},
	} {
		got := replies(t, mustRun(t, 2, c.in, "calc", c.name))
		e := got[0].Error
		if e == nil || e.Kind != "invalid" || c.field != "" && e.Field != c.field || !strings.Contains(e.Message, c.says) || e.Message == "" {
			t.Errorf("%s of %s answers %+v", c.name, c.in, e)
		}
	}
}

func TestCalcAnswersLineForLine(t *testing.T) {
	in := exampleABN + "\n" + `{"scheme":"abn"}` + "\n" + `{"scheme":"abn","number":"51 824 753 557"}` + "\n"
	got := replies(t, mustRun(t, 2, in, "calc", "business-number", "--lines"))
	if len(got) != 3 || !got[0].Valid || got[1].Error == nil || got[1].Error.Field != "number" || got[2].Error != nil || got[2].Valid {
		t.Errorf("answered %+v", got)
	}
	mustRun(t, 0, exampleABN+"\n"+exampleABN+"\n", "calc", "business-number", "--lines")
}
