package paper_test

import (
	"os"
	"os/exec"
	"path/filepath"
	"testing"
)

// run hands a paper to one of the PDF tools as a file and gives what the tool prints; an
// argument "PAPER" stands for the file.
func run(t *testing.T, pdf []byte, tool string, args ...string) string {
	t.Helper()
	if _, err := exec.LookPath(tool); err != nil {
		t.Skipf("%s is not installed", tool)
	}
	file := filepath.Join(t.TempDir(), "paper.pdf")
	if err := os.WriteFile(file, pdf, 0o600); err != nil {
		t.Fatal(err)
	}
	for i, arg := range args {
		if arg == "PAPER" {
			args[i] = file
		}
	}
	out, err := exec.Command(tool, args...).CombinedOutput()
	if err != nil {
		t.Fatalf("%s: %v\n%s", tool, err, out)
	}
	return string(out)
}

// textOf is the paper as a reader's program takes the text out of it, page after page.
func textOf(t *testing.T, pdf []byte) string {
	t.Helper()
	return run(t, pdf, "pdftotext", "-layout", "PAPER", "-")
}

// printed fails the test where printing does.
func printed(t testing.TB, pdf []byte, err error) []byte {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
	return pdf
}
