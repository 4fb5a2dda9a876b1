package ground

import (
	"fmt"

	"rowtally/internal/fault"
)

// Repairs are what a person asked a reader to mend in a boundary. Nothing is mended
// unasked: where one of these would help, the refusal offers it.
type Repairs struct {
	CloseRings bool // join the last corner of an open ring to the first
	SwapAxes   bool // take what stands as longitude for latitude, and the other way round
	FromGDA94  bool // the figures are on GDA94 though the file does not say so: shift them
}

// The words of the ticks by which a person asks for a repair.
const (
	CloseForMe = "close it for me"
	SwapForMe  = "swap them for me"
)

// mending carries out the repairs asked for while a file is read, and sees which would help.
type mending struct {
	Repairs
	lists       Lists
	closed      int // rings that were closed
	swapped     bool
	datum       Datum // that the file names; "" for none
	sawOpen     bool
	sawSwapping bool
}

// place makes a place of a file's latitude and longitude.
func (m *mending) place(lat, lon float64) (LatLon, error) {
	if m.SwapAxes {
		lat, lon, m.swapped = lon, lat, true
	}
	p := LatLon{lat, lon}
	err := p.Check()
	m.sawSwapping = m.sawSwapping || err != nil && LatLon{lon, lat}.Check() == nil
	if err == nil && (m.FromGDA94 || m.datum == OnGDA94) {
		p = FromGDA94(p)
	}
	return p, err
}

// ring closes an open line where that was asked for.
func (m *mending) ring(line []LatLon) []LatLon {
	if len(line) < 3 || line[0] == line[len(line)-1] {
		return line
	}
	if !m.CloseRings {
		m.sawOpen = true
		return line
	}
	m.closed++
	return append(line, line[0])
}

// offer adds to a refusal the repair that would help, where one would.
func (m *mending) offer(refused error) error {
	switch {
	case refused == nil || fault.KindOf(refused) != fault.Refused:
		return refused
	case m.sawSwapping && !m.SwapAxes:
		return fault.Refuse("", "%v; or tick “%s”", refused, SwapForMe)
	case m.sawOpen:
		return fault.Refuse("", "%v; or tick “%s”", refused, CloseForMe)
	}
	return refused
}

// notes say what was mended.
func (m *mending) notes() (notes []string) {
	if m.closed > 0 {
		notes = append(notes, fmt.Sprintf("closed %s as asked", counted(m.closed, "open ring")))
	}
	if m.swapped {
		notes = append(notes, "swapped latitude and longitude as asked")
	}
	if m.FromGDA94 && m.datum != OnGDA94 {
		notes = append(notes, "shifted from GDA94 to GDA2020 as asked, about 1.8 m")
	}
	return notes
}
