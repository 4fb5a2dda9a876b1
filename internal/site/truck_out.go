package site

import (
	"strings"

	"github.com/gofiber/fiber/v2"
)

// The truck's page without signal: a shell that holds nothing of the business, which the
// browser keeps, and the day's work, which it loads. Without script the pages of truck.go
// do the same from the office.
func (s *site) truckOutRoutes() []route {
	return []route{
		{method: get, path: "/truck/out", open: anyone, answer: s.truckOut},
		{method: get, path: "/truck/sw.js", open: anyone, answer: s.truckKeeper},
		{method: get, path: "/truck/out.webmanifest", open: anyone, answer: s.truckManifest},
		field(get, "/truck/day.json", s.truckDay),
		field(post, entriesPath, s.truckEntry),
	}
}

// truckOut is the shell. It alone may compile WebAssembly.
func (s *site) truckOut(r *request) error {
	r.Set(fiber.HeaderContentSecurityPolicy, strings.Replace(policy, "script-src 'self'", "script-src 'self' 'wasm-unsafe-eval'", 1))
	return r.show("truck_out", truckPage{Frame: Frame{Title: "At the truck"}})
}

// truckKeeper is the service worker, under a name that stays, so that the browser finds
// its next version.
func (s *site) truckKeeper(r *request) error {
	content, err := readFile(s.Dist, strings.TrimPrefix(s.Asset("sw.js"), "/dist/"))
	if err != nil {
		return noPage()
	}
	r.Set(fiber.HeaderContentType, "text/javascript; charset=utf-8")
	r.Set(fiber.HeaderCacheControl, "no-cache")
	r.Set("Service-Worker-Allowed", "/truck")
	return r.Send(content)
}

// appManifest is what a phone needs to install the page.
type appManifest struct {
	Name       string    `json:"name"`
	ShortName  string    `json:"short_name"`
	StartURL   string    `json:"start_url"`
	Scope      string    `json:"scope"`
	Display    string    `json:"display"`
	Background string    `json:"background_color"`
	Theme      string    `json:"theme_color"`
	Icons      []appIcon `json:"icons"`
}

type appIcon struct {
	Source  string `json:"src"`
	Sizes   string `json:"sizes"`
	Type    string `json:"type"`
	Purpose string `json:"purpose"`
}

func (s *site) truckManifest(r *request) error {
	r.Set(fiber.HeaderCacheControl, "no-cache")
	return r.JSON(appManifest{
		Name: "Rowtally at the truck", ShortName: "Truck", StartURL: "/truck/out", Scope: "/truck", Display: "standalone",
		Background: "#ffffff", Theme: "#ffffff",
		Icons: []appIcon{{s.Asset("truck-icon.svg"), "any", "image/svg+xml", "any maskable"}},
	}, "application/manifest+json")
}
