package rules

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// longest is how many lines a file of ours may have.
const longest = 400

func TestNoFileIsLong(t *testing.T) {
	for _, f := range files(t, ".go", ".ts", ".mjs", ".css", ".html", ".sql") {
		if lines := strings.Count(f.text, "\n"); lines > longest {
			t.Errorf("%s has %d lines: part it below %d", f.path, lines, longest)
		}
	}
}

// topLevel is all that may stand beside the dot files at the root.
var topLevel = []string{"cmd", "internal", "web", "migrations", "testdata", "go.mod", "go.sum", "README.md", "DEVELOPERS.md", "Makefile", "LICENSE"}

// made stands at the root after a build or a run, and is ignored by git.
var made = []string{"bin", "data", "coverage.out"}

func TestTopLevelNamesAreFixed(t *testing.T) {
	entries, err := os.ReadDir(root)
	if err != nil {
		t.Fatal(err)
	}
	var found []string
	for _, entry := range entries {
		name := entry.Name()
		found = append(found, name)
		if !strings.HasPrefix(name, ".") && !slices.Contains(topLevel, name) && !slices.Contains(made, name) {
			t.Errorf("%s stands at the root, where only %v may", name, topLevel)
		}
	}
	for _, name := range []string{"cmd", "internal", "web", "migrations", "testdata", "go.mod", "Makefile"} {
		if !slices.Contains(found, name) {
			t.Errorf("%s is missing at the root", name)
		}
	}
}

// gatherings are names under which anything could hide.
var gatherings = regexp.MustCompile(`(^|[/_])(utils?|helpers?|common|misc|models?|services?|managers?)([/_.]|$)`)

func TestNoFileGathersAnything(t *testing.T) {
	for _, f := range files(t) {
		if gatherings.MatchString(f.path) {
			t.Errorf("%s: say in the name what the file is about", f.path)
		}
	}
	for _, bad := range []string{"internal/utils/x.go", "internal/seed/seed_helpers.go", "internal/common/a.go"} {
		if !gatherings.MatchString(bad) {
			t.Errorf("%s goes through", bad)
		}
	}
}

// machinePath is a folder of some machine; parted here so that this file holds none.
var machinePath = regexp.MustCompile(`(^|[\s"'(=:` + "`" + `])/(` + strings.Join([]string{"wo" + "rk", "ro" + "ot", "ho" + "me", "Use" + "rs", "m" + "nt"}, "|") + `)/[\w.]`)

func TestNoPathOfAMachine(t *testing.T) {
	for _, f := range files(t) {
		for number, line := range strings.Split(f.text, "\n") {
			if machinePath.MatchString(line) {
				t.Errorf("%s:%d names a folder of one machine: %s", f.path, number+1, strings.TrimSpace(line))
			}
		}
	}
	for _, bad := range []string{"cd /ro" + "ot/x", `open("/ho` + `me/ann/data")`, "/wo" + "rk/main"} {
		if !machinePath.MatchString(bad) {
			t.Errorf("%q goes through", bad)
		}
	}
}

var migrationName = regexp.MustCompile(`^(\d{4})_[a-z0-9_]+\.sql$`)

func TestMigrationsHaveTheSameNumbersOnBothEngines(t *testing.T) {
	sqlite, postgres := migrationNames(t, "sqlite"), migrationNames(t, "postgres")
	if !slices.Equal(sqlite, postgres) {
		t.Errorf("sqlite has %v\npostgres has %v", sqlite, postgres)
	}
	for i, name := range sqlite {
		if want := fmt.Sprintf("%04d", i+1); !strings.HasPrefix(name, want+"_") {
			t.Errorf("%s stands where number %s belongs", name, want)
		}
	}
}

func migrationNames(t *testing.T, engine string) (names []string) {
	t.Helper()
	paths, err := filepath.Glob(filepath.Join(root, "migrations", engine, "*.sql"))
	if err != nil || len(paths) == 0 {
		t.Fatalf("%s has no migrations: %v", engine, err)
	}
	for _, path := range paths {
		name := filepath.Base(path)
		if !migrationName.MatchString(name) {
			t.Errorf("%s is not named as 0001_what.sql", path)
		}
		names = append(names, name)
	}
	return names
}
