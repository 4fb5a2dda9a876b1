// Package web embeds what the browser is given: page templates, and the bundle of styles,
// scripts and typefaces that build.mjs writes to dist/. It refuses to know what a page shows.
package web

import (
	"embed"
	"encoding/json"
	"io/fs"
)

// Prefix is the path under which the files of Dist are served.
const Prefix = "/dist/"

//go:embed page part
var pages embed.FS

//go:embed all:dist
var dist embed.FS

// Pages holds page/*.html and part/*.html.
var Pages fs.FS = pages

// Dist holds the bundle: manifest.json, hashed styles and scripts, font/ with woff2 for
// screens and TTF for papers. Without a build it holds nothing but a placeholder.
var Dist = under("dist")

var manifest = readManifest()

// Asset is the path of a bundled file by its plain name: "face.css", "page.js",
// "font/literata-latin-wght-normal.woff2". The path carries a hash of the content, so a
// browser may keep what it got for ever. A name that was not built stands for itself.
func Asset(name string) string {
	if hashed, ok := manifest[name]; ok {
		return Prefix + hashed
	}
	return Prefix + name
}

func under(folder string) fs.FS {
	sub, err := fs.Sub(dist, folder)
	if err != nil {
		panic(err) // only a malformed constant name gets here
	}
	return sub
}

func readManifest() map[string]string {
	raw, err := fs.ReadFile(Dist, "manifest.json")
	if err != nil {
		return nil // not built: go build alone must work
	}
	var names map[string]string
	if err := json.Unmarshal(raw, &names); err != nil {
		panic("web/dist/manifest.json: " + err.Error())
	}
	return names
}
