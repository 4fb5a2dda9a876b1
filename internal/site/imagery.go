package site

import (
	"fmt"
	"net"
	"net/url"
	"regexp"
	"strings"

	"rowtally/internal/job"
)

// usuallyClosest is the level that the form begins with: common practice, no source.
const usuallyClosest = 18

func imageryGroup() group {
	return group{
		Heading: "Imagery under a drawn boundary",
		Lead:    "Without an address the map is a plain grid, and nothing is fetched from anywhere. With one, the browser asks that address for pictures of the place that you look at.",
		Fields: []Field{
			{Name: "tile_address", Label: "Address of its tiles", Inputmode: "url", Hint: "With {z}, {x} and {y} where the level and the tile's numbers go, such as https://tiles.example.org/{z}/{x}/{y}.png. Ask whoever serves it whether you may use it so."},
			{Name: "tile_credit", Label: "Whose imagery it is", Hint: "Stands under the map, in the words that its owner asks for."},
			{Name: "tile_closest", Label: "Closest level that it serves", Kind: "number", Inputmode: "numeric", Hint: "Beyond it the same picture is shown larger."},
		},
	}
}

// readImagery reads where the imagery comes from; an empty address asks for none.
func (f *form) readImagery(b *job.Business) {
	b.TileAddress, b.TileCredit = f.text("tile_address"), f.text("tile_credit")
	if b.TileAddress == "" {
		b.TileCredit, b.TileClosest = "", 0
		return
	}
	b.TileClosest = f.integer("tile_closest", 1, 24)
	if wrong := tileFault(b.TileAddress); wrong != "" {
		f.refuse("tile_address", "%s", wrong)
	}
	if b.TileCredit == "" {
		f.refuse("tile_credit", "Enter whose imagery it is: whoever serves it asks to be named.")
	}
}

// tileFault says what is wrong with an address of tiles; "" when nothing is.
func tileFault(address string) string {
	for _, mark := range []string{"{z}", "{x}", "{y}"} {
		if n := strings.Count(address, mark); n != 1 {
			return fmt.Sprintf("%s stands %d times in it: put it once, where that number goes.", mark, n)
		}
	}
	filled := strings.NewReplacer("{z}", "1", "{x}", "2", "{y}", "3").Replace(address)
	if strings.ContainsAny(filled, "{}") {
		return "Only {z}, {x} and {y} are filled in: write anything else out, such as the one name of a server."
	}
	at, err := url.Parse(filled)
	switch {
	case err != nil || !hostOfTiles.MatchString(at.Host):
		return "This is no web address: enter it as https://, the server's name, and the rest with {z}, {x} and {y}."
	case at.User != nil:
		return "Take the name and password before the @ out: a browser does not send them for pictures."
	case at.Scheme != "https" && !(at.Scheme == "http" && onThisMachine(at.Hostname())):
		return "Enter an address that begins with https://; http:// is taken from this machine alone."
	case !strings.HasPrefix(address, at.Scheme+"://"+at.Host+"/"):
		return "The server's name holds {z}, {x} or {y}: they belong into the path behind it."
	}
	return ""
}

// hostOfTiles is a server's name, with its port or without. Nothing else may get into the
// page's policy.
var hostOfTiles = regexp.MustCompile(`^[A-Za-z0-9]([A-Za-z0-9.-]*[A-Za-z0-9])?(:\d{1,5})?$`)

func onThisMachine(host string) bool {
	ip := net.ParseIP(host)
	return host == "localhost" || ip != nil && ip.IsLoopback()
}

// policyWithImagery lets a page show pictures from the one server that the contractor set.
func policyWithImagery(address string) string {
	if address == "" || tileFault(address) != "" {
		return policy
	}
	scheme, rest, _ := strings.Cut(address, "://")
	server, _, _ := strings.Cut(rest, "/")
	return strings.Replace(policy, "img-src 'self' data:", "img-src 'self' data: "+scheme+"://"+server, 1)
}
