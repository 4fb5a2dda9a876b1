package site

import (
	"context"
	"encoding/json"
	"strings"
	"time"

	"github.com/gofiber/fiber/v2"

	"rowtally/internal/fault"
	"rowtally/internal/job"
	"rowtally/internal/mix"
	"rowtally/internal/unit"
)

// entryBooks keeps what was entered at the truck.
type entryBooks interface {
	TruckEntry(ctx context.Context, key string) (job.KeptEntry, bool, error)
	TruckEntries(ctx context.Context, jobID int64) ([]job.KeptEntry, error)
	NoteTruckEntry(ctx context.Context, act job.Act) error
	AddTruckNote(ctx context.Context, act job.Act, photo []byte) (int64, error)
	RefuseTruckEntry(ctx context.Context, act job.Act, reason string) error
	RemoveDaySheet(ctx context.Context, act job.Act, id int64) error
}

// entryAnswer is what the phone is told of an entry.
type entryAnswer struct {
	Outcome  string    // "kept", "refused", or "not yours" for an entry of somebody else
	Told     string    // the reason, and what to do
	NextTub  int       // the number under which a refused tub could be kept; 0 for none
	OfficeAt time.Time // when it came in, the first time
}

const (
	entryKept    = "kept"
	entryRefused = "refused"
	entryForeign = "not yours"
)

// truckEntry applies one entry, once: what came in before under the same key gets the
// same answer again.
func (s *site) truckEntry(r *request) error {
	e, photo, err := readEntry(r)
	if err != nil {
		return err
	}
	if e.PersonID != r.person.ID {
		return r.JSON(entryAnswer{Outcome: entryForeign, Told: "This entry is somebody else's. It waits until they sign in on this phone."})
	}
	if before, seen, err := s.Books.TruckEntry(r.Context(), e.Key); err != nil || seen {
		if err != nil {
			return err
		}
		return s.answerEntry(r, before)
	}
	act := r.act()
	act.Key, act.Truck = r.Path()+" "+e.Key, &e
	if err := s.applyEntry(r, act, e, photo); err != nil {
		if fault.KindOf(err) == fault.Internal {
			return err
		}
		if err := s.Books.RefuseTruckEntry(r.Context(), act, s.entryReason(r, e, err)); err != nil {
			return err
		}
	}
	now, seen, err := s.Books.TruckEntry(r.Context(), e.Key)
	if err == nil && !seen {
		err = fiber.ErrInternalServerError
	}
	if err != nil {
		return err
	}
	return s.answerEntry(r, now)
}

// readEntry reads an entry that comes as JSON, or as a form with its photo beside it.
func readEntry(r *request) (e job.TruckEntry, photo []byte, err error) {
	told := r.Body()
	if strings.HasPrefix(r.Get(fiber.HeaderContentType), fiber.MIMEMultipartForm) {
		told = []byte(r.FormValue("entry"))
		if header, missing := r.FormFile("photo"); missing == nil {
			if photo, err = readUpload(header); err != nil {
				return e, nil, err
			}
		}
	}
	if err := json.Unmarshal(told, &e); err != nil || e.Key == "" {
		return e, nil, fault.Refuse("key", "The entry cannot be read. Load the truck's page again.")
	}
	return e, photo, nil
}

func (s *site) answerEntry(r *request, e job.KeptEntry) error {
	out := entryAnswer{Outcome: entryKept, Told: e.Refused, OfficeAt: e.OfficeAt}
	if e.Refused != "" {
		out.Outcome = entryRefused
		if e.Kind == job.TubEntry && e.Tub != nil {
			facts, err := s.facts(r, e.JobID)
			if err == nil && takenTub(facts, e.Tub.Number) != nil {
				out.NextTub = facts.Tubs[len(facts.Tubs)-1].Number + 1
			}
		}
	}
	return r.JSON(out)
}

// applyEntry does what the entry says, by the same acts as the office's pages.
func (s *site) applyEntry(r *request, act job.Act, e job.TruckEntry, photo []byte) error {
	if err := e.Check(r.today()); err != nil {
		return err
	}
	ctx, at := r.Context(), e.HappenedAt(r.now)
	var err error
	switch e.Kind {
	case job.TubEntry:
		tub := *e.Tub
		tub.JobID, tub.MixedAt, tub.PersonID = e.JobID, at, r.person.ID
		_, err = s.Books.MixTub(ctx, act, tub)
	case job.CatchEntry:
		err = s.applyCatch(r, act, e)
	case job.DayEntry:
		sheet := *e.Day
		sheet.JobID, sheet.EnteredAt, sheet.PersonID = e.JobID, at, r.person.ID
		_, err = s.Books.AddDaySheet(ctx, act, sheet)
	case job.MeterEntry:
		err = s.Books.ReadMeter(ctx, act, e.Meter.MachineID, e.Meter.Minutes, e.Meter.On)
	case job.CleanOutEntry:
		err = s.applyCleanOut(r, act, e)
	case job.DrillEntry:
		load := *e.Drill
		load.JobID, load.MadeAt = e.JobID, at
		_, err = s.Books.LoadDrill(ctx, act, load)
	case job.CountEntry:
		c := *e.Count
		c.JobID = e.JobID
		_, err = s.Books.AddCount(ctx, act, c)
	case job.NoteEntry:
		err = s.applyNote(ctx, act, e, photo)
	case job.UndoEntry:
		err = s.applyUndo(r, act, *e.Undoes)
	default:
		err = s.Books.NoteTruckEntry(ctx, act)
	}
	return err
}

func (s *site) applyCatch(r *request, act job.Act, e job.TruckEntry) error {
	facts, err := s.facts(r, e.JobID)
	if err != nil {
		return err
	}
	tried, err := job.TruckJob{Facts: facts}.TryCatch(*e.Catch)
	if err != nil {
		return err
	}
	tried.Catch.JobID, tried.Catch.CaughtAt, tried.Catch.PersonID = e.JobID, e.HappenedAt(r.now), r.person.ID
	_, err = s.Books.AddCatch(r.Context(), act, tried.Catch)
	return err
}

func (s *site) applyCleanOut(r *request, act job.Act, e job.TruckEntry) error {
	facts, err := s.facts(r, e.JobID)
	if err != nil {
		return err
	}
	tried, err := job.TruckJob{Facts: facts}.TryRemains(*e.Remains)
	if err != nil {
		return err
	}
	tried.CleanOut.MadeAt, tried.CleanOut.PersonID = e.HappenedAt(r.now), r.person.ID
	_, err = s.Books.CleanOut(r.Context(), act, tried.CleanOut)
	return err
}

// applyUndo takes back what an earlier entry did. One that was refused did nothing, so
// there is nothing to take back.
func (s *site) applyUndo(r *request, act job.Act, u job.Undone) error {
	ctx := r.Context()
	if u.Key == "" {
		return s.undoAt(ctx, act, u.Kind, u.ID)
	}
	before, seen, err := s.Books.TruckEntry(ctx, u.Key)
	switch {
	case err != nil:
		return err
	case !seen:
		return fault.Conflict("what is to be undone never reached the office, so there is nothing to undo")
	case before.Undone:
		return fault.Conflict("this was undone already")
	case before.Refused != "":
		return s.Books.NoteTruckEntry(ctx, act)
	case before.Kind == job.MeterEntry:
		m := before.Meter
		return s.Books.CorrectMeter(ctx, act, m.MachineID, m.WasMin, m.On, "read wrong at the truck, undone there")
	}
	return s.undoAt(ctx, act, before.Kind, before.Answer)
}

func (s *site) undoAt(ctx context.Context, act job.Act, kind job.EntryKind, id int64) error {
	switch kind {
	case job.TubEntry:
		return s.Books.UnmixTub(ctx, act, id)
	case job.CatchEntry:
		return s.Books.WithdrawCatch(ctx, act, id)
	case job.CleanOutEntry:
		return s.Books.UndoCleanOut(ctx, act, id)
	case job.DrillEntry:
		return s.Books.UndoDrillLoad(ctx, act, id)
	case job.CountEntry:
		return s.Books.WithdrawCount(ctx, act, id, "undone on the phone that it was entered on")
	case job.DayEntry:
		return s.Books.RemoveDaySheet(ctx, act, id)
	}
	return s.Books.NoteTruckEntry(ctx, act)
}

// entryReason is why an entry is refused, and what to do. A tub that another phone has
// mixed under the same number is told with its time.
func (s *site) entryReason(r *request, e job.TruckEntry, refused error) string {
	if e.Kind == job.TubEntry && e.Tub != nil {
		if facts, err := s.facts(r, e.JobID); err == nil {
			if taken := takenTub(facts, e.Tub.Number); taken != nil {
				return tubTwice(taken.Number, taken.MixedAt.In(r.now.Location()), r.today(), facts.Tubs[len(facts.Tubs)-1].Number+1)
			}
		}
	}
	return sentence(refused.Error())
}

func tubTwice(number int, mixedAt time.Time, today unit.Date, next int) string {
	at := mixedAt.Format("15:04")
	if day := unit.DateOf(mixedAt); day != today {
		at += " on " + day.String()
	}
	return sentence("tub " + unit.Grouped(float64(number), 0) + " was mixed on another phone at " + at +
		": undo yours, or keep it as tub " + unit.Grouped(float64(next), 0))
}

// takenTub is the job's tub of this number, if it is mixed already.
func takenTub(f job.Facts, number int) *mix.Tub {
	for i := range f.Tubs {
		if f.Tubs[i].Number == number {
			return &f.Tubs[i]
		}
	}
	return nil
}
