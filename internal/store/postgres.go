package store

import (
	"context"
	"log/slog"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgtype"
	"github.com/jackc/pgx/v5/stdlib"
	"gorm.io/driver/postgres"
	"gorm.io/gorm"

	"rowtally/internal/fault"
)

// connections bounds what one copy of the program asks of a shared server.
const connections = 16

func openPostgres(ctx context.Context, o Options, log *slog.Logger) (*Store, error) {
	config, err := pgx.ParseConfig(o.DatabaseURL)
	if err != nil {
		// The parser's own text may quote the address with its password.
		return nil, fault.Refuse("database_url", "the database address cannot be read, enter it as postgres://user@host:5432/name")
	}
	pool := stdlib.OpenDB(*config, stdlib.OptionAfterConnect(readTimesInUTC))
	pool.SetMaxOpenConns(connections)
	pool.SetMaxIdleConns(connections)
	s := &Store{engine: onPostgres}
	s.pools = append(s.pools, pool)
	if err := migrate(ctx, s.engine, pool); err != nil {
		return nil, s.abandon(err)
	}
	s.write, err = gorm.Open(postgres.New(postgres.Config{Conn: pool}), newConfig(log))
	if err != nil {
		return nil, s.abandon(err)
	}
	s.read = s.write
	return s, nil
}

// readTimesInUTC makes moments come back as SQLite gives them, whatever zone the machine is in.
func readTimesInUTC(_ context.Context, c *pgx.Conn) error {
	c.TypeMap().RegisterType(&pgtype.Type{
		Name:  "timestamptz",
		OID:   pgtype.TimestamptzOID,
		Codec: &pgtype.TimestamptzCodec{ScanLocation: time.UTC},
	})
	return nil
}
