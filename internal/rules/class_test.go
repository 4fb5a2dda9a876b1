package rules

import (
	"regexp"
	"strings"
	"testing"
)

var (
	classes = regexp.MustCompile(`\bclass="([^"]*)"`)
	styled  = regexp.MustCompile(`\.([a-z][a-z0-9-]*)`)
)

// A class that no style sheet knows is a slip of the pen, or a part of the face that was
// never drawn.
func TestEveryClassIsDrawn(t *testing.T) {
	drawn := map[string]bool{}
	for _, f := range under(files(t, ".css"), "web/style") {
		for _, m := range styled.FindAllStringSubmatch(f.text, -1) {
			drawn[m[1]] = true
		}
	}
	if !drawn["chain"] || drawn["nowhere"] {
		t.Fatal("the style sheets are not read as they should")
	}
	for _, f := range pages(t) {
		for _, class := range classesOf(f.text) {
			if !drawn[class] {
				t.Errorf("%s: class %q is in no style sheet", f.path, class)
			}
		}
	}
}

// classesOf gives the class names of a template that are written out whole.
func classesOf(template string) (names []string) {
	for _, m := range classes.FindAllStringSubmatch(action.ReplaceAllString(template, " "), -1) {
		names = append(names, strings.Fields(m[1])...)
	}
	return names
}
