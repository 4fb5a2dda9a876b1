// Package store keeps what the business knows, in SQLite or in PostgreSQL. There is a file
// for each noun and a method for each act of a person; an act is one transaction with one
// frozen moment, and says in the journal what was done. It refuses to know pages and
// papers, and it works out no figure of the trade.
package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"log/slog"

	"gorm.io/gorm"

	"rowtally/internal/fault"
)

// Options say where the store is.
type Options struct {
	Dir         string       // folder of the SQLite file; made when it is not there
	DatabaseURL string       // of PostgreSQL; it rules over Dir
	Log         *slog.Logger // nil logs nothing
}

// Store is an open store. Its methods may be called from many goroutines.
type Store struct {
	write  *gorm.DB
	read   *gorm.DB // the same as write on PostgreSQL
	pools  []*sql.DB
	file   string // of SQLite; "" on PostgreSQL
	engine engine
}

// Open opens the store, builds or changes its tables to those of this program, and is
// ready to use. A store that a newer program wrote is a clash, a database that does not
// answer an internal error.
func Open(ctx context.Context, o Options) (*Store, error) {
	log := o.Log
	if log == nil {
		log = slog.New(slog.DiscardHandler)
	}
	open := openSQLite
	if o.DatabaseURL != "" {
		open = openPostgres
	}
	s, err := open(ctx, o, log)
	if err != nil {
		return nil, fmt.Errorf("open the store: %w", err)
	}
	return s, nil
}

// Close waits for what is running and lets go of the database.
func (s *Store) Close() error {
	var all []error
	for _, pool := range s.pools {
		all = append(all, pool.Close())
	}
	return errors.Join(all...)
}

// Ready tells whether the store answers and its tables are those of this program.
func (s *Store) Ready(ctx context.Context) error {
	version, err := s.SchemaVersion(ctx)
	if err != nil {
		return fmt.Errorf("ask the store for its schema: %w", err)
	}
	if version != SchemaVersion {
		return fault.Conflict("the store has schema %d and this program needs %d, start the program that fits", version, SchemaVersion)
	}
	return nil
}

// SchemaVersion is the number of the last migration that the store has been through.
func (s *Store) SchemaVersion(ctx context.Context) (int64, error) {
	var version int64
	err := s.reader(ctx).Raw(newestMigration).Scan(&version).Error
	return version, err
}

func (s *Store) reader(ctx context.Context) *gorm.DB { return s.read.WithContext(ctx) }
