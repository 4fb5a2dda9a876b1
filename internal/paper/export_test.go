package paper

// Typefaces are the font files as the press hands them to the PDF library, by name.
func (pr *Press) Typefaces() map[string][]byte {
	out := map[string][]byte{}
	for _, s := range []style{pr.title, pr.text, pr.strong} {
		out[s.face.name] = s.face.ttf
	}
	return out
}
