package store

import (
	"context"
	"database/sql"
	"fmt"
	"time"

	"github.com/pressly/goose/v3"

	"rowtally/internal/fault"
	"rowtally/migrations"
)

// SchemaVersion is the migration that this program's tables end with.
var SchemaVersion = migrations.Newest()

const newestMigration = "SELECT max(version_id) FROM goose_db_version WHERE is_applied"

// Every migration is a transaction of its own that ends by writing its number. When two
// programs start on one store at once, the slower one fails on tables that are there
// already, changes nothing, and finds the work done when it looks again.
const (
	migrationTries = 20
	migrationPause = 100 * time.Millisecond
)

// migrate brings the tables to SchemaVersion. A newer store is a clash.
func migrate(ctx context.Context, on engine, db *sql.DB) error {
	provider, err := migrator(on, db)
	if err != nil {
		return err
	}
	for try := 1; ; try++ {
		if err = upTo(ctx, provider); err == nil || fault.KindOf(err) == fault.Clash || try == migrationTries {
			return err
		}
		select {
		case <-ctx.Done():
			return ctx.Err()
		case <-time.After(migrationPause):
		}
	}
}

func upTo(ctx context.Context, provider *goose.Provider) error {
	current, _, err := provider.GetVersions(ctx)
	if err != nil {
		return fmt.Errorf("read the store's schema: %w", err)
	}
	if current > SchemaVersion {
		return newerStore(current)
	}
	if _, err := provider.Up(ctx); err != nil {
		return fmt.Errorf("change the store's tables from schema %d: %w", current, err)
	}
	return nil
}

func newerStore(version int64) error {
	return fault.Conflict("a newer Rowtally wrote this store: it has schema %d, this program knows schemas up to %d. Start the newer program", version, SchemaVersion)
}

func migrator(on engine, db *sql.DB) (*goose.Provider, error) {
	dialects := map[engine]goose.Dialect{onSQLite: goose.DialectSQLite3, onPostgres: goose.DialectPostgres}
	files, err := migrations.For(string(on))
	if err != nil {
		return nil, err
	}
	return goose.NewProvider(dialects[on], db, files)
}
