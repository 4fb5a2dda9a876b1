// Package paper prints the papers: quote, invoice, mixing sheet. It lays out what it is
// handed and computes no figure of the trade or of money. The same input gives the same
// bytes. It refuses to know where papers are kept and who may see them.
package paper

import (
	"fmt"
	"io/fs"
)

// The typefaces that New looks for.
const (
	textFile   = "AtkinsonHyperlegibleNext-Regular.ttf"
	strongFile = "AtkinsonHyperlegibleNext-Bold.ttf"
	titleFile  = "Literata-SemiBold.ttf"
)

// Press prints papers. It may be used by several goroutines at once.
type Press struct {
	name    style // whose paper it is
	title   style // what it is
	heading style // of a section
	text    style
	strong  style
	soft    style // labels and marks
	sum     style // the last figure of a bill
}

// New reads the typefaces of the papers from the folder that the web build puts them in,
// "font" below web/dist. Without them there is no printing: it fails with what to do.
func New(fonts fs.FS) (*Press, error) {
	title, err := openFace(fonts, titleFile)
	if err != nil {
		return nil, err
	}
	text, err := openFace(fonts, textFile)
	if err != nil {
		return nil, err
	}
	strong, err := openFace(fonts, strongFile)
	if err != nil {
		return nil, err
	}
	text.spare, strong.spare = title, title
	return &Press{
		name:    style{title, 13, ink},
		title:   style{title, 21, ink},
		heading: style{title, 10.5, ink},
		text:    style{text, 9.5, ink},
		strong:  style{strong, 9.5, ink},
		soft:    style{text, 8.2, soft},
		sum:     style{strong, 15, ink},
	}, nil
}

func openFace(fonts fs.FS, file string) (*face, error) {
	ttf, err := fs.ReadFile(fonts, file)
	if err != nil {
		return nil, fmt.Errorf("papers need the typeface %s, run make web and build again: %w", file, err)
	}
	return readFace(file[:len(file)-len(".ttf")], ttf)
}
