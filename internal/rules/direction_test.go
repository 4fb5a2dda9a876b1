package rules

import (
	"go/parser"
	"go/token"
	"path"
	"slices"
	"strconv"
	"strings"
	"testing"
)

var (
	measures = []string{"ground", "money", "unit", "fault", "working"}
	trade    = []string{"rows", "mix", "sown", "machine", "bill", "seed", "count"}
	pure     = slices.Concat(measures, trade, []string{"bank", "job", "choose"})
)

// mayImport says which of our own packages each may import, tests apart. A package that
// is not here has no place in the house yet: give it one, on the side that faces down.
var mayImport = map[string][]string{
	"unit":    {},
	"fault":   {},
	"working": {"unit"},
	"money":   {"unit", "fault"},
	"ground":  {"unit", "fault", "working"},

	"rows":    measures,
	"seed":    measures,
	"machine": measures,
	"bill":    measures,
	"mix":     slices.Concat(measures, []string{"seed"}),
	"sown":    slices.Concat(measures, []string{"rows"}),
	"count":   slices.Concat(measures, []string{"seed"}),

	"bank": slices.Concat(measures, []string{"bill"}), // beside the job: no other figure rests on it

	"job":    slices.Concat(measures, trade),
	"choose": slices.Concat(measures, trade, []string{"job"}), // beside the job, so that the truck need not carry it

	"site":  pure,
	"paper": pure,
	"calc":  pure,
	"store": slices.Concat(pure, []string{"migrations"}),

	"demo": slices.Concat(pure, []string{"store", "paper"}), // acts a season out through the edges

	"cmd/rowtally": slices.Concat(pure, []string{"site", "paper", "calc", "store", "demo", "web"}),
	"cmd/truck":    slices.Concat(measures, trade, []string{"job", "calc"}),

	"web":        {},
	"migrations": {},
	"published":  {},
	"walk":       {},
	"rules":      {},
}

// mayUse says which of our packages may import a library of others, by the start of its
// path. A library that is not here is used by tests alone.
var mayUse = map[string][]string{
	"gorm.io/":                         {"store"},
	"github.com/jackc/pgx/":            {"store"},
	"github.com/mattn/go-sqlite3":      {"store"},
	"github.com/pressly/goose/":        {"store"},
	"github.com/gofiber/fiber/":        {"site", "cmd/rowtally"},
	"github.com/valyala/fasthttp":      {"site"},
	"github.com/xuri/excelize/":        {"site"},
	"github.com/alexedwards/argon2id":  {"site"},
	"golang.org/x/crypto/":             {"site"},
	"github.com/jung-kurt/gofpdf":      {"paper"},
	"github.com/boombuler/barcode":     {"paper"},
	"golang.org/x/text/":               {"paper", "site"},
	"github.com/shopspring/decimal":    {"money"},
	"github.com/peterstace/simplefeat": {},
	"github.com/chromedp/":             {},
	"pgregory.net/rapid":               {},
}

const ours = "rowtally/"

func TestImportsFaceOneWay(t *testing.T) {
	for _, f := range files(t, ".go") {
		for _, complaint := range importComplaints(f) {
			t.Error(complaint)
		}
	}
}

func importComplaints(f file) (complaints []string) {
	from := packageOf(path.Dir(f.path))
	if _, known := mayImport[from]; !known {
		return []string{f.path + ": package " + from + " has no place in mayImport"}
	}
	if strings.HasSuffix(f.path, "_test.go") {
		return nil
	}
	for _, imported := range imports(f) {
		if !allowed(from, imported) {
			complaints = append(complaints, f.path+" may not import "+imported)
		}
	}
	return complaints
}

// packageOf names a folder as the tables do: internal/seed is "seed", cmd/truck itself.
func packageOf(folder string) string { return strings.TrimPrefix(folder, "internal/") }

func imports(f file) (paths []string) {
	parsed, err := parser.ParseFile(token.NewFileSet(), f.path, f.text, parser.ImportsOnly)
	if err != nil {
		return []string{"what does not parse: " + err.Error()}
	}
	for _, spec := range parsed.Imports {
		if p, err := strconv.Unquote(spec.Path.Value); err == nil {
			paths = append(paths, p)
		}
	}
	return paths
}

func allowed(from, imported string) bool {
	if own, is := strings.CutPrefix(imported, ours); is {
		return slices.Contains(mayImport[from], packageOf(own))
	}
	if first, _, _ := strings.Cut(imported, "/"); !strings.Contains(first, ".") {
		return true // the standard library
	}
	for start, users := range mayUse {
		if strings.HasPrefix(imported, start) {
			return slices.Contains(users, from)
		}
	}
	return false
}

func TestImportComplaintsAreMade(t *testing.T) {
	for _, bad := range []file{
		{"internal/seed/lot.go", "package seed\nimport \"rowtally/internal/store\""},
		{"internal/rows/plan.go", "package rows\nimport \"rowtally/internal/sown\""},
		{"internal/bill/quote.go", "package bill\nimport \"rowtally/internal/mix\""},
		{"internal/site/site.go", "package site\nimport \"rowtally/internal/store\""},
		{"internal/site/site.go", "package site\nimport \"gorm.io/gorm\""},
		{"internal/store/lot.go", "package store\nimport \"github.com/gofiber/fiber/v2\""},
		{"internal/calc/calc.go", "package calc\nimport \"github.com/jung-kurt/gofpdf\""},
		{"internal/bill/quote.go", "package bill\nimport \"github.com/shopspring/decimal\""},
		{"internal/rows/plan.go", "package rows\nimport \"pgregory.net/rapid\""},
		{"internal/mix/mix.go", "package mix\nimport \"example.org/unheard/of\""},
		{"internal/seed/lot.go", "package seed\nimport \"rowtally/internal/published\""},
		{"internal/common/common.go", "package common"},
	} {
		if len(importComplaints(bad)) != 1 {
			t.Errorf("no complaint about %s:\n%s", bad.path, bad.text)
		}
	}
	good := file{"internal/sown/match.go", "package sown\nimport (\"math\"; \"rowtally/internal/rows\"; \"rowtally/internal/ground\")"}
	if complaints := importComplaints(good); len(complaints) != 0 {
		t.Error(complaints)
	}
}
