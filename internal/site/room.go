package site

import (
	"context"
	"fmt"
	"regexp"
	"strings"
	"time"

	"github.com/gofiber/fiber/v2"
	"github.com/valyala/fasthttp"

	"rowtally/internal/job"
)

// How much a request may carry, in bytes: from a stranger, from somebody signed in, and
// where the contractor loads a log. The latter two lie well above the largest file that is
// read, so that a file too large is refused in its form, with what was typed kept. A
// stranger signs in or writes a few words as a farmer. A log may take long to arrive from
// the field.
const (
	strangerLimit = 1 << 20
	bodyLimit     = 64 << 20
	logBodyLimit  = 256 << 20
	readTimeout   = 30 * time.Second
	logTimeout    = 10 * time.Minute
	entryTimeout  = 3 * time.Minute
)

// entriesPath is where the truck hands in, perhaps with a photo over a weak signal.
const entriesPath = "/truck/entries"

// logsPath is where a log is loaded.
var logsPath = regexp.MustCompile(`^/jobs/\d+/sown$`)

// bodyLimitAt is how many bytes a request of a person in a role may carry to a path. The
// role of a stranger is empty.
func bodyLimitAt(role job.Role, method, path string) int {
	switch {
	case role == "":
		return strangerLimit
	case role == job.Contractor && method == fiber.MethodPost && logsPath.MatchString(path):
		return logBodyLimit
	}
	return bodyLimit
}

// roomFor gives a request its room and time by its head alone, before any of its body is
// read. Who sends it is asked only where it carries more than a stranger may.
func (s *site) roomFor(head *fasthttp.RequestHeader) fasthttp.RequestConfig {
	const inPieces = -1 // a body whose length the head does not tell
	slow := fasthttp.RequestConfig{}
	if head.IsPost() && string(head.RequestURI()) == entriesPath {
		slow.ReadTimeout = entryTimeout
	}
	if length := head.ContentLength(); length != inPieces && length <= strangerLimit {
		return slow
	}
	limit := s.limitFor(head)
	if limit == logBodyLimit {
		return fasthttp.RequestConfig{MaxRequestBodySize: limit, ReadTimeout: logTimeout}
	}
	slow.MaxRequestBodySize = limit
	return slow
}

// limitFor is how many bytes the sender of a request may send with it.
func (s *site) limitFor(head *fasthttp.RequestHeader) int {
	path, _, _ := strings.Cut(string(head.RequestURI()), "?")
	return bodyLimitAt(s.roleOf(string(head.Cookie(cookieName))), string(head.Method()), path)
}

// roleOf is the role of the person whose session a cookie opens; empty for a stranger, and
// where the books do not answer.
func (s *site) roleOf(token string) job.Role {
	if token == "" {
		return ""
	}
	work, end := context.WithTimeout(context.Background(), readTimeout)
	defer end()
	person, err := s.Books.SessionPerson(work, hashed(token), s.Now())
	if err != nil {
		return ""
	}
	return person.Role
}

// tooLarge is what the sender of a request is told that carried more than it may.
func (s *site) tooLarge(c *fiber.Ctx) (status int, told string) {
	limit := s.limitFor(&c.Request().Header)
	if limit == strangerLimit {
		return fiber.StatusUnauthorized, "More than 1 MB came from somebody who is not signed in, and was turned away unread. Sign in, open the page again, and choose the file once more."
	}
	return fiber.StatusRequestEntityTooLarge, fmt.Sprintf("The file is larger than %d MB. A boundary or a day's log is far smaller: check that it is the right file, then go back and choose it again.", limit>>20)
}
