package site

import (
	"context"
	"fmt"
	"strconv"
	"strings"

	"rowtally/internal/ground"
	"rowtally/internal/job"
	"rowtally/internal/unit"
)

// readingBooks is what the pages of soil and water readings ask of the store.
type readingBooks interface {
	Readings(ctx context.Context, paddockID int64) ([]ground.Reading, error)
	Reading(ctx context.Context, id int64) (ground.Reading, error)
	AddReading(ctx context.Context, act job.Act, r ground.Reading) (int64, error)
	WithdrawReading(ctx context.Context, act job.Act, id int64, on unit.Date, why string) error
}

func (s *site) readingRoutes() []route {
	return append(s.lengthRoutes(), []route{
		office(get, "/paddocks/:id/readings/new", s.readingNew),
		office(post, "/paddocks/:id/readings/new", s.readingNew),
		office(get, "/paddocks/:id/readings/:reading/withdraw", s.readingWithdraw),
		office(post, "/paddocks/:id/readings/:reading/withdraw", s.readingWithdraw),
		office(get, "/paddocks/:id/heights", s.heights),
		office(post, "/paddocks/:id/heights", s.heights),
		office(get, "/jobs/:id/bearing", s.bearing),
	}...)
}

func (s *site) readingNew(r *request) error {
	paddock, back, err := s.paddockOf(r)
	if err != nil {
		return err
	}
	f := blank(map[string]string{"unit": ground.DeciSiemens, "taken_on": string(r.today())})
	if r.isPost() {
		f = readForm(r)
		reading := readingFrom(f)
		reading.PaddockID = paddock.ID
		f.heed(job.CheckReadingPlace(paddock, reading))
		if f.ok() {
			_, err := s.Books.AddReading(r.Context(), r.act(), reading)
			if err == nil {
				return r.see(back + "?done=kept#readings")
			}
			if err := f.take(err); err != nil {
				return err
			}
		}
	}
	return r.draw(f, formPage{
		Frame: r.frame("farms", "A reading of "+paddock.Name), Groups: readingFields(), Button: "Keep the reading", Back: back,
		Lead: "What soil or water was read: the figure with its depth, month and method. Its class is looked up in the published tables.",
	})
}

// paddockOf reads the paddock that the path names, and the path of its page.
func (s *site) paddockOf(r *request) (job.Paddock, string, error) {
	id, err := r.id("id")
	if err != nil {
		return job.Paddock{}, "", err
	}
	paddock, err := s.Books.Paddock(r.Context(), id)
	return paddock, fmt.Sprintf("/paddocks/%d", id), err
}

func readingFrom(f *form) ground.Reading {
	reading := ground.Reading{
		Kind: ground.ReadingKind(f.typed["kind"]), Texture: ground.Texture(f.typed["texture"]), Unit: f.typed["unit"],
		Value:   f.measure("value", "Enter the figure that was read."),
		FromCM:  f.maybe("from_cm", 0, 1000, 0),
		ToCM:    f.maybe("to_cm", 0, 1000, 0),
		TakenOn: ground.Taken(f.typed["taken_on"]), Method: f.text("method"), SaidBy: f.text("said_by"), Note: f.text("note"),
	}
	reading.Lat, reading.Lon = f.place("place")
	return reading
}

// place reads "lat, lon"; both are nil where nothing was typed.
func (f *form) place(name string) (lat, lon *float64) {
	typed := f.typed[name]
	if typed == "" {
		return nil, nil
	}
	parts := strings.FieldsFunc(typed, func(c rune) bool { return c == ',' || c == ';' || c == ' ' })
	if len(parts) == 2 {
		north, northErr := strconv.ParseFloat(parts[0], 64)
		east, eastErr := strconv.ParseFloat(parts[1], 64)
		if northErr == nil && eastErr == nil {
			return &north, &east
		}
	}
	f.refuse(name, "“%s” is not a place: enter latitude and longitude in degrees, such as -36.40123, 140.10456.", typed)
	return nil, nil
}

func readingFields() []group {
	return []group{
		{Fields: []Field{
			{Name: "kind", Label: "What was read", Kind: "select", Required: true, Options: choices("", ground.ReadingKinds)},
			{Name: "value", Label: "Figure", Kind: "number", Required: true},
			{Name: "unit", Label: "Unit", Kind: "select", Required: true, Options: choices("", []string{ground.DeciSiemens, ground.MilliSiemens, ground.Metres}),
				Hint: "m below the surface for a watertable; 1 dS/m is 100 mS/m."},
			{Name: "texture", Label: "Texture of the soil", Kind: "select", Options: choices("not needed", ground.Textures), Hint: "For an EC1:5 alone, which has other classes in each."},
			{Name: "from_cm", Label: "Sampled from", Unit: "cm", Kind: "number", Hint: "Saltbush is judged by 25–50 cm. Empty for EM38 and watertables."},
			{Name: "to_cm", Label: "to", Unit: "cm", Kind: "number"},
			{Name: "taken_on", Label: "Taken on", Required: true, Hint: "A day or a month: 2026-06-11 or 2026-06. Salt near the surface swings with the season."},
			{Name: "method", Label: "Method", Required: true, Hint: "Saturation extract by a laboratory, EM38 on foot, hand auger hole."},
			{Name: "said_by", Label: "Who measured or told it", Required: true, Hint: "By role: agronomist, the owner, ourselves."},
			{Name: "place", Label: "Where", Hint: "Latitude, longitude. It is then drawn on the paddock."},
			{Name: "note", Label: "Note", Kind: "textarea"},
		}},
	}
}

// choices are the options of a list of words, after an empty one where it has a label.
func choices[T ~string](none string, words []T) (options []Option) {
	if none != "" {
		options = append(options, Option{"", none})
	}
	for _, word := range words {
		options = append(options, Option{string(word), string(word)})
	}
	return options
}

func (s *site) readingWithdraw(r *request) error {
	paddock, back, err := s.paddockOf(r)
	if err != nil {
		return err
	}
	id, err := r.id("reading")
	if err != nil {
		return err
	}
	reading, err := s.Books.Reading(r.Context(), id)
	if err != nil {
		return err
	}
	if reading.PaddockID != paddock.ID {
		return noPage()
	}
	f := blank(nil)
	if r.isPost() {
		f = readForm(r)
		why := f.must("why", "Say what was wrong with it, as it should be read next year.")
		if f.ok() {
			if err := s.Books.WithdrawReading(r.Context(), r.act(), id, r.today(), why); err == nil {
				return r.see(back + "?done=kept#readings")
			} else if err := f.take(err); err != nil {
				return err
			}
		}
	}
	return r.draw(f, formPage{
		Frame: r.frame("farms", "Withdraw a reading of "+paddock.Name), Button: "Withdraw the reading", Back: back,
		Lead:   reading.String() + ". It no longer counts, and stays on the page with the reason.",
		Groups: []group{{Fields: []Field{{Name: "why", Label: "What was wrong with it", Kind: "textarea", Required: true}}}},
	})
}
