package rules

import (
	"regexp"
	"strings"
	"testing"
)

var (
	skip = regexp.MustCompile(`\.Skipf?\(.*|\.SkipNow\(.*`)
	// a test may be skipped for want of a program to compare with, and says which
	peerMissing = regexp.MustCompile(`not installed|install `)
)

func TestTestsAreSkippedOnlyForWantOfAPeer(t *testing.T) {
	for _, f := range files(t, "_test.go") {
		if strings.HasPrefix(f.path, "internal/rules/") {
			continue
		}
		for _, found := range skip.FindAllString(f.text, -1) {
			if !peerMissing.MatchString(found) {
				t.Errorf("%s skips without naming the program that is not installed: %s", f.path, found)
			}
		}
	}
}
