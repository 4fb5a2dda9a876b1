// Package published hands the rows of testdata/*.csv to tests. Every file holds one
// body of published figures; every row names its source. It is a test aid: no part of
// the program imports it.
package published

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"runtime"
	"strconv"
	"testing"
)

// Row is one published case, by column name.
type Row struct {
	t      testing.TB
	Name   string // file and line, for failure messages
	fields map[string]string
}

// Rows reads testdata/<file>. It fails the test when the file has no rows, or a row
// lacks its source.
func Rows(t testing.TB, file string) []Row {
	t.Helper()
	_, here, _, _ := runtime.Caller(0)
	path := filepath.Join(filepath.Dir(here), "..", "..", "testdata", file)
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	lines, err := csv.NewReader(f).ReadAll()
	if err != nil || len(lines) < 2 {
		t.Fatalf("%s: %d lines, %v", file, len(lines), err)
	}
	var rows []Row
	for i, line := range lines[1:] {
		row := Row{t, file + ":" + strconv.Itoa(i+2), map[string]string{}}
		for c, name := range lines[0] {
			row.fields[name] = line[c]
		}
		if row.Text("source") == "" {
			t.Fatalf("%s names no source", row.Name)
		}
		rows = append(rows, row)
	}
	return rows
}

// Text is the column as printed; an unknown column fails the test.
func (r Row) Text(column string) string {
	r.t.Helper()
	v, ok := r.fields[column]
	if !ok {
		r.t.Fatalf("%s has no column %q", r.Name, column)
	}
	return v
}

// Has tells whether the column holds anything.
func (r Row) Has(column string) bool { r.t.Helper(); return r.Text(column) != "" }

// Number is the column as a number; anything else fails the test.
func (r Row) Number(column string) float64 {
	r.t.Helper()
	v, err := strconv.ParseFloat(r.Text(column), 64)
	if err != nil {
		r.t.Fatalf("%s, %s: %v", r.Name, column, err)
	}
	return v
}
