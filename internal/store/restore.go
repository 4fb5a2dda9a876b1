package store

import (
	"context"
	"database/sql"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"gorm.io/driver/sqlite"

	"rowtally/internal/fault"
)

// applicationID marks a SQLite file as a store of this program: "Rowt".
const applicationID = 0x526F7774

// Restore puts a copy that Backup made in the place of the store in dir. What is damaged,
// no store of this program, or written by a newer program is refused. A store that is in
// dir already is a clash unless overwrite is set, and then still while it is in use.
func Restore(file, dir string, overwrite bool) error {
	ctx := context.Background()
	if err := inspect(ctx, file); err != nil {
		return err
	}
	target := filepath.Join(dir, File)
	if err := nothingAt(target); err != nil && !overwrite {
		return fault.Conflict("a store is in %s already: choose another folder, or restore with leave to overwrite it", dir)
	}
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return fmt.Errorf("restore %s: %w", file, err)
	}
	part, err := beside(target)
	if err != nil {
		return fmt.Errorf("restore %s: %w", file, err)
	}
	defer os.Remove(part)
	if err := copyFile(file, part); err != nil {
		return fmt.Errorf("restore %s: %w", file, err)
	}
	if err := inspect(ctx, part); err != nil {
		return err
	}
	if err := retire(ctx, target); err != nil {
		return err
	}
	return settle(part, target)
}

// inspect reads a file through and tells whether it is a sound store that this program
// can take up.
func inspect(ctx context.Context, file string) error {
	if wal, err := os.Stat(file + "-wal"); err == nil && wal.Size() > 0 {
		return fault.Refuse("file", "%s is a store in use and not whole without its log, make a copy with rowtally backup", file)
	}
	if err := markedAsStore(file); err != nil {
		return err
	}
	db, err := sql.Open(sqlite.DriverName, address(file, "mode=ro&immutable=1"))
	if err != nil {
		return err
	}
	defer db.Close()
	var verdict string
	var version int64
	if err := db.QueryRowContext(ctx, "PRAGMA integrity_check(1)").Scan(&verdict); err != nil || verdict != "ok" {
		return fault.Refuse("file", "%s is damaged, take an earlier copy", file)
	}
	if err := db.QueryRowContext(ctx, newestMigration).Scan(&version); err != nil {
		return fault.Refuse("file", "%s has no schema, take an earlier copy", file)
	}
	if version > SchemaVersion {
		return newerStore(version)
	}
	return nil
}

// markedAsStore reads the file's head: SQLite's own mark at its beginning and this program's
// application id, big-endian, at byte 68 (SQLite's file format, section 1.3).
func markedAsStore(file string) error {
	f, err := os.Open(file)
	if err != nil {
		return fault.Refuse("file", "%s cannot be read, name a file that rowtally backup made", file)
	}
	defer f.Close()
	var head [100]byte
	_, err = io.ReadFull(f, head[:])
	if err != nil || string(head[:16]) != "SQLite format 3\x00" || binary.BigEndian.Uint32(head[68:]) != applicationID {
		return fault.Refuse("file", "%s is no Rowtally store, name a file that rowtally backup made", file)
	}
	return nil
}

// retire makes way for another store at this place. A store that anybody has open is left
// alone: it cannot give up its write-ahead log then. One too damaged to be opened goes, and
// so does a log that outlived its store and would be taken for the new one's.
func retire(ctx context.Context, target string) error {
	if nothingAt(target) != nil {
		if err := closeDown(ctx, target); err != nil {
			return err
		}
	}
	for _, left := range []string{"-wal", "-shm"} {
		if err := os.Remove(target + left); err != nil && !errors.Is(err, os.ErrNotExist) {
			return err
		}
	}
	return nil
}

func closeDown(ctx context.Context, target string) error {
	db, err := sql.Open(sqlite.DriverName, address(target, "_busy_timeout=500"))
	if err != nil {
		return err
	}
	_, err = db.ExecContext(ctx, "PRAGMA journal_mode=DELETE")
	if isLocked(errors.Join(err, db.Close())) {
		return fault.Conflict("the store in %s is in use, stop the program that serves it first", filepath.Dir(target))
	}
	return nil
}

func copyFile(from, to string) error {
	in, err := os.Open(from)
	if err != nil {
		return err
	}
	defer in.Close()
	out, err := os.OpenFile(to, os.O_WRONLY|os.O_TRUNC, 0o600)
	if err != nil {
		return err
	}
	_, err = io.Copy(out, in)
	return errors.Join(err, out.Close())
}
