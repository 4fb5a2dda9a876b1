package job

import (
	"time"

	"rowtally/internal/count"
	"rowtally/internal/machine"
	"rowtally/internal/mix"
	"rowtally/internal/unit"
)

// EntryKind tells what was entered at the truck.
type EntryKind string

const (
	TubEntry      EntryKind = "tub"
	CatchEntry    EntryKind = "catch test"
	DayEntry      EntryKind = "day sheet"
	MeterEntry    EntryKind = "meter"
	CleanOutEntry EntryKind = "clean-out"
	HopperEntry   EntryKind = "hopper"
	FuelEntry     EntryKind = "fuel"
	StandbyStart  EntryKind = "standby start"
	StandbyStop   EntryKind = "standby stop"
	NoteEntry     EntryKind = "note"
	CountEntry    EntryKind = "count"
	DrillEntry    EntryKind = "drill load"
	UndoEntry     EntryKind = "undo"
)

// TruckEntry is one thing entered at the truck, perhaps days before it reaches the office.
// Of the fields that carry something, the one of its kind is set.
type TruckEntry struct {
	Key      string // made on the phone; the same key is applied once
	Kind     EntryKind
	PersonID int64
	JobID    int64     // 0 for a meter read without a job
	At       time.Time // by the phone's clock, right or wrong
	SentAt   time.Time // by the same clock when it was handed in; zero before

	Tub     *mix.Tub          `json:",omitempty"` // number 0: the job's next
	Catch   *CatchTrial       `json:",omitempty"`
	Day     *machine.DaySheet `json:",omitempty"`
	Meter   *MeterReading     `json:",omitempty"`
	Hopper  *HopperReading    `json:",omitempty"`
	Remains *Remains          `json:",omitempty"`
	Drill   *DrillLoad        `json:",omitempty"`
	Count   *count.Count      `json:",omitempty"` // its job and day of keeping are the office's to fill in
	Undoes  *Undone           `json:",omitempty"`
	FuelML  int64             `json:",omitempty"`
	Text    string            `json:",omitempty"`

	PhotoBytes int64 `json:",omitempty"` // of the photo that comes with a note; 0 for none
}

// Undone names what an entry undoes: an entry by its key, or what the office keeps by its
// kind and number.
type Undone struct {
	Key  string    `json:",omitempty"`
	Kind EntryKind `json:",omitempty"` // tub, catch test, clean-out or drill load
	ID   int64     `json:",omitempty"`
}

// MeterReading is what a machine's meter shows.
type MeterReading struct {
	MachineID int64
	Minutes   int64
	WasMin    int64 // the reading before it, as the phone knew it; an undo goes back to it
	On        unit.Date
}

// HopperReading is what lies unsown when so much is sown.
type HopperReading struct {
	LeftL float64 // L of mix in all hoppers together
	RowM  float64 // metres of row sown on the job so far, each row counted
}

// KeptEntry is an entry as the office has it: applied, or refused with the reason.
type KeptEntry struct {
	TruckEntry
	OfficeAt time.Time
	Refused  string // "" when it was applied
	Answer   int64  // number of the row that it became; 0 for none
	Undone   bool
}

// HappenedAt is the moment of the entry by the office's clock: what the phone's clock was
// off by when the entry was handed in is taken off again. Nothing happens after now.
func (e TruckEntry) HappenedAt(now time.Time) time.Time {
	at := e.At
	if !e.SentAt.IsZero() {
		at = at.Add(now.Sub(e.SentAt))
	}
	if at.After(now) {
		return now
	}
	return at
}

// StaysAnEntry tells whether the entry still counts and no other noun holds what it says.
func (e KeptEntry) StaysAnEntry() bool {
	switch e.Kind {
	case HopperEntry, FuelEntry, StandbyStart, StandbyStop, NoteEntry:
		return e.Refused == "" && !e.Undone
	}
	return false
}

// AtOfficeTime is the entry with its moment by the office's clock.
func (e KeptEntry) AtOfficeTime() TruckEntry {
	e.At, e.SentAt = e.HappenedAt(e.OfficeAt), time.Time{}
	return e.TruckEntry
}
