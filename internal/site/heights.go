package site

import "rowtally/internal/job"

// heights reads measured heights into a paddock, from which its fall is fitted, or takes
// them away.
func (s *site) heights(r *request) error {
	paddock, back, err := s.paddockOf(r)
	if err != nil {
		return err
	}
	f := blank(nil)
	if r.isPost() {
		f = readForm(r)
		f.readHeights(r, &paddock)
		if f.ok() {
			if err := s.Books.ChangePaddock(r.Context(), r.act(), paddock); err == nil {
				return r.see(back + "?done=kept#fall")
			} else if err := f.take(err); err != nil {
				return err
			}
		}
	}
	return r.draw(f, formPage{
		Frame: r.frame("farms", "The fall of "+paddock.Name), Button: "Fit the fall", Back: back, Files: true,
		Lead: "Heights over the whole paddock, not along one line: their best plane is its fall. Heights read before are replaced.",
		Groups: []group{{Fields: []Field{
			{Name: "heights", Label: "Heights file", Kind: "file", Hint: "CSV with columns lat, lon and height in metres, or a GPX file whose points have a height."},
			{Name: "heights_text", Label: "or typed", Kind: "textarea", Hint: "A line for each place: latitude, longitude, height in metres, such as -36.40123, 140.10456, 21.4."},
		}}},
	})
}

func (f *form) readHeights(r *request, p *job.Paddock) {
	name, content, given := f.file(r, "heights")
	if !given {
		if f.ok() {
			f.refuse("heights", "Choose a file or type the heights.")
		}
		return
	}
	if err := job.ReadHeights(p, name, content); err != nil {
		f.refuse("heights", "%s", sentence(err.Error()))
	}
}
