package walk

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"sync/atomic"

	"github.com/chromedp/chromedp"
)

// WALK_PICTURES names a folder that takes a picture of every page on the way, for people
// to look at; without it none is taken.
var picturesTo = os.Getenv("WALK_PICTURES")

var (
	pictures  atomic.Int64
	notInName = regexp.MustCompile(`[^a-z0-9]+`)
)

// picture keeps what the window shows from top to bottom.
func (b *browser) picture() {
	if picturesTo == "" {
		return
	}
	b.t.Helper()
	png, err := chromedp.Run(b.tab, chromedp.FullScreenshot(100))
	if err != nil {
		b.t.Fatal(err)
	}
	name := fmt.Sprintf("%s-%03d-%d%s.png", b.t.Name(), pictures.Add(1), b.size.width, notInName.ReplaceAllString(b.path(), "-"))
	if err := os.WriteFile(filepath.Join(picturesTo, name), png, 0o600); err != nil {
		b.t.Fatal(err)
	}
}
