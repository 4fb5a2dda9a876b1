package site

import (
	"context"
	"log/slog"

	"github.com/gofiber/fiber/v2"
)

// readyBooks is what the readiness probe asks of the store.
type readyBooks interface {
	Ready(ctx context.Context) error
}

// healthy answers while the process lives, whatever state the store is in.
func (s *site) healthy(r *request) error { return r.SendString("ok\n") }

// ready answers when the store does and its schema is the program's.
func (s *site) ready(r *request) error {
	if err := s.Books.Ready(r.Context()); err != nil {
		s.Log.Warn("not ready", slog.Any("error", err))
		return r.Status(fiber.StatusServiceUnavailable).SendString("the store does not answer, or its schema is not this program's\n")
	}
	return r.SendString("ok\n")
}
