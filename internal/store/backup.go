package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"gorm.io/driver/sqlite"

	"rowtally/internal/fault"
)

// Backup copies the store into a new file while it is in use, reads the copy through, and
// only then gives it its name. A file that is there already is a clash. A store in
// PostgreSQL is copied with that engine's own pg_dump, and refused here.
func (s *Store) Backup(ctx context.Context, file string) error {
	if s.engine == onPostgres {
		return fault.Refuse("", "this store is in PostgreSQL: copy it with pg_dump --format=custom, and put it back with pg_restore")
	}
	if err := nothingAt(file); err != nil {
		return err
	}
	part, err := beside(file)
	if err != nil {
		return fmt.Errorf("back up to %s: %w", file, err)
	}
	defer os.Remove(part)
	if err := s.copyInto(ctx, part); err != nil {
		return fmt.Errorf("back up to %s: %w", file, err)
	}
	err = inspect(ctx, part)
	if fault.KindOf(err) == fault.Refused {
		err = fault.Conflict("the copy is not sound, so the store itself may be damaged: check it with rowtally verify")
	}
	if err != nil {
		return err
	}
	return settle(part, file)
}

// copyInto writes a copy of the store as it stands at one moment. The engine refuses to
// copy through a connection that may only query, so this one is its own.
func (s *Store) copyInto(ctx context.Context, part string) error {
	db, err := sql.Open(sqlite.DriverName, address(s.file, "mode=ro"))
	if err != nil {
		return err
	}
	defer db.Close()
	_, err = db.ExecContext(ctx, "VACUUM INTO ?", part)
	return err
}

// nothingAt refuses a place that is taken.
func nothingAt(file string) error {
	_, err := os.Lstat(file)
	if err == nil {
		return fault.Conflict("%s is there already, choose another name or move it away", file)
	}
	if errors.Is(err, os.ErrNotExist) {
		return nil
	}
	return err
}

// beside makes an empty file for this account alone in the folder of another, so that it
// can take the other's name in one step.
func beside(file string) (string, error) {
	f, err := os.CreateTemp(filepath.Dir(file), "."+filepath.Base(file)+".part-*")
	if err != nil {
		return "", err
	}
	return f.Name(), f.Close()
}

// settle brings a finished file to the disk and gives it its name.
func settle(part, file string) error {
	if err := synced(part); err != nil {
		return err
	}
	if err := os.Rename(part, file); err != nil {
		return err
	}
	return synced(filepath.Dir(file))
}

// synced waits until a file or a folder is on the disk.
func synced(path string) error {
	f, err := os.Open(path)
	if err != nil {
		return err
	}
	return errors.Join(f.Sync(), f.Close())
}
