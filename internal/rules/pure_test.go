package rules

import (
	"go/ast"
	"go/parser"
	"go/token"
	"slices"
	"strings"
	"testing"
)

// A pure package is told the moment and the seed of chance; it opens nothing and asks
// nobody. What it may not import, and what it may not call:
var (
	impureImports = []string{"os", "os/exec", "os/signal", "net", "net/http", "database/sql", "html/template", "io/ioutil",
		"math/rand", "math/rand/v2", "crypto/rand", "log", "log/slog", "path/filepath", "syscall", "testing", "embed"}
	impureCalls = []string{"time.Now", "time.Since", "time.Until", "time.Sleep", "time.After", "time.Tick", "time.LoadLocation",
		"fmt.Print", "fmt.Printf", "fmt.Println"}
)

func TestPurePackagesAskNobody(t *testing.T) {
	for _, f := range under(files(t, ".go"), pureFolders()...) {
		if strings.HasSuffix(f.path, "_test.go") {
			continue
		}
		for _, complaint := range impurities(t, f) {
			t.Error(complaint)
		}
	}
}

func pureFolders() (folders []string) {
	for _, name := range pure {
		folders = append(folders, "internal/"+name)
	}
	return folders
}

func impurities(t *testing.T, f file) (complaints []string) {
	t.Helper()
	for _, imported := range imports(f) {
		if slices.Contains(impureImports, imported) {
			complaints = append(complaints, f.path+" imports "+imported)
		}
	}
	parsed, err := parser.ParseFile(token.NewFileSet(), f.path, f.text, 0)
	if err != nil {
		t.Fatal(err)
	}
	ast.Inspect(parsed, func(n ast.Node) bool {
		selector, ok := n.(*ast.SelectorExpr)
		if !ok {
			return true
		}
		if of, ok := selector.X.(*ast.Ident); ok && slices.Contains(impureCalls, of.Name+"."+selector.Sel.Name) {
			complaints = append(complaints, f.path+" calls "+of.Name+"."+selector.Sel.Name)
		}
		return true
	})
	return complaints
}

func TestImpuritiesAreFound(t *testing.T) {
	bad := file{"internal/seed/lot.go", "package seed\nimport (\"os\"; \"time\")\nfunc f() { os.Exit(1); g(time.Now()) }"}
	if got := impurities(t, bad); len(got) != 2 {
		t.Errorf("found %q, want an import and a call", got)
	}
}
