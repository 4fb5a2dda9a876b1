package job

import "time"

// Act is one act of a person, carried into the store: who, when and, when a browser made
// one, the key that makes a repeat of the same act harmless.
type Act struct {
	PersonID int64  // 0 for the farmer and for first run
	Who      string // name for the journal
	Now      time.Time
	Key      string      // "" when there is none
	Truck    *TruckEntry // what the truck sent, kept with the act; nil for an act at a page
}

// Entry is one line of the journal: who did what. Lines are only ever added.
type Entry struct {
	ID     int64
	At     time.Time
	Who    string
	What   string // a plain sentence
	Noun   string // "lot", "job" …
	NounID int64
}

// Link lets a farmer in without an account, until it is withdrawn.
type Link struct {
	ID          int64
	FarmID      int64
	Token       string // unguessable
	MadeAt      time.Time
	WithdrawnAt *time.Time
}
