package ground

import (
	"archive/zip"
	"bytes"
	"io"
	"path"
	"strings"

	"rowtally/internal/fault"
)

// mostZipped is how many files a zip may hold that is read.
const mostZipped = 1000

func isZip(content []byte) bool { return bytes.HasPrefix(content, []byte("PK\x03\x04")) }

// zipped lists the files of a zip, folders and what a machine leaves beside them left out.
func zipped(content []byte) (files []*zip.File, err error) {
	archive, err := zip.NewReader(bytes.NewReader(content), int64(len(content)))
	if err != nil {
		return nil, fault.Refuse("", "the zip cannot be opened (%v), make it again", err)
	}
	if len(archive.File) > mostZipped {
		return nil, fault.Refuse("", "the zip holds %d files, put the paddock's alone into one", len(archive.File))
	}
	for _, f := range archive.File {
		hidden := strings.HasPrefix(path.Base(f.Name), ".") || strings.HasPrefix(f.Name, "__MACOSX/")
		if !hidden && !strings.HasSuffix(f.Name, "/") {
			files = append(files, f)
		}
	}
	return files, nil
}

// ending is a file's ending in small letters.
func ending(f *zip.File) string { return strings.ToLower(path.Ext(f.Name)) }

// unzip reads one file of a zip, up to the size of a boundary file.
func unzip(f *zip.File) ([]byte, error) {
	inside, err := f.Open()
	if err != nil {
		return nil, fault.Refuse("", "%s in the zip cannot be read (%v), make it again", f.Name, err)
	}
	defer inside.Close()
	content, err := io.ReadAll(io.LimitReader(inside, MostBytes+1))
	switch {
	case err != nil:
		return nil, fault.Refuse("", "%s in the zip cannot be read (%v), make it again", f.Name, err)
	case len(content) > MostBytes:
		return nil, fault.Refuse("", "%s in the zip is larger than %d MB, export the paddock alone", f.Name, MostBytes>>20)
	}
	return content, nil
}

// kmzFormat is a KML file in a zip, as OGC 12-007 has it.
var kmzFormat = format{
	name:    "KMZ",
	endings: []string{".kmz"},
	begins:  isZip,
	reads:   kmzGeometry,
}

func kmzGeometry(content []byte, mend *mending) (Geometry, []string, error) {
	files, err := zipped(content)
	if err != nil {
		return Geometry{}, nil, err
	}
	for _, f := range files {
		if ending(f) != ".kml" {
			continue
		}
		text, err := unzip(f)
		if err != nil {
			return Geometry{}, nil, err
		}
		return kmlGeometry(UTF8(text), mend)
	}
	return Geometry{}, nil, fault.Refuse("", "the KMZ holds no KML file, export it again")
}
