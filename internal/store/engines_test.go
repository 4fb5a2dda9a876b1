package store

import (
	"context"
	"database/sql"
	"fmt"
	"net/url"
	"os"
	"strings"
	"sync/atomic"
	"testing"

	_ "github.com/jackc/pgx/v5/stdlib"
)

// onEachEngine runs a test on a fresh store in SQLite and on one in PostgreSQL.
func onEachEngine(t *testing.T, test func(*testing.T, *Store)) {
	t.Helper()
	t.Run("sqlite", func(t *testing.T) {
		t.Parallel()
		test(t, open(t, Options{Dir: t.TempDir()}))
	})
	t.Run("postgres", func(t *testing.T) {
		t.Parallel()
		test(t, open(t, Options{DatabaseURL: usedDatabase(t)}))
	})
}

func open(t testing.TB, o Options) *Store {
	t.Helper()
	s, err := Open(context.Background(), o)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = s.Close() })
	return s
}

// usedDatabase gives a database that an earlier test has done with, emptied, or a fresh one:
// making one takes longer than most of these tests.
func usedDatabase(t testing.TB) string {
	t.Helper()
	var address string
	select {
	case address = <-spareDatabases:
	default:
		address = freshDatabase(t)
	}
	t.Cleanup(func() {
		onServer(t, address, emptied)
		spareDatabases <- address
	})
	return address
}

var (
	databases      atomic.Int64
	spareDatabases = make(chan string, 100)
)

// emptied takes every row out of every table but the list of migrations, and starts every
// numbering anew.
const emptied = `DO $$ DECLARE r record; BEGIN
	SET LOCAL session_replication_role = replica;
	FOR r IN SELECT tablename FROM pg_tables WHERE schemaname = 'public' AND tablename <> 'goose_db_version' LOOP
		EXECUTE format('DELETE FROM %I', r.tablename);
	END LOOP;
	PERFORM setval(oid::regclass, 1, false) FROM pg_class WHERE relkind = 'S' AND relname NOT LIKE 'goose%';
END $$`

// freshDatabase makes an empty database on the PostgreSQL server that
// ROWTALLY_TEST_DATABASE_URL names, or on one that is started for these tests. Without
// either the test is skipped.
func freshDatabase(t testing.TB) string {
	t.Helper()
	server := os.Getenv("ROWTALLY_TEST_DATABASE_URL")
	if server == "" {
		server = localServer(t)
	}
	name := databaseName(databases.Add(1))
	onServer(t, server, "CREATE DATABASE "+name)
	address, err := url.Parse(server)
	if err != nil {
		t.Fatal(err)
	}
	address.Path = "/" + name
	return address.String()
}

func databaseName(number int64) string {
	return fmt.Sprintf("rowtally_test_%d_%d", os.Getpid(), number)
}

// dropDatabases leaves a server that is not these tests' own as it was.
func dropDatabases() {
	server := os.Getenv("ROWTALLY_TEST_DATABASE_URL")
	for number := databases.Load(); server != "" && number > 0; number-- {
		if err := send(server, "DROP DATABASE IF EXISTS "+databaseName(number)+" WITH (FORCE)"); err != nil {
			fmt.Fprintln(os.Stderr, err)
		}
	}
}

func onServer(t testing.TB, server, statement string) {
	t.Helper()
	if err := send(server, statement); err != nil {
		t.Fatalf("%s: %v", statement, err)
	}
}

func send(server, statement string) error {
	db, err := sql.Open("pgx", server)
	if err != nil {
		return err
	}
	defer db.Close()
	_, err = db.Exec(statement)
	return err
}

// raw sends a statement past the store's methods.
func raw(t testing.TB, s *Store, statement string, args ...any) error {
	t.Helper()
	return s.write.Exec(statement, args...).Error
}

// brokenBy writes what no act would, with every guard of the engine switched off, gives
// what verify says of it, and takes it back.
func brokenBy(t testing.TB, s *Store, statement string) []string {
	t.Helper()
	off := []string{"SET LOCAL session_replication_role = replica"}
	if s.engine == onSQLite {
		must(t, raw(t, s, "PRAGMA foreign_keys = OFF"))
		must(t, raw(t, s, "PRAGMA ignore_check_constraints = ON"))
		off = sqliteTriggers(t, s)
	}
	inside := s.write.Begin()
	defer inside.Rollback()
	for _, statement := range append(off, statement) {
		must(t, inside.Exec(statement).Error)
	}
	broken, err := s.broken(inside)
	must(t, err)
	return broken
}

func must(t testing.TB, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// sqliteTriggers is the statements that take every trigger away.
func sqliteTriggers(t testing.TB, s *Store) []string {
	t.Helper()
	var names []string
	if err := s.write.Raw("SELECT name FROM sqlite_master WHERE type = 'trigger'").Scan(&names).Error; err != nil {
		t.Fatal(err)
	}
	for i, name := range names {
		names[i] = "DROP TRIGGER " + name
	}
	return names
}

// mention tells whether one of the sentences says this.
func mention(sentences []string, this string) bool {
	for _, s := range sentences {
		if strings.Contains(s, this) {
			return true
		}
	}
	return false
}
