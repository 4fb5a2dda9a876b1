package sown

import (
	"iter"
	"strings"

	"rowtally/internal/ground"
)

// plain turns the bytes of a text file into UTF-8 without byte order mark, lines ending
// in a line feed. What is not text stays as it is.
func plain(text string) string {
	const mark = 4 // bytes that tell an encoding
	if head := text[:min(len(text), mark)]; len(head) < mark || strings.ContainsAny(head, "\x00") || head[0] >= 0xEF {
		text = string(ground.UTF8([]byte(text)))
	}
	if !strings.Contains(text, "\n") {
		return strings.ReplaceAll(text, "\r", "\n")
	}
	return text
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
