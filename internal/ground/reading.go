package ground

import (
	"fmt"

	"rowtally/internal/fault"
	"rowtally/internal/unit"
)

// Reading is one figure of soil or water in a paddock, as it was measured or told: the
// number with its depth, month, method and who said it, never a class alone.
type Reading struct {
	ID           int64
	PaddockID    int64
	Kind         ReadingKind
	Texture      Texture // of the soil, for EC1:5; "" for every other kind
	Value        float64 // in Unit
	Unit         string  // dS/m or mS/m for salt; m below the surface for a watertable
	FromCM, ToCM float64 // depth of the sample; both 0 where none belongs to it
	TakenOn      Taken
	Method       string // "saturation extract, laboratory"
	SaidBy       string // the role of who measured or told it, "agronomist"
	Lat, Lon     *float64
	Note         string
	WithdrawnOn  unit.Date // "" while it stands
	WithdrawnWhy string
}

// ReadingKind is what a reading measures.
type ReadingKind string

// The kinds of readings. EM38 is the meter laid flat: the horizontal dipole.
const (
	ECe              ReadingKind = "ECe"
	EC15             ReadingKind = "EC1:5"
	EM38             ReadingKind = "EM38 horizontal"
	WinterWatertable ReadingKind = "winter watertable"
	SummerWatertable ReadingKind = "summer watertable"
)

// ReadingKinds lists the kinds in the order of a form.
var ReadingKinds = []ReadingKind{ECe, EC15, EM38, WinterWatertable, SummerWatertable}

// Texture is the soil texture that turns an EC1:5 into a class.
type Texture string

// The textures that the class tables know.
const (
	Sand Texture = "sand"
	Loam Texture = "loam"
	Clay Texture = "clay"
)

// Textures lists the textures from light to heavy.
var Textures = []Texture{Sand, Loam, Clay}

// The units of readings. 1 dS/m is 100 mS/m.
const (
	DeciSiemens  = "dS/m"
	MilliSiemens = "mS/m"
	Metres       = "m"
)

// highest is the most that a reading of a kind may say, in dS/m or m: a slip of the point
// or of the unit is caught. Our choice; sea water is about 50 dS/m.
var highest = map[ReadingKind]float64{ECe: 300, EC15: 60, EM38: 20, WinterWatertable: 50, SummerWatertable: 50}

const deepestCM = 1000

// IsWatertable tells whether the reading is a depth of water below the surface.
func (k ReadingKind) IsWatertable() bool { return k == WinterWatertable || k == SummerWatertable }

// sampled tells whether the kind is of a soil sample, which has a depth.
func (k ReadingKind) sampled() bool { return k == ECe || k == EC15 }

// Standing tells whether the reading counts.
func (r Reading) Standing() bool { return r.WithdrawnOn == "" }

// Place is where the reading was taken; ok is false where nobody said.
func (r Reading) Place() (at LatLon, ok bool) {
	if r.Lat == nil || r.Lon == nil {
		return LatLon{}, false
	}
	return LatLon{*r.Lat, *r.Lon}, true
}

// measure is the value in dS/m, or in m for a watertable.
func (r Reading) measure() float64 {
	if r.Unit == MilliSiemens {
		return r.Value / 100
	}
	return r.Value
}

// Check refuses a reading that cannot be, naming the field.
func (r Reading) Check() error {
	for _, check := range []func() error{r.checkKind, r.checkValue, r.checkDepth, r.checkWords, r.checkPlace} {
		if err := check(); err != nil {
			return err
		}
	}
	return nil
}

func (r Reading) checkKind() error {
	_, known := highest[r.Kind]
	switch isWater := r.Kind.IsWatertable(); {
	case !known:
		return fault.Refuse("kind", "%q is no kind of reading, choose one of the list", string(r.Kind))
	case isWater && r.Unit != Metres:
		return fault.Refuse("unit", "a watertable is read in metres below the surface, choose m")
	case !isWater && r.Unit != DeciSiemens && r.Unit != MilliSiemens:
		return fault.Refuse("unit", "salt is read in dS/m or mS/m, choose one of the two")
	case r.Kind == EC15 && r.Texture != Sand && r.Texture != Loam && r.Texture != Clay:
		return fault.Refuse("texture", "an EC1:5 says nothing without the soil's texture, choose sand, loam or clay")
	case r.Kind != EC15 && r.Texture != "":
		return fault.Refuse("texture", "a texture belongs to an EC1:5 alone, leave it empty")
	}
	return nil
}

func (r Reading) checkValue() error {
	if most := highest[r.Kind]; !(r.measure() >= 0 && r.measure() <= most) {
		unitName := DeciSiemens
		if r.Kind.IsWatertable() {
			unitName = Metres
		}
		return fault.Refuse("value", "%s %s for the %s cannot be, enter 0 to %s %s", unit.Plain(r.Value), r.Unit, r.Kind, unit.Plain(most), unitName)
	}
	return nil
}

func (r Reading) checkDepth() error {
	none := r.FromCM == 0 && r.ToCM == 0
	switch {
	case none && !r.Kind.sampled():
		return nil
	case r.Kind.IsWatertable():
		return fault.Refuse("to_cm", "a watertable is itself a depth, leave the sample's depth empty")
	case !(r.FromCM >= 0 && r.ToCM > r.FromCM && r.ToCM <= deepestCM):
		return fault.Refuse("to_cm", "a sample from %s to %s cm has no depth, enter where it begins and ends, such as 25 and 50", unit.Plain(r.FromCM), unit.Plain(r.ToCM))
	}
	return nil
}

func (r Reading) checkWords() error {
	switch {
	case r.Method == "":
		return fault.Refuse("method", "say how it was measured, such as saturation extract, laboratory")
	case r.SaidBy == "":
		return fault.Refuse("said_by", "say who measured or told it, by role")
	}
	return r.TakenOn.check()
}

func (r Reading) checkPlace() error {
	if r.Lat == nil && r.Lon == nil {
		return nil
	}
	at, whole := r.Place()
	if !whole {
		return fault.Refuse("place", "a place needs latitude and longitude, enter both or neither")
	}
	return fault.Under("place", at.Check())
}

// String is the reading as a sentence names it: "ECe 34 dS/m at 25–50 cm, Jun 2026".
func (r Reading) String() string {
	kind := string(r.Kind)
	if r.Texture != "" {
		kind += " in " + string(r.Texture)
	}
	at := ""
	if depth := r.Depth(); depth != "" {
		at = " at " + depth
	}
	return fmt.Sprintf("%s %s %s%s, %s", kind, unit.Plain(r.Value), r.Unit, at, r.TakenOn)
}

// Depth is the sample's depth as a page prints it, "25–50 cm"; "" where there is none.
func (r Reading) Depth() string {
	if r.ToCM == 0 {
		return ""
	}
	return unit.Plain(r.FromCM) + "–" + unit.Plain(r.ToCM) + " cm"
}
