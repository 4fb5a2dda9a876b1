package walk

import (
	"encoding/json"
	"net/url"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// demoTown is what the demo says of itself when it starts.
type demoTown struct {
	Address     string       `json:"address"`
	People      []demoPerson `json:"people"`
	FarmerLinks []struct {
		URL string `json:"url"`
	} `json:"farmer_links"`
}

type demoPerson struct {
	Role     string `json:"role"`
	Name     string `json:"name"`
	Password string `json:"password"`
}

// startDemo serves the demo until the test ends.
func startDemo(t *testing.T) (town demoTown) {
	t.Helper()
	if err := json.Unmarshal([]byte(start(t, filepath.Join(t.TempDir(), "store"), "demo", "--json")), &town); err != nil {
		t.Fatal(err)
	}
	return town
}

// enters signs somebody in.
func (town demoTown) enters(t *testing.T, person demoPerson, size window) *browser {
	t.Helper()
	b := newBrowser(t, town.Address, size, true)
	b.open("/")
	b.fill("Name", person.Name, "Password", person.Password)
	b.press("Sign in")
	return b
}

// contractor signs the contractor in, at the office's desk.
func (town demoTown) contractor(t *testing.T) *browser {
	t.Helper()
	for _, person := range town.People {
		if person.Role == "contractor" {
			return town.enters(t, person, laptop)
		}
	}
	t.Fatal("the demo has no contractor")
	return nil
}

// mostAlike is how many pages of a kind are opened, where it is more than one: jobs are at
// every stage, lots in every state.
var mostAlike = map[string]int{"/jobs/#": 8, "/shed/lots/#": 3, "/papers/#": 3, "/truck/#": 3, "/farm/#/jobs/#": 3}

// The demo's season holds what one walk does not: many jobs at every stage, lots on hold,
// papers that disagree with the log. Whoever follows its links finds every page in order.
func TestEveryPageOfTheDemoIsInOrder(t *testing.T) {
	t.Parallel()
	town := startDemo(t)
	for _, person := range town.People {
		size := laptop
		if person.Role == "operator" {
			size = phone
		}
		b := town.enters(t, person, size)
		if seen := b.wander(); seen < 10 {
			t.Errorf("the %s has found %d pages", person.Role, seen)
		}
	}
	farmer := newBrowser(t, town.Address, phone, true)
	for _, link := range town.FarmerLinks {
		farmer.open(link.URL)
		farmer.wander()
	}
}

var (
	token   = regexp.MustCompile(`^/farm/[^/?]+`)
	numbers = regexp.MustCompile(`\d+`)
)

// kindOf is an address without what tells one page of a kind from another.
func kindOf(way string) string {
	return numbers.ReplaceAllString(token.ReplaceAllString(way, "/farm/#"), "#")
}

// wander follows every link from the page that is open, but for those of a kind that was
// seen often enough, and counts the pages.
func (b *browser) wander() (seen int) {
	b.t.Helper()
	alike := map[string]int{}
	ways, cameFrom := []string{b.path()}, map[string]string{}
	for len(ways) > 0 {
		way := ways[0]
		ways = ways[1:]
		kind := kindOf(way)
		if alike[kind] >= max(1, mostAlike[kind]) {
			continue
		}
		alike[kind]++
		if !b.isPage(way) {
			continue // a paper, or a file to be kept
		}
		seen++
		b.open(way)
		if b.status >= 400 && b.status != 409 { // a paper that cannot be made yet says why
			b.t.Errorf("%s, linked to by %s, was answered %d", way, cameFrom[way], b.status)
		}
		for _, href := range ask[[]string](b, "ways") {
			if to, err := url.Parse(href); err == nil && strings.HasPrefix(href, b.site) {
				ways = append(ways, to.RequestURI())
				cameFrom[to.RequestURI()] = way
			}
		}
	}
	return seen
}
