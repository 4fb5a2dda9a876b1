package sown

import (
	"encoding/binary"
	"iter"
	"strings"
	"unicode/utf16"
)

// plain turns the bytes of a text file into UTF-8 without byte order mark, lines ending
// in a line feed. What is not text stays as it is.
func plain(text string) string {
	text = strings.TrimPrefix(text, "\ufeff")
	if order := utf16Order(text); order != nil {
		text = strings.TrimPrefix(fromUTF16(text, order), "\ufeff")
	}
	if !strings.Contains(text, "\n") {
		return strings.ReplaceAll(text, "\r", "\n")
	}
	return text
}

// utf16Order tells the byte order of UTF-16 text by its mark or, without one, by the
// zero bytes beside its first two characters; nil for any other text.
func utf16Order(text string) binary.ByteOrder {
	if len(text) < 4 {
		return nil
	}
	little := text[0] != 0 && text[1] == 0 && text[2] != 0 && text[3] == 0
	big := text[0] == 0 && text[1] != 0 && text[2] == 0 && text[3] != 0
	switch {
	case strings.HasPrefix(text, "\xff\xfe"), little:
		return binary.LittleEndian
	case strings.HasPrefix(text, "\xfe\xff"), big:
		return binary.BigEndian
	}
	return nil
}

func fromUTF16(text string, order binary.ByteOrder) string {
	bytes := []byte(text)
	units := make([]uint16, len(bytes)/2)
	for i := range units {
		units[i] = order.Uint16(bytes[2*i:])
	}
	return string(utf16.Decode(units))
}

// lines gives each line of a text with its number, from 1, without its line end.
func lines(text string) iter.Seq2[int, string] {
	return func(yield func(int, string) bool) {
		for number := 1; text != ""; number++ {
			var line string
			line, text, _ = strings.Cut(text, "\n")
			if !yield(number, strings.TrimSuffix(line, "\r")) {
				return
			}
		}
	}
}
