package ground

import (
	"bytes"
	"encoding/binary"
	"encoding/xml"
	"errors"
	"io"
	"strings"
	"unicode/utf16"

	"rowtally/internal/fault"
)

// UTF8 is the text of a file of places without its byte order mark. UTF-16 is told by its
// mark or, without one, by the zero bytes beside its first two characters; anything else
// stays as it is.
func UTF8(content []byte) []byte {
	if order := utf16Order(content); order != nil {
		content = fromUTF16(content, order)
	}
	return bytes.TrimPrefix(content, []byte("\ufeff"))
}

// utf16Order tells the byte order of UTF-16 text; nil for any other text.
func utf16Order(content []byte) binary.ByteOrder {
	if len(content) < 4 {
		return nil
	}
	little := content[0] != 0 && content[1] == 0 && content[2] != 0 && content[3] == 0
	big := content[0] == 0 && content[1] != 0 && content[2] == 0 && content[3] != 0
	switch {
	case bytes.HasPrefix(content, []byte{0xFF, 0xFE}), little:
		return binary.LittleEndian
	case bytes.HasPrefix(content, []byte{0xFE, 0xFF}), big:
		return binary.BigEndian
	}
	return nil
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

// eachToken hands the tokens of an XML file to a reader, one by one. It is lenient, as
// files of places are written by many hands: unclosed elements and odd names pass.
func eachToken(content []byte, take func(xml.Token) error) error {
	decoder := xml.NewDecoder(bytes.NewReader(bytes.ToValidUTF8(content, []byte("?")))) // names may be in any encoding, whatever is declared
	decoder.Strict = false
	decoder.CharsetReader = asciiReader
	for {
		token, err := decoder.RawToken()
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return fault.Refuse("", "the file is not XML all through (%v), export it again", err)
		}
		if err := take(token); err != nil {
			return err
		}
	}
}
