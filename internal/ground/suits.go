package ground

// Fitness is how ground suits rows of saltbush, by what is published.
type Fitness int

// From nothing known to no shrub rows at all.
const (
	NotTold  Fitness = iota // no table speaks of the reading
	Best                    // best for saltbush
	Moderate                // check a better pasture first
	Poor                    // poor for saltbush
	No                      // no shrub rows
)

// String is the fitness in the words of a table's cell.
func (f Fitness) String() string {
	return [...]string{"–", "best for saltbush", "moderate", "poor", "no shrub rows"}[f]
}

// verdict is what a table says of a span of readings: for rows and for the alleys.
type verdict struct {
	shrubs Fitness
	rows   string
	alley  string
	source string
}

const (
	denseSaltbush = "DPIRD WA, Managing dryland salinity: dense saltbush plantings"
	severeSheet   = "Future Farm Industries CRC saltland fact sheets, severe/extreme sheet"
)

// bySalt is what the subsoil's class in the first scheme means, least salty first.
var bySalt = []verdict{
	{NotTold, "below the 2 dS/m at which the table for saltbush begins", "", denseSaltbush},
	{Moderate, "moderate for saltbush: check a better pasture first", phalaris, denseSaltbush},
	{Moderate, "moderate for saltbush: check a better pasture first", phalaris, denseSaltbush},
	{Best, "best for saltbush", "tall wheatgrass where less salty (it grows well below 5 dS/m in the top 10 cm), puccinellia where wetter or saltier, a legume if inoculated (Agriculture Victoria; Pastures Australia; DPIRD WA)", denseSaltbush},
	{Poor, "poor for saltbush", "puccinellia: about 6–8 to 40 dS/m in summer, 350 mm a year or more, soil that dries in summer (Pastures Australia)", denseSaltbush},
	{No, "no shrub rows, and no saltland pasture", "fence and leave to volunteer plants", SaltlandScheme.Source},
}

const phalaris = "phalaris or tall fescue up to about 8 dS/m, beyond it their growth is negligible (Future Farm Industries CRC saltland fact sheets)"

// depth is what a watertable means from a depth in metres on down, or from below it.
type depth struct {
	bound
	verdict
}

// byWater is what a watertable's depth means, shallow first. A depth that the table names
// as the end of its best is still of the best.
var byWater = map[ReadingKind][]depth{
	WinterWatertable: {
		{bound{0, false}, verdict{No, "no shrub rows: above 0.3 m in winter", "fence and leave to volunteer plants", severeSheet}},
		{bound{0.3, false}, verdict{Best, "best for saltbush: 0.3–0.7 m", "", denseSaltbush}},
		{bound{0.7, true}, verdict{Moderate, "deeper than the best, 0.3–0.7 m: check a better pasture first", "", denseSaltbush}},
	},
	SummerWatertable: {
		{bound{0, false}, verdict{Poor, "poor for saltbush: above 1.0 m in summer", "", denseSaltbush}},
		{bound{1, false}, verdict{Moderate, "moderate for saltbush: 1.0–1.5 m", "", denseSaltbush}},
		{bound{1.5, false}, verdict{Best, "best for saltbush: 1.5–2.5 m", "", denseSaltbush}},
		{bound{2.5, true}, verdict{NotTold, "deeper than the 2.5 m at which the table ends", "", denseSaltbush}},
	},
}

// Finding is one reading with what is published about it.
type Finding struct {
	Reading
	Classes []Class
	Shrubs  Fitness
	Says    string // "best for saltbush"
	Alley   string // what the alleys may carry; "" where nothing is published
	Source  string // of what is said for shrubs
}

// Find says what is published about a reading. Saltbush is judged by its subsoil, 25 to
// 50 cm, so that a sample that lies beside that depth is classed and not judged.
func (r Reading) Find() Finding {
	f := Finding{Reading: r, Classes: r.Classes()}
	switch class, classed := r.saltlandRank(); {
	case r.Kind.IsWatertable():
		f.judge(r.water())
	case !classed:
		f.Says = "an EM38 reads moisture and clay too: it parts one place from another, take an ECe where it decides"
	case !(r.FromCM < 50 && r.ToCM > 25):
		f.Says = "not the depth that saltbush is judged by, 25–50 cm; nearer the surface salt swings with the season"
	default:
		f.judge(bySalt[class.rank])
	}
	return f
}

func (f *Finding) judge(p verdict) {
	f.Shrubs, f.Says, f.Alley, f.Source = p.shrubs, p.rows, p.alley, p.source
}

func (r Reading) water() (found verdict) {
	for _, span := range byWater[r.Kind] {
		if span.reached(r.Value) {
			found = span.verdict
		}
	}
	return found
}
