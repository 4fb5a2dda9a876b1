// Package migrations carries the SQL files that build and change the store's tables, one
// folder per engine, the same numbers in both. A file that was released is never edited.
package migrations

import (
	"embed"
	"fmt"
	"io/fs"
	"path"
)

//go:embed sqlite/*.sql postgres/*.sql
var files embed.FS

// For gives the migrations of one engine, "sqlite" or "postgres".
func For(engine string) (fs.FS, error) { return fs.Sub(files, engine) }

// Newest is the number that the name of the last migration begins with.
func Newest() (number int64) {
	names, err := fs.Glob(files, "sqlite/*.sql")
	if err == nil {
		_, err = fmt.Sscanf(path.Base(names[len(names)-1]), "%d_", &number)
	}
	if err != nil {
		panic(err) // what is embedded is written beside this file
	}
	return number
}
