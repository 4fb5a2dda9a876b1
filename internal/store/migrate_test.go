package store

import (
	"context"
	"fmt"
	"io/fs"
	"slices"
	"strings"
	"testing"

	"rowtally/internal/fault"
	"rowtally/migrations"
)

// onEachFresh runs a test on where a store of each engine may be opened for the first time.
func onEachFresh(t *testing.T, test func(*testing.T, Options)) {
	t.Helper()
	t.Run("sqlite", func(t *testing.T) { t.Parallel(); test(t, Options{Dir: t.TempDir()}) })
	t.Run("postgres", func(t *testing.T) { t.Parallel(); test(t, Options{DatabaseURL: freshDatabase(t)}) })
}

func TestBothEnginesHaveTheSameMigrationsUpToTheProgramsSchema(t *testing.T) {
	var lists [][]string
	for _, on := range []engine{onSQLite, onPostgres} {
		files, err := migrations.For(string(on))
		if err != nil {
			t.Fatal(err)
		}
		names, err := fs.Glob(files, "*.sql")
		if last := fmt.Sprintf("%04d_", SchemaVersion); err != nil || len(names) == 0 || !strings.HasPrefix(names[len(names)-1], last) {
			t.Errorf("the migrations of %s are %v (%v), the program's schema is %d", on, names, err, SchemaVersion)
		}
		lists = append(lists, names)
	}
	if !slices.Equal(lists[0], lists[1]) {
		t.Errorf("the migrations differ: %v", lists)
	}
}

func TestMigrationsGoDownAndUpAgain(t *testing.T) {
	onEachFresh(t, func(t *testing.T, o Options) {
		ctx := context.Background()
		s := open(t, o)
		before := schemaOf(t, s)
		provider, err := migrator(s.engine, s.pools[0])
		if err != nil {
			t.Fatal(err)
		}
		if _, err := provider.DownTo(ctx, 0); err != nil {
			t.Fatal(err)
		}
		for table := range schemaOf(t, s) {
			if !slices.Contains([]string{"goose_db_version", "sqlite_sequence"}, table) {
				t.Errorf("the table %s stayed", table)
			}
		}
		if version, err := s.SchemaVersion(ctx); err != nil || version != 0 {
			t.Errorf("the schema is %d (%v), want 0", version, err)
		}
		refused(t, s.Ready(ctx), fault.Clash, "", "this program needs")
		if _, err := provider.Up(ctx); err != nil {
			t.Fatal(err)
		}
		after := schemaOf(t, s)
		for table, columns := range before {
			if after[table] != columns {
				t.Errorf("%s came back as %s, was %s", table, after[table], columns)
			}
		}
		newYard(t, s).sound()
	})
}

// schemaOf is the columns of every table.
func schemaOf(t *testing.T, s *Store) map[string]string {
	t.Helper()
	tables, err := s.write.Migrator().GetTables()
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]string{}
	for _, table := range tables {
		var columns []string
		for name, family := range columnsOf(t, s, table) {
			columns = append(columns, name+" "+family)
		}
		slices.Sort(columns)
		out[table] = strings.Join(columns, ", ")
	}
	return out
}

func TestManyProgramsMayStartOnOneNewStoreAtOnce(t *testing.T) {
	onEachFresh(t, func(t *testing.T, o Options) {
		stores := make([]*Store, 4)
		errs := crowd(len(stores), func(i int) (err error) {
			stores[i], err = Open(context.Background(), o)
			return err
		})
		for i, err := range errs {
			if err != nil {
				t.Fatal(err)
			}
			defer stores[i].Close()
		}
		y := newYard(t, stores[0])
		for _, s := range stores {
			y.Store = s
			y.quote(y.job)
		}
		y.sound()
	})
}
