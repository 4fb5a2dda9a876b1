package ground

import (
	"bytes"
	"encoding/binary"
	"strings"
	"unicode/utf16"
)

// asUTF8 takes a byte order mark off a text and turns UTF-16 into UTF-8. Content without
// a mark stays as it is.
func asUTF8(content []byte) []byte {
	switch {
	case bytes.HasPrefix(content, []byte{0xEF, 0xBB, 0xBF}):
		return content[3:]
	case bytes.HasPrefix(content, []byte{0xFF, 0xFE}):
		return fromUTF16(content[2:], binary.LittleEndian)
	case bytes.HasPrefix(content, []byte{0xFE, 0xFF}):
		return fromUTF16(content[2:], binary.BigEndian)
	}
	return content
}

func fromUTF16(content []byte, order binary.ByteOrder) []byte {
	units := make([]uint16, len(content)/2)
	for i := range units {
		units[i] = order.Uint16(content[2*i:])
	}
	return []byte(string(utf16.Decode(units)))
}

// beginsWith tells whether a text begins with a sign, white space aside.
func beginsWith(content []byte, sign string) bool {
	return strings.HasPrefix(string(bytes.TrimSpace(content[:min(len(content), 1000)])), sign)
}
