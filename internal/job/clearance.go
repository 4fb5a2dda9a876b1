package job

import (
	"encoding/json"
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"rowtally/internal/fault"
	"rowtally/internal/ground"
	"rowtally/internal/rows"
	"rowtally/internal/unit"
)

// EdgeHeadland is a stretch of a paddock's outside with a headland of its own. Its two corners
// are kept by their places, so that a boundary read anew cannot move it to another edge.
type EdgeHeadland struct {
	From      ground.LatLon `json:"from"`
	To        ground.LatLon `json:"to"`
	HeadlandM float64       `json:"headland_m"`
	Why       string        `json:"why,omitempty"` // "drain"
}

// NoGoMargin is a margin that one no-go area asks for, kept by the place of its first corner.
type NoGoMargin struct {
	At      ground.LatLon `json:"at"`
	MarginM float64       `json:"margin_m"`
	Why     string        `json:"why,omitempty"` // "bore"
}

// CornerName names the outsides' corners as maps and forms do, counted from 0: A to Z, then
// AA, AB and so on.
func CornerName(i int) string {
	if i < 26 {
		return string(rune('A' + i))
	}
	return CornerName(i/26-1) + CornerName(i%26)
}

// cornerNamed is the corner of a name; -1 where it is none.
func cornerNamed(name string) int {
	at := 0
	for _, letter := range strings.ToUpper(name) {
		if letter < 'A' || letter > 'Z' || at > 1e6 {
			return -1
		}
		at = 26*at + int(letter-'A') + 1
	}
	return at - 1
}

// outsideCorners are the corners of every outside, in the order of their names.
func (g Ground) outsideCorners() (corners []ground.LatLon) {
	for _, part := range g.Shape {
		corners = append(corners, part.Outer...)
	}
	return corners
}

func cornerAt(corners []ground.LatLon, place ground.LatLon) int {
	for i, corner := range corners {
		if corner == place {
			return i
		}
	}
	return -1
}

// edgeLine is compiled where it is used, so that the truck's engine, which reads no such line,
// does not carry it.
func edgeLine() *regexp.Regexp {
	return regexp.MustCompile(`(?i)^(?:from +)?(?:corner +)?([a-z]+) +to +(?:corner +)?([a-z]+) *[:,] *([0-9.]+) *(?:m\b)? *(?:[,;] *(.*))?$`)
}

// ReadEdges reads stretches as they are typed, a line each: "C to E: 12 m, drain".
func (g Ground) ReadEdges(text string) (string, error) {
	corners := g.outsideCorners()
	var edges []EdgeHeadland
	written := edgeLine()
	for _, line := range typedLines(text) {
		parts := written.FindStringSubmatch(line)
		if parts == nil {
			return "", fault.Refuse("edges", "“%s” is not understood, write it as C to E: 12 m, drain", line)
		}
		from, to := cornerNamed(parts[1]), cornerNamed(parts[2])
		for i, corner := range []int{from, to} {
			if corner < 0 || corner >= len(corners) {
				return "", fault.Refuse("edges", "there is no corner %s, the corners run from A to %s", strings.ToUpper(parts[1+i]), CornerName(len(corners)-1))
			}
		}
		headland, err := clearanceOf("edges", parts[3])
		if err != nil {
			return "", err
		}
		edges = append(edges, EdgeHeadland{corners[from], corners[to], headland, strings.TrimSpace(parts[4])})
	}
	return keptAs(edges)
}

func marginLine() *regexp.Regexp {
	return regexp.MustCompile(`(?i)^(?:no-go +)?([0-9]+) *[:,] *([0-9.]+) *(?:m\b)? *(?:[,;] *(.*))?$`)
}

// ReadMargins reads margins as they are typed, a line each: "2: 30 m, bore".
func (g Ground) ReadMargins(text string) (string, error) {
	parts := g.NoGo.Each()
	var margins []NoGoMargin
	written := marginLine()
	for _, line := range typedLines(text) {
		words := written.FindStringSubmatch(line)
		if words == nil {
			return "", fault.Refuse("no_go_margins", "“%s” is not understood, write it as 2: 30 m, bore", line)
		}
		number, _ := strconv.Atoi(words[1])
		if number < 1 || number > len(parts) {
			return "", fault.Refuse("no_go_margins", "there is no no-go %s, %s", words[1], numbersTo(len(parts)))
		}
		margin, err := clearanceOf("no_go_margins", words[2])
		if err == nil {
			err = holdsOff("no_go_margins", parts[number-1], number, margin)
		}
		if err != nil {
			return "", err
		}
		margins = append(margins, NoGoMargin{parts[number-1].First(), margin, strings.TrimSpace(words[3])})
	}
	return keptAs(margins)
}

func numbersTo(n int) string {
	if n == 0 {
		return "this paddock has none: read them in with its boundary"
	}
	return fmt.Sprintf("they are numbered from 1 to %d", n)
}

// widestClearanceM is the most that a headland or margin may be.
const widestClearanceM = 500

func clearanceOf(field, typed string) (float64, error) {
	v, err := strconv.ParseFloat(typed, 64)
	if err != nil || !(v >= 0 && v <= widestClearanceM) {
		return 0, fault.Refuse(field, "%s m cannot be, enter 0 to %d", typed, widestClearanceM)
	}
	return v, nil
}

func typedLines(text string) (lines []string) {
	for line := range strings.Lines(text) {
		if line = strings.TrimSpace(line); line != "" {
			lines = append(lines, line)
		}
	}
	return lines
}

func keptAs[T any](list []T) (string, error) {
	if len(list) == 0 {
		return "", nil
	}
	text, err := json.Marshal(list)
	return string(text), err
}

func readKept[T any](text string) (list []T, err error) {
	if text == "" {
		return nil, nil
	}
	err = json.Unmarshal([]byte(text), &list)
	return list, err
}

// EdgesTyped writes a layout's stretches as ReadEdges reads them. What a new boundary left
// without its corners is left out.
func (g Ground) EdgesTyped(l Layout) string {
	edges, _ := readKept[EdgeHeadland](l.Edges)
	corners := g.outsideCorners()
	var lines []string
	for _, edge := range edges {
		if from, to := cornerAt(corners, edge.From), cornerAt(corners, edge.To); from >= 0 && to >= 0 {
			lines = append(lines, CornerName(from)+" to "+CornerName(to)+": "+unit.Plain(edge.HeadlandM)+" m"+because(edge.Why))
		}
	}
	return strings.Join(lines, "\n")
}

// MarginsTyped writes a layout's margins as ReadMargins reads them.
func (g Ground) MarginsTyped(l Layout) string {
	margins, _ := readKept[NoGoMargin](l.NoGoMargins)
	var lines []string
	for _, margin := range margins {
		if i := g.noGoAt(margin.At); i >= 0 {
			lines = append(lines, strconv.Itoa(i+1)+": "+unit.Plain(margin.MarginM)+" m"+because(margin.Why))
		}
	}
	return strings.Join(lines, "\n")
}

func because(why string) string {
	if why == "" {
		return ""
	}
	return ", " + why
}

func (g Ground) noGoAt(place ground.LatLon) int {
	for i, part := range g.NoGo.Each() {
		if part.First() == place {
			return i
		}
	}
	return -1
}

// edges are the layout's stretches by the numbers of their corners. A corner that the
// boundary no longer has is refused: a drain must not lose its headland unseen.
func (l Layout) edges(g Ground) ([]rows.Edge, error) {
	kept, err := readKept[EdgeHeadland](l.Edges)
	if err != nil {
		return nil, fmt.Errorf("headlands of their own: %w", err)
	}
	corners := g.outsideCorners()
	var edges []rows.Edge
	for _, edge := range kept {
		from, to := cornerAt(corners, edge.From), cornerAt(corners, edge.To)
		if from < 0 || to < 0 {
			return nil, fault.Refuse("edges", "the boundary was changed, and the stretch of %s m%s has lost its corners: say again from which corner to which it runs", unit.Plain(edge.HeadlandM), because(edge.Why))
		}
		edges = append(edges, rows.Edge{FromCorner: from + 1, ToCorner: to + 1, HeadlandM: edge.HeadlandM})
	}
	return edges, nil
}

// holdsOff refuses a line or a point without any margin: it takes up no ground of its own,
// and would hold no row off.
func holdsOff(field string, part ground.Geometry, number int, marginM float64) error {
	if marginM > 0 || len(part.Polygons) > 0 {
		return nil
	}
	return fault.Refuse(field, "no-go %d is %s without width, and 0 m keeps no row off it: enter how far rows stay off", number, strings.Replace(part.Tally(), "1 ", "a ", 1))
}

// noGo are the paddock's no-go areas, lines and points, each with the margin of its own
// where it has one.
func (l Layout) noGo(g Ground) ([]rows.NoGo, error) {
	kept, err := readKept[NoGoMargin](l.NoGoMargins)
	if err != nil {
		return nil, fmt.Errorf("margins of their own: %w", err)
	}
	var all []rows.NoGo
	for _, part := range g.NoGo.Each() {
		all = append(all, rows.NoGo{Geometry: &part})
	}
	for _, margin := range kept {
		i := g.noGoAt(margin.At)
		if i < 0 {
			return nil, fault.Refuse("no_go_margins", "the no-go areas were changed, and the margin of %s m%s has lost its own: say again which it is for", unit.Plain(margin.MarginM), because(margin.Why))
		}
		all[i].MarginM = &margin.MarginM
	}
	for i, one := range all {
		if one.MarginM == nil {
			if err := holdsOff("no_go_margin_m", *one.Geometry, i+1, l.NoGoMarginM); err != nil {
				return nil, err
			}
		}
	}
	return all, nil
}

// clearances tells the headlands and margins of their own, as a sentence; "" for none.
func (l Laid) clearances() string {
	lines := append(typedLines(l.Ground.EdgesTyped(l.Layout)), typedLines(l.Ground.MarginsTyped(l.Layout))...)
	if len(lines) == 0 {
		return ""
	}
	for i, line := range lines {
		if line[0] >= '0' && line[0] <= '9' {
			lines[i] = "no-go " + line
		} else {
			lines[i] = "corner " + line
		}
	}
	return "Of their own: " + strings.Join(lines, "; ") + "."
}
