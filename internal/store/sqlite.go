package store

import (
	"context"
	"database/sql"
	"errors"
	"log/slog"
	"net/url"
	"os"
	"path/filepath"

	"github.com/mattn/go-sqlite3"
	"gorm.io/driver/sqlite"
	"gorm.io/gorm"
)

// File is the name of the SQLite file inside the data folder.
const File = "rowtally.db"

// One writer at a time takes its lock before it reads, so that no act finds the store
// changed under it; FULL, because invoices are in it. Readers never wait for the writer.
const (
	writerSettings = "_journal_mode=WAL&_busy_timeout=10000&_txlock=immediate&_foreign_keys=1&_synchronous=FULL"
	readerSettings = "mode=ro&_query_only=1"
	readers        = 4
)

func openSQLite(ctx context.Context, o Options, log *slog.Logger) (*Store, error) {
	file := filepath.Join(o.Dir, File)
	if err := makePrivate(file); err != nil {
		return nil, err
	}
	s := &Store{file: file, engine: onSQLite}
	var err error
	if s.write, err = s.pool(file, writerSettings, 1, log); err != nil {
		return nil, s.abandon(err)
	}
	if err = migrate(ctx, s.engine, s.pools[0]); err != nil {
		return nil, s.abandon(err)
	}
	if s.read, err = s.pool(file, readerSettings, readers, log); err != nil {
		return nil, s.abandon(err)
	}
	return s, nil
}

// makePrivate makes the file and its folder for this account alone: password hashes and
// customers' papers are in it.
func makePrivate(file string) error {
	if err := os.MkdirAll(filepath.Dir(file), 0o700); err != nil {
		return err
	}
	f, err := os.OpenFile(file, os.O_CREATE|os.O_RDWR, 0o600)
	if err != nil {
		return err
	}
	return f.Close()
}

// pool opens one pool on the file and counts it among those to close.
func (s *Store) pool(file, settings string, size int, log *slog.Logger) (*gorm.DB, error) {
	pool, err := sql.Open(sqlite.DriverName, address(file, settings))
	if err != nil {
		return nil, err
	}
	pool.SetMaxOpenConns(size)
	pool.SetMaxIdleConns(size)
	s.pools = append(s.pools, pool)
	return gorm.Open(sqlite.New(sqlite.Config{Conn: pool}), newConfig(log))
}

// address is the file as SQLite takes it, with what a path may hold kept apart from the
// settings.
func address(file, settings string) string {
	return "file:" + (&url.URL{Path: file}).EscapedPath() + "?" + settings
}

func (s *Store) abandon(err error) error {
	_ = s.Close()
	return err
}

// isLocked tells whether another connection keeps this one out.
func isLocked(err error) bool {
	failure, ok := errors.AsType[sqlite3.Error](err)
	return ok && (failure.Code == sqlite3.ErrBusy || failure.Code == sqlite3.ErrLocked)
}
