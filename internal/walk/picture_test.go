package walk

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"sync/atomic"

	"github.com/chromedp/chromedp"
)

// WALK_PICTURES names a folder that takes a picture of every page and a copy of every
// paper on the way, for people to look at; without it none is taken.
var picturesTo = os.Getenv("WALK_PICTURES")

var (
	pictures  atomic.Int64
	notInName = regexp.MustCompile(`[^a-z0-9]+`)
)

// picture keeps what a window of a size shows, from top to bottom.
func (b *browser) picture(size window) {
	if picturesTo == "" {
		return
	}
	b.t.Helper()
	png, err := chromedp.Run(b.tab, chromedp.FullScreenshot(100))
	if err != nil {
		b.t.Fatal(err)
	}
	b.keepCopy(fmt.Sprintf("%d.png", size.width), png)
}

// keepCopy numbers what was seen in the order in which it was.
func (b *browser) keepCopy(ending string, content []byte) {
	if picturesTo == "" {
		return
	}
	b.t.Helper()
	name := fmt.Sprintf("%s-%03d%s-%s", b.t.Name(), pictures.Add(1), notInName.ReplaceAllString(b.path(), "-"), ending)
	if err := os.WriteFile(filepath.Join(picturesTo, name), content, 0o600); err != nil {
		b.t.Fatal(err)
	}
}
