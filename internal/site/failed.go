package site

import (
	"errors"
	"log/slog"

	"github.com/gofiber/fiber/v2"

	"rowtally/internal/fault"
)

// statuses is the one table from the ways to fail to status codes.
var statuses = map[fault.Kind]int{
	fault.Missing:  fiber.StatusNotFound,
	fault.Refused:  fiber.StatusUnprocessableEntity,
	fault.Clash:    fiber.StatusConflict,
	fault.Internal: fiber.StatusInternalServerError,
}

// headings are the first line of the error page.
var headings = map[int]string{
	fiber.StatusNotFound:              "Not here",
	fiber.StatusUnauthorized:          "Sign in first",
	fiber.StatusForbidden:             "Not yours to open",
	fiber.StatusUnprocessableEntity:   "This cannot be kept as it is",
	fiber.StatusConflict:              "Something has changed meanwhile",
	fiber.StatusRequestEntityTooLarge: "That is too large",
	fiber.StatusTooManyRequests:       "Too many tries",
}

// errorPage is what the error page shows.
type errorPage struct {
	Frame
	Heading, Sentence, RequestID string
}

// failed answers a request that ended in an error: one page, the sentence for a person,
// and for a defect only the number by which the log knows it.
func (s *site) failed(c *fiber.Ctx, err error) error {
	status, told := s.explain(c, err)
	heading := headings[status]
	if heading == "" {
		heading = "This went wrong"
	}
	page := errorPage{Heading: heading, Sentence: told}
	page.Title = heading
	if status >= fiber.StatusInternalServerError {
		page.RequestID = requestID(c)
	}
	if r, ok := c.Locals(requestKey).(*request); ok {
		page.Frame = r.frame("", heading)
	}
	c.Status(status)
	if rendered := c.Render("error", page); rendered != nil {
		return c.SendString(told)
	}
	return nil
}

// explain gives an error's status and what a person is told of it.
func (s *site) explain(c *fiber.Ctx, err error) (int, string) {
	if e, ok := errors.AsType[*fiber.Error](err); ok {
		if e.Code == fiber.StatusRequestEntityTooLarge {
			return s.tooLarge(c)
		}
		if e.Code < 500 {
			return e.Code, "The request could not be understood. Go back and try again."
		}
	}
	if refused, ok := errors.AsType[*denial](err); ok {
		return refused.status, refused.sentence
	}
	if kind := fault.KindOf(err); kind != fault.Internal {
		return statuses[kind], sentence(err.Error())
	}
	s.Log.Error("request failed", slog.String("request", requestID(c)), slog.String("path", c.Path()), slog.Any("error", err))
	return fiber.StatusInternalServerError, "The fault is ours, and nothing you typed was kept. Try again; if it comes back, tell whoever looks after the program the number below."
}

// denial is a request that the sender may not make.
type denial struct {
	status   int
	sentence string
}

func (d *denial) Error() string { return d.sentence }
