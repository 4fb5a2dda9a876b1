package rules

import (
	"regexp"
	"slices"
	"strings"
	"testing"
)

// unsaid are words that belong to other books than this one. "Record" is refused only
// where it stands alone as a label: a sown record is a thing of the trade.
var unsaid = regexp.MustCompile(`(?i)\b(dashboard|workflow|pipeline|project|task|asset|item|entity|entities|SKU|insight|smart|sync|configure|module|user|admin|client|lead|deal)s?\b`)

var (
	loneRecord = regexp.MustCompile(`(?i)<(label|th|dt|h[1-6]|legend|button|a)\b[^>]*>\s*records?\s*<`)
	action     = regexp.MustCompile(`(?s)\{\{.*?\}\}`)
	comment    = regexp.MustCompile(`(?s)<!--.*?-->`)
	tag        = regexp.MustCompile(`(?s)<[^>]*>`)
	spoken     = regexp.MustCompile(`(?s)\b(?:placeholder|title|alt|aria-label|data-of|value)="([^"]*)"`)
)

func pages(t *testing.T) []file {
	t.Helper()
	return under(files(t, ".html"), "web/page", "web/part")
}

func TestScreensUseOurWords(t *testing.T) {
	for _, f := range pages(t) {
		for _, word := range wordsUnsaid(f.text) {
			t.Errorf("%s says %q on a screen", f.path, word)
		}
	}
}

// wordsUnsaid finds the refused words in what a person reads of a template: its text, and
// the attributes that a browser shows or speaks.
func wordsUnsaid(template string) []string {
	text := comment.ReplaceAllString(action.ReplaceAllString(template, " "), " ")
	var read strings.Builder
	for _, attribute := range spoken.FindAllStringSubmatch(text, -1) {
		read.WriteString(attribute[1] + " ")
	}
	read.WriteString(tag.ReplaceAllString(text, " "))
	found := unsaid.FindAllString(read.String(), -1)
	return append(found, loneRecord.FindAllString(text, -1)...)
}

func TestRefusedWordsAreFound(t *testing.T) {
	for template, want := range map[string]int{
		`<h1>Dashboard</h1><p>Two Items, one user.</p>`:                               3,
		`<input placeholder="client">`:                                                1,
		`<th>record</th>`:                                                             1,
		`<p>the sown record of this job, itemised; a leading task-free line</p>`:      1,
		`<script type="module" src="{{asset "page.js"}}"></script><p>the sown record`: 0,
		`{{/* the user's lead */}}<p class="item">clientele, smartly, deals out</p>`:  1,
		`<a href="/project/{{.ID}}">rows</a><option value="sync">as logged</option>`:  1,
		`{{if eq .Role "admin"}}<p>Seed lots, tubs and mounds</p>{{end}}`:             0,
		`<label>Records</label>`:                                                      1,
	} {
		if got := wordsUnsaid(template); len(got) != want {
			t.Errorf("%s: found %q, want %d", template, got, want)
		}
	}
}

// inline is what the content security policy would refuse, and what moves behaviour and
// looks out of the files that are checked for them.
var inline = []*regexp.Regexp{
	regexp.MustCompile(`(?i)<style\b`),
	regexp.MustCompile(`(?i)\sstyle\s*=`),
	regexp.MustCompile(`(?i)\son[a-z]+\s*=`),
	regexp.MustCompile(`(?i)javascript:`),
	regexp.MustCompile(`(?is)<script\b[^>]*>\s*[^<\s]`),
	regexp.MustCompile(`(?i)\b(src|href)\s*=\s*"(https?:)?//`),
}

func TestTemplatesHoldNoInlineScriptOrStyle(t *testing.T) {
	for _, f := range pages(t) {
		for _, found := range inlined(f.text) {
			t.Errorf("%s holds %q", f.path, found)
		}
	}
}

func inlined(template string) (found []string) {
	for _, pattern := range inline {
		found = append(found, pattern.FindAllString(template, -1)...)
	}
	return found
}

func TestInlineScriptIsFound(t *testing.T) {
	for _, bad := range []string{`<p style="color:red">`, `<style>p{}</style>`, `<a onclick="go()">`, `<script>go()</script>`,
		`<a href="javascript:go()">`, `<script src="https://example.org/x.js"></script>`, `<script type="module"> go() </script>`} {
		if len(inlined(bad)) == 0 {
			t.Errorf("%s goes through", bad)
		}
	}
	good := `<script type="module" src="{{asset "page.js"}}"></script><p class="once">{{if .On}} on {{end}}</p><a href="/jobs">`
	if found := inlined(good); len(found) != 0 {
		t.Errorf("%q found in what is allowed", found)
	}
}

// carriesToken finds the session's word in a form, written out or by the part that holds it.
var carriesToken = regexp.MustCompile(`name="csrf"|\{\{\s*template "formkeys"`)

func TestEveryPostCarriesTheFormToken(t *testing.T) {
	form := regexp.MustCompile(`(?is)<form\b[^>]*method="post".*?</form>`)
	for _, f := range pages(t) {
		for _, post := range form.FindAllString(f.text, -1) {
			if !carriesToken.MatchString(post) && !slices.Contains(openForms, f.path) {
				t.Errorf("%s: a form without its csrf field:\n%.120s", f.path, post)
			}
		}
	}
}

// openForms are sent by people who have not signed in; the site holds these to its own
// origin instead.
var openForms = []string{"web/page/enter.html", "web/page/farmer_job.html"}
