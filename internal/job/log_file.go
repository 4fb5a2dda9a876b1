package job

import (
	"bytes"
	"compress/gzip"
	"errors"
	"io"
	"path"
	"strings"
	"unsafe"

	"rowtally/internal/fault"
	"rowtally/internal/ground"
)

// LargestLog is the most that a log may hold, in bytes, as it is loaded and again when it is
// unpacked: a million moments of NMEA are about 150 MB.
const LargestLog = 200 << 20

// LogFormat tells a log's format by its name's ending, else by how it begins: of NMEA any of
// the first lines, for a receiver may write others before. A log packed with gzip has the
// format of what is in it.
func LogFormat(name string, content []byte) string {
	switch ending := path.Ext(strings.TrimSuffix(strings.ToLower(name), ".gz")); ending {
	case ".gpx", ".csv", ".nmea", ".geojson":
		return ending[1:]
	case ".json":
		return "geojson"
	}
	switch begin := strings.TrimLeft(beginning(content), " \t\r\n"); {
	case strings.HasPrefix(begin, "<"):
		return "gpx"
	case strings.HasPrefix(begin, "{"):
		return "geojson"
	case strings.HasPrefix(begin, "$"), strings.Contains(begin, "\n$"), strings.Contains(begin, "\r$"):
		return "nmea"
	}
	return "csv"
}

// beginning is the first letters of a log, unpacked, whether they are UTF-8 or UTF-16.
func beginning(content []byte) string {
	const few = 4096
	if isPacked(content) {
		if unpacked, err := gzip.NewReader(bytes.NewReader(content)); err == nil {
			content, _ = io.ReadAll(io.LimitReader(unpacked, few))
		}
	}
	return string(ground.UTF8(content[:min(len(content), few)]))
}

func isPacked(content []byte) bool { return bytes.HasPrefix(content, []byte{0x1f, 0x8b}) }

// textOf is the text of a log, unpacked where it came packed with gzip (RFC 1952). It
// refuses one that is damaged or holds more than so many bytes.
func textOf(content []byte, most int64) (string, error) {
	if isPacked(content) {
		whole, err := unpack(content, most)
		if err != nil {
			return "", err
		}
		content = whole
	}
	// A log is most of the memory of its match, so it is not copied: nothing alters it
	// once it is loaded, and what is unpacked has no other owner.
	return unsafe.String(unsafe.SliceData(content), len(content)), nil
}

func unpack(content []byte, most int64) ([]byte, error) {
	packed, err := gzip.NewReader(bytes.NewReader(content))
	if err != nil {
		return nil, fault.Refuse("text", "the packed file cannot be opened, pack it again or load it unpacked")
	}
	var whole bytes.Buffer
	read, err := io.Copy(&whole, io.LimitReader(packed, most+1))
	switch {
	case read > most:
		return nil, fault.Refuse("text", "it holds more than %d MB unpacked, load it in parts", most>>20)
	case errors.Is(err, io.ErrUnexpectedEOF):
		return nil, fault.Refuse("text", "the packed file is cut short, copy it again from the receiver")
	case err != nil:
		return nil, fault.Refuse("text", "the packed file is damaged, copy it again from the receiver")
	}
	return whole.Bytes(), nil
}
