package rules

import (
	"encoding/csv"
	"fmt"
	"path"
	"slices"
	"strings"
	"testing"
)

func TestEveryPublishedRowNamesItsSource(t *testing.T) {
	for _, f := range under(files(t, ".csv"), "testdata") {
		if strings.Count(f.path, "/") > 1 {
			continue // logs and boundaries in folders below are made up for a reader's test
		}
		for _, complaint := range sourceless(f) {
			t.Error(complaint)
		}
	}
}

func sourceless(f file) (complaints []string) {
	lines, err := csv.NewReader(strings.NewReader(f.text)).ReadAll()
	if err != nil || len(lines) < 2 {
		return []string{fmt.Sprintf("%s holds no rows: %v", f.path, err)}
	}
	column := slices.Index(lines[0], "source")
	if column < 0 {
		return []string{f.path + " has no column source"}
	}
	for i, line := range lines[1:] {
		if strings.TrimSpace(line[column]) == "" {
			complaints = append(complaints, fmt.Sprintf("%s:%d names no source", f.path, i+2))
		}
	}
	return complaints
}

// Figures that no test reads check nothing.
func TestEveryPublishedFileIsRead(t *testing.T) {
	var tests strings.Builder
	for _, f := range files(t, "_test.go") {
		tests.WriteString(f.text)
	}
	for _, f := range under(files(t, ".csv"), "testdata") {
		if strings.Count(f.path, "/") == 1 && !strings.Contains(tests.String(), path.Base(f.path)) {
			t.Errorf("%s is read by no test", f.path)
		}
	}
}

func TestSourcelessRowsAreFound(t *testing.T) {
	for text, want := range map[string]int{
		"x,source\n1,Handbook of 1999 table 3\n": 0,
		"x,source\n1,\n2,  \n":                   2,
		"x,y\n1,2\n":                             1,
		"x,source\n":                             1,
	} {
		if got := sourceless(file{"testdata/x.csv", text}); len(got) != want {
			t.Errorf("%q: %q, want %d complaints", text, got, want)
		}
	}
}
