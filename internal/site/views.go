package site

import (
	"bytes"
	"fmt"
	"html/template"
	"io"
	"io/fs"
	"path"
	"strings"
)

// views holds every page, parsed with the parts at start.
type views struct{ pages map[string]*template.Template }

// parseViews parses page/*.html, each with all of part/*.html. A page that does not
// parse, or calls a part that is not there, stops the program.
func parseViews(files fs.FS, asset func(string) string) (*views, error) {
	base, err := template.New("").Funcs(words(asset)).ParseFS(files, "part/*.html")
	if err != nil {
		return nil, fmt.Errorf("parse the parts: %w", err)
	}
	names, err := fs.Glob(files, "page/*.html")
	if err != nil || len(names) == 0 {
		return nil, fmt.Errorf("no pages to parse: %v", err)
	}
	v := &views{map[string]*template.Template{}}
	for _, name := range names {
		page, err := template.Must(base.Clone()).ParseFS(files, name)
		if err != nil {
			return nil, fmt.Errorf("parse %s: %w", name, err)
		}
		v.pages[strings.TrimSuffix(path.Base(name), ".html")] = page
	}
	return v, nil
}

// Load is Fiber's; everything is parsed already.
func (*views) Load() error { return nil }

// Render writes a page whole or not at all: an error half way leaves nothing behind. Given
// the name of a part, it writes that part of the page alone.
func (v *views) Render(w io.Writer, name string, data any, part ...string) error {
	page, ok := v.pages[name]
	if !ok {
		return fmt.Errorf("there is no page %q", name)
	}
	var out bytes.Buffer
	if err := page.ExecuteTemplate(&out, append(part, "layout")[0], data); err != nil {
		return fmt.Errorf("render %s: %w", name, err)
	}
	_, err := w.Write(bytes.ReplaceAll(out.Bytes(), []byte(thin), []byte(thin+joiner)))
	return err
}

// A line may break at the thin space between thousands; the joiner behind it forbids that,
// and takes no room.
const thin, joiner = "\u2009", "\u2060"
