package site

import (
	"fmt"

	"github.com/gofiber/fiber/v2"

	"rowtally/internal/bill"
)

// ublFile gives an issued invoice or adjustment note as UBL 2.1. It follows from the frozen
// paper alone.
func (s *site) ublFile(r *request) error {
	paper, err := s.paperOf(r)
	if err != nil {
		return err
	}
	content, err := bill.UBL(paper)
	if err != nil {
		return err
	}
	r.Set(fiber.HeaderContentType, "application/xml; charset=utf-8")
	r.Set(fiber.HeaderContentDisposition, fmt.Sprintf("attachment; filename=%q", paper.Number+".xml"))
	return r.Send(content)
}
