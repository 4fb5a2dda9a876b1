package store

import (
	"context"
	"database/sql"
	"fmt"

	"gorm.io/gorm"
)

// check reads the store and gives a sentence for each break of the laws it knows.
type check func(*gorm.DB) ([]string, error)

// Verify reads the whole store as it stood at one moment and gives a sentence for each law
// that it breaks: none for a sound store.
func (s *Store) Verify(ctx context.Context) ([]string, error) {
	var broken []string
	err := s.snapshot(ctx, func(db *gorm.DB) (err error) {
		broken, err = s.broken(db)
		return err
	})
	if err != nil {
		return nil, fmt.Errorf("verify the store: %w", err)
	}
	return broken, nil
}

// broken runs every check of this engine.
func (s *Store) broken(db *gorm.DB) ([]string, error) {
	checks := []check{lawsInSQL, absentOnes, paperSums, paperNumbers, paperFiles, logFiles, lotDocuments, photos}
	if s.engine == onSQLite {
		checks = append(checks, sqliteFile, sqliteReferences)
	} else {
		checks = append(checks, postgresReferences)
	}
	var broken []string
	for _, c := range checks {
		found, err := c(db)
		if err != nil {
			return nil, err
		}
		broken = append(broken, found...)
	}
	return broken, nil
}

// snapshot reads in one transaction that sees the store of one moment.
func (s *Store) snapshot(ctx context.Context, read func(*gorm.DB) error) error {
	var still []*sql.TxOptions
	if s.engine == onPostgres {
		still = append(still, &sql.TxOptions{Isolation: sql.LevelRepeatableRead, ReadOnly: true})
	}
	return s.read.WithContext(ctx).Transaction(read, still...)
}

// lawsInSQL runs every law that one statement can check.
func lawsInSQL(db *gorm.DB) ([]string, error) {
	var broken []string
	for _, law := range laws {
		found, err := sentences(db, law)
		if err != nil {
			return nil, err
		}
		broken = append(broken, found...)
	}
	return broken, nil
}

// sentences reads the one column of a statement.
func sentences(db *gorm.DB, statement string) ([]string, error) {
	var found []string
	err := db.Raw(statement).Scan(&found).Error
	return found, err
}
