package site

import (
	"bytes"
	"compress/gzip"
	"crypto/rand"
	"encoding/hex"
	"io"
	"io/fs"
	"log/slog"
	"mime"
	"path"
	"regexp"
	"strings"
	"time"

	"github.com/gofiber/fiber/v2"
)

// policy lets a page use what the program itself serves, and no inline script or style.
const policy = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; font-src 'self'; " +
	"connect-src 'self'; manifest-src 'self'; worker-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"

// guarded gives every answer its guards.
func guarded(c *fiber.Ctx) error {
	setGuards(c)
	return c.Next()
}

// setGuards sets the headers that every answer carries.
func setGuards(c *fiber.Ctx) {
	c.Set(fiber.HeaderContentSecurityPolicy, policy)
	c.Set(fiber.HeaderXContentTypeOptions, "nosniff")
	c.Set(fiber.HeaderReferrerPolicy, "same-origin")
	c.Set(fiber.HeaderCacheControl, "no-store")
}

var goodRequestID = regexp.MustCompile(`^[A-Za-z0-9-]{8,64}$`)

// numbered gives the request the number that its sender gave it, or one of our own.
func numbered(c *fiber.Ctx) (id string) {
	id = c.Get(fiber.HeaderXRequestID)
	if !goodRequestID.MatchString(id) {
		raw := make([]byte, 8)
		rand.Read(raw)
		id = hex.EncodeToString(raw)
	}
	c.Locals(requestIDKey, id)
	c.Set(fiber.HeaderXRequestID, id)
	return id
}

// unheard answers a request that was turned away before any of our handlers saw it: one
// too large, or that is no request.
func (s *site) unheard(c *fiber.Ctx, err error) error {
	numbered(c)
	setGuards(c)
	return s.failed(c, err)
}

// logged gives the request its number and writes one line about it when it is done.
func (s *site) logged(c *fiber.Ctx) error {
	id := numbered(c)
	began := time.Now()
	err := c.Next()
	if err != nil {
		err = s.failed(c, err)
	}
	s.Log.Info("answered", slog.String("request", id), slog.String("method", c.Method()), slog.String("path", shownPath(c.Path())),
		slog.Int("status", c.Response().StatusCode()), slog.Duration("took", time.Since(began)))
	return err
}

// shownPath keeps a farmer's secret out of the log.
func shownPath(p string) string {
	if rest, ok := strings.CutPrefix(p, "/farm/"); ok {
		if _, after, ok := strings.Cut(rest, "/"); ok {
			return "/farm/…/" + after
		}
		return "/farm/…"
	}
	return p
}

func requestID(c *fiber.Ctx) string { id, _ := c.Locals(requestIDKey).(string); return id }

// serveDist serves the built styles, scripts and fonts. Their names carry a hash of what
// they hold, so a browser may keep them.
func (s *site) serveDist(app *fiber.App) {
	app.Get("/dist/*", func(c *fiber.Ctx) error {
		name := path.Clean("/" + c.Params("*"))[1:]
		content, err := readFile(s.Dist, name)
		if err != nil {
			content, err = s.packed(c, name)
		}
		if err != nil {
			return noPage()
		}
		c.Set(fiber.HeaderCacheControl, "public, max-age=31536000, immutable")
		c.Set(fiber.HeaderContentType, typeOf(name))
		return c.Send(content)
	})
}

// packed finds a file that is kept packed alone, in the form that the browser takes.
func (s *site) packed(c *fiber.Ctx, name string) ([]byte, error) {
	content, err := readFile(s.Dist, name+".gz")
	if err != nil {
		return nil, err
	}
	c.Vary(fiber.HeaderAcceptEncoding)
	switch taken := c.Get(fiber.HeaderAcceptEncoding); {
	case strings.Contains(taken, "br"):
		c.Set(fiber.HeaderContentEncoding, "br")
		return readFile(s.Dist, name+".br")
	case strings.Contains(taken, "gzip"):
		c.Set(fiber.HeaderContentEncoding, "gzip")
		return content, nil
	}
	plain, err := gzip.NewReader(bytes.NewReader(content))
	if err != nil {
		return nil, err
	}
	return io.ReadAll(plain)
}

func readFile(files fs.FS, name string) ([]byte, error) {
	if name == "" || strings.HasPrefix(name, ".") {
		return nil, fs.ErrNotExist
	}
	return fs.ReadFile(files, name)
}

// types are those of the built files that a machine without a table of types may not know.
var types = map[string]string{
	".css": "text/css; charset=utf-8", ".js": "text/javascript; charset=utf-8", ".svg": "image/svg+xml",
	".wasm": "application/wasm", ".woff2": "font/woff2",
}

func typeOf(name string) string {
	if known, ok := types[path.Ext(name)]; ok {
		return known
	}
	return mime.TypeByExtension(path.Ext(name))
}
