// Package migrations carries the SQL files that build and change the store's tables, one
// folder per engine, the same numbers in both. A file that was released is never edited.
package migrations

import (
	"embed"
	"io/fs"
)

//go:embed sqlite/*.sql postgres/*.sql
var files embed.FS

// For gives the migrations of one engine, "sqlite" or "postgres".
func For(engine string) (fs.FS, error) { return fs.Sub(files, engine) }

// Newest is the number of the last migration: they are numbered from 1 without a gap.
func Newest() int64 {
	names, err := fs.Glob(files, "sqlite/*.sql")
	if err != nil {
		panic(err) // the pattern is written above
	}
	return int64(len(names))
}
