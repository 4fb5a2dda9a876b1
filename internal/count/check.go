package count

import (
	"rowtally/internal/fault"
	"rowtally/internal/unit"
)

// What anybody counts on foot.
const (
	mostPerStretch = 200
	MostPlaces     = 400 // of one plan
	longestText    = 2000
)

// Check refuses a count that cannot be right, naming the field: kind, counted_on, counted_by,
// stretches (a stretch by its number, stretches.3), seen or note. Places is how many the plan
// has, today the day of keeping it.
func (c Count) Check(places int, today unit.Date) error {
	switch {
	case c.Kind != First && c.Kind != Autumn:
		return fault.Refuse("kind", "choose the first count or the autumn count")
	case c.CountedOn == "":
		return fault.Refuse("counted_on", "enter the day on which it was counted")
	case c.CountedOn > today:
		return fault.Refuse("counted_on", "%s is still to come: enter the day on which it was counted", c.CountedOn)
	case c.CountedBy == "" || len(c.CountedBy) > longestText:
		return fault.Refuse("counted_by", "enter who counted")
	case len(c.Note) > longestText || len(c.Volunteers) > longestText:
		return fault.Refuse("note", "a note has at most %d letters: enter what is to be remembered", longestText)
	case len(c.Stretches) == 0:
		return fault.Refuse("stretches", "nothing is counted yet: enter at least one stretch")
	}
	if err := c.checkStretches(places); err != nil {
		return err
	}
	return c.checkSeen()
}

func (c Count) checkStretches(places int) error {
	counted := map[int]bool{}
	for _, s := range c.Stretches {
		switch {
		case s.Place < 1 || s.Place > places:
			return fault.Refuse("stretches", "the plan has no place %d, it has %d", s.Place, places)
		case counted[s.Place]:
			return fault.Refuse(stretchField(s.Place), "place %d is counted twice, enter it once", s.Place)
		}
		counted[s.Place] = true
		if err := s.check(); err != nil {
			return fault.Under(stretchField(s.Place), err)
		}
	}
	return nil
}

func stretchField(place int) string { return "stretches." + unit.Grouped(float64(place), 0) }

func (s Stretch) check() error {
	switch {
	case s.Placements < 1 || s.Placements > mostPerStretch:
		return fault.Refuse("placements", "%d placements are looked at, enter a whole number from 1 to %d", s.Placements, mostPerStretch)
	case s.Occupied < 0 || s.Occupied > s.Placements:
		return fault.Refuse("occupied", "%d of %d placements are occupied, enter a whole number from 0 to %[2]d", s.Occupied, s.Placements)
	}
	return nil
}

// checkSeen holds what was seen of each species against the placements occupied: no species
// is in more of them, and together they are in all of them.
func (c Count) checkSeen() error {
	occupied, together := 0, 0
	for _, s := range c.Stretches {
		occupied += s.Occupied
	}
	named := map[string]bool{}
	for _, s := range c.Seen {
		switch {
		case s.Species == "" || named[s.Species]:
			return fault.Refuse("seen", "each species seen is named once")
		case s.Placements < 0 || s.Placements > occupied:
			return fault.Refuse("seen", "%s is seen in %d placements and %d are occupied, enter a whole number from 0 to %[3]d", s.Species, s.Placements, occupied)
		}
		named[s.Species] = true
		together += s.Placements
	}
	if len(c.Seen) > 0 && together < occupied {
		return fault.Refuse("seen", "the species are seen in %d placements together and %d are occupied: every occupied placement holds at least one of them", together, occupied)
	}
	return nil
}
