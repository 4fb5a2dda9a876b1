package rules

import (
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

const root = "../.."

// built and fetched files are not ours to check.
var notOurs = []string{".git", "web/node_modules", "web/dist", "web/wasm", "bin", "data"}

// file is one file of the tree, its path from the root with forward slashes.
type file struct {
	path string
	text string
}

// files reads every file whose name ends in one of the endings, or every file when none is given.
func files(t *testing.T, endings ...string) []file {
	t.Helper()
	var found []file
	err := filepath.WalkDir(root, func(path string, entry fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		name := filepath.ToSlash(strings.TrimPrefix(path, root+string(filepath.Separator)))
		if entry.IsDir() {
			if slices.Contains(notOurs, name) {
				return filepath.SkipDir
			}
			return nil
		}
		if slices.Contains(notOurs, name) || !endsIn(name, endings) { // .git is a file where a tree was checked out beside another
			return nil
		}
		raw, err := os.ReadFile(path)
		found = append(found, file{name, string(raw)})
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	if len(found) == 0 {
		t.Fatalf("no file ends in %v: the tree is not where this test looks", endings)
	}
	return found
}

func endsIn(name string, endings []string) bool {
	return len(endings) == 0 || slices.ContainsFunc(endings, func(e string) bool { return strings.HasSuffix(name, e) })
}

// under keeps the files of some folders.
func under(all []file, folders ...string) []file {
	return slices.DeleteFunc(slices.Clone(all), func(f file) bool {
		return !slices.ContainsFunc(folders, func(d string) bool { return strings.HasPrefix(f.path, d+"/") })
	})
}
