package site

import (
	"context"
	"crypto/rand"
	"crypto/sha256"
	"crypto/subtle"
	"encoding/base64"
	"encoding/hex"
	"net/url"
	"slices"
	"time"

	"github.com/gofiber/fiber/v2"

	"rowtally/internal/fault"
	"rowtally/internal/job"
)

// doorBooks is what letting people in asks of the store.
type doorBooks interface {
	PersonNamed(ctx context.Context, name string) (job.Person, error)
	OpenSession(ctx context.Context, tokenHash string, personID int64, now, until time.Time) error
	SessionPerson(ctx context.Context, tokenHash string, now time.Time) (job.Person, error)
	CloseSession(ctx context.Context, tokenHash string) error
}

const (
	cookieName   = "rowtally"
	sessionTime  = 30 * 24 * time.Hour // a season's weeks at the truck without typing a password again
	longestWork  = time.Minute         // after it a handler's questions to the books are given up
	requestKey   = "request"
	requestIDKey = "requestid"
)

// admit is the one gate: it finds out who asks, holds the request to the roles that its
// route allows, and checks that a post comes from our own page.
func (s *site) admit(r route) fiber.Handler {
	return func(c *fiber.Ctx) error {
		work, end := context.WithTimeout(context.Background(), longestWork)
		defer end()
		req := &request{Ctx: c, work: work, now: s.Now()}
		if r.open == alive {
			return r.answer(req)
		}
		business, err := s.Books.Business(work)
		if fault.KindOf(err) == fault.Missing && err != nil {
			return s.beforeBusiness(r, req)
		}
		if err != nil {
			return err
		}
		req.business = business
		req.now = inZone(req.now, business.Zone)
		c.Locals(requestKey, req)
		if err := s.recognise(req); err != nil {
			return err
		}
		if c.Method() == fiber.MethodPost {
			if err := s.ownPage(r, req); err != nil {
				return err
			}
		}
		return s.allow(r, req)
	}
}

// beforeBusiness lets only the first-run page through while there is no business yet.
func (s *site) beforeBusiness(r route, req *request) error {
	if r.open != firstRun {
		return req.see("/begin")
	}
	if req.Method() == fiber.MethodPost && !s.sameOrigin(req.Ctx) {
		return foreignPost()
	}
	req.Locals(requestKey, req)
	return r.answer(req)
}

// recognise reads the session cookie, if there is one.
func (s *site) recognise(req *request) error {
	token := req.Cookies(cookieName)
	if token == "" {
		return nil
	}
	person, err := s.Books.SessionPerson(req.Context(), hashed(token), s.Now())
	if err != nil {
		if fault.KindOf(err) == fault.Missing {
			return nil
		}
		return err
	}
	req.person, req.csrf = person, formToken(token)
	return nil
}

// allow holds the request to the roles of its route.
func (s *site) allow(r route, req *request) error {
	switch {
	case r.open == firstRun:
		return req.see("/enter") // it has begun already, perhaps by the same form sent twice
	case r.open != closed || slices.Contains(r.roles, req.person.Role):
		return r.answer(req)
	case req.person.ID == 0:
		return req.see("/enter?to=" + url.QueryEscape(req.returnTo()))
	}
	return &denial{fiber.StatusForbidden, "This page is for the contractor. Go back, or sign in as the contractor."}
}

// ownPage refuses a post that another site's page sent, or whose form is not of this
// session.
func (s *site) ownPage(r route, req *request) error {
	if !s.sameOrigin(req.Ctx) {
		return foreignPost()
	}
	if r.open != closed || req.person.ID == 0 {
		return nil
	}
	given := req.FormValue("csrf")
	if given == "" {
		given = req.Get("X-Form-Token")
	}
	if subtle.ConstantTimeCompare([]byte(given), []byte(req.csrf)) != 1 {
		return &denial{fiber.StatusForbidden, "The form is older than your present sign-in. Open the page again; what was stored is unchanged."}
	}
	return nil
}

// sameOrigin reads the browser's own word on where a post comes from. A post without
// any such word is refused: every browser in use sends one.
func (s *site) sameOrigin(c *fiber.Ctx) bool {
	origin := c.Get(fiber.HeaderOrigin)
	if origin == "" || origin == "null" {
		return c.Get("Sec-Fetch-Site") == "same-origin"
	}
	if s.Origin != "" {
		return origin == s.Origin
	}
	return origin == "http://"+c.Get(fiber.HeaderHost) || origin == "https://"+c.Get(fiber.HeaderHost)
}

func foreignPost() error {
	return &denial{fiber.StatusForbidden, "This form was not sent from Rowtally's own page, so nothing was done."}
}

// letIn opens a session and hands its token to the browser. The store keeps only a hash.
func (s *site) letIn(r *request, personID int64) error {
	token := secret()
	until := s.Now().Add(sessionTime)
	if err := s.Books.OpenSession(r.Context(), hashed(token), personID, s.Now(), until); err != nil {
		return err
	}
	r.Cookie(&fiber.Cookie{
		Name: cookieName, Value: token, Path: "/", Expires: time.Now().Add(sessionTime),
		HTTPOnly: true, SameSite: "Lax", Secure: s.secure(r.Ctx),
	})
	return nil
}

// secure tells whether the browser came over TLS, by our own setting alone.
func (s *site) secure(c *fiber.Ctx) bool {
	return c.Protocol() == "https" || len(s.Origin) > 8 && s.Origin[:8] == "https://"
}

// secret is 256 bits of chance, for sessions and farmers' links.
func secret() string {
	raw := make([]byte, 32)
	rand.Read(raw) // never fails: crypto/rand ends the program instead
	return base64.RawURLEncoding.EncodeToString(raw)
}

func hashed(token string) string {
	sum := sha256.Sum256([]byte(token))
	return hex.EncodeToString(sum[:])
}

// formToken ties a form to its session without being of use to open one.
func formToken(token string) string { return hashed("form " + token)[:32] }

// inZone sets the moment in the business's own zone, so that its day is the local one.
func inZone(now time.Time, zone string) time.Time {
	if place, err := time.LoadLocation(zone); err == nil && zone != "" {
		return now.In(place)
	}
	return now
}
