package walk

import (
	"fmt"
	"strings"
	"sync"

	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/runtime"
)

// ears hear what a browser says of a page: errors of scripts, what the content security
// policy refused, files that did not come.
type ears struct {
	mu   sync.Mutex
	said []saying
}

type saying struct{ source, text string }

// hear is called for every event of the tab.
func (e *ears) hear(event any) {
	switch event := event.(type) {
	case *runtime.EventConsoleAPICalled:
		if event.Type == runtime.ConsoleAPICalledTypeError || event.Type == runtime.ConsoleAPICalledTypeAssert {
			e.keep("console", fmt.Sprint(event.Args[0].Description, event.Args[0].Value))
		}
	case *runtime.EventExceptionThrown:
		e.keep("script", event.ExceptionDetails.Text)
	case *log.EventEntryAdded:
		if event.Entry.Level == log.EntryLevelError {
			e.keep(string(event.Entry.Source), event.Entry.Text+" "+event.Entry.URL)
		}
	}
}

func (e *ears) keep(source, text string) {
	e.mu.Lock()
	defer e.mu.Unlock()
	e.said = append(e.said, saying{source, text})
}

func (e *ears) forget() {
	e.mu.Lock()
	defer e.mu.Unlock()
	e.said = nil
}

// heard is what was said since the last page. That the page itself was answered with a
// status of refusal is no fault of it.
func (e *ears) heard(status int64) (complaints []string) {
	e.mu.Lock()
	defer e.mu.Unlock()
	refusal := fmt.Sprintf("the server responded with a status of %d", status)
	for _, s := range e.said {
		if status >= 400 && status < 500 && s.source == "network" && strings.Contains(s.text, refusal) {
			continue
		}
		complaints = append(complaints, s.source+": "+s.text)
	}
	return complaints
}
