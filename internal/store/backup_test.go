package store

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"sync/atomic"
	"testing"
	"time"

	"rowtally/internal/fault"
	"rowtally/internal/job"
)

// onFile is a yard in SQLite with everything in it.
func onFile(t *testing.T) yard {
	t.Helper()
	return fullYard(t, open(t, Options{Dir: t.TempDir()}))
}

// copied is a copy of a store in a folder of its own.
func copied(t *testing.T, y yard) string {
	t.Helper()
	file := filepath.Join(t.TempDir(), "copy of ?#% the store.db")
	y.must(y.Backup(y.ctx, file))
	return file
}

func TestACopyMadeUnderWritersIsSoundAndOfOneMoment(t *testing.T) {
	t.Parallel()
	y := onFile(t)
	var done atomic.Bool
	var copies []string
	errs := crowd(5, func(i int) error {
		if i == 0 {
			defer done.Store(true)
			for range 3 {
				time.Sleep(20 * time.Millisecond)
				copies = append(copies, copied(t, y))
			}
			return nil
		}
		for !done.Load() {
			if err := y.MoveStock(y.ctx, y.act(), job.LotStock, y.lot, job.Shed, job.Truck, 1, ""); err != nil {
				return err
			}
			if err := y.MoveStock(y.ctx, y.act(), job.LotStock, y.lot, job.Truck, job.Shed, 1, ""); err != nil {
				return err
			}
		}
		return nil
	})
	for _, err := range errs {
		y.must(err)
	}
	last := int64(0)
	for _, file := range copies {
		dir := t.TempDir()
		y.must(Restore(file, dir, false))
		back := yard{Store: open(t, Options{Dir: dir}), t: t, ctx: y.ctx}
		back.sound()
		if n := rowsIn(t, back.Store, "movements"); n < last || n < 5 {
			t.Errorf("the copy has %d movements, the one before it %d", n, last)
		} else {
			last = n
		}
	}
}

func TestARestoredStoreGoesOn(t *testing.T) {
	t.Parallel()
	y := onFile(t)
	file, dir := copied(t, y), filepath.Join(t.TempDir(), "new", "folder")
	y.must(Restore(file, dir, false))
	back := y
	back.Store = open(t, Options{Dir: dir})
	y.must(back.Ready(y.ctx))
	for _, read := range []func(*Store) (any, error){
		func(s *Store) (any, error) { return s.Papers(y.ctx, 0) },
		func(s *Store) (any, error) { return s.Journal(y.ctx, 0) },
		func(s *Store) (any, error) { return s.Tubs(y.ctx, 0) },
		func(s *Store) (any, error) { return s.Balances(y.ctx) },
	} {
		was, err := read(y.Store)
		y.must(err)
		is, err := read(back.Store)
		y.must(err)
		same(t, is, was)
	}
	if p := back.quote(y.job); p.Number != "Q2026-0003" {
		t.Errorf("the next quote is %s, want Q2026-0003", p.Number)
	}
	if err := raw(t, back.Store, "DELETE FROM journal"); err == nil {
		t.Error("the copy lost its guards")
	}
	back.sound()
}

func TestACopyTakesNobodysPlace(t *testing.T) {
	t.Parallel()
	y := onFile(t)
	file := copied(t, y)
	before, err := os.ReadFile(file)
	y.must(err)
	refused(t, y.Backup(y.ctx, file), fault.Clash, "", "is there already, choose another name")
	if after, err := os.ReadFile(file); err != nil || string(after) != string(before) {
		t.Errorf("the earlier copy changed (%v)", err)
	}
	if err := y.Backup(y.ctx, filepath.Join(t.TempDir(), "no such folder", "x.db")); fault.KindOf(err) != fault.Internal || err == nil {
		t.Errorf("a copy into no folder: %v", err)
	}
	if left, _ := filepath.Glob(filepath.Join(filepath.Dir(file), ".*")); len(left) != 0 {
		t.Errorf("%v was left behind", left)
	}
	if info, err := os.Stat(file); err != nil || info.Mode().Perm() != 0o600 {
		t.Errorf("the copy can be read by others: %v, %v", info.Mode(), err)
	}
}

func TestRestoreNeverOverwritesUnasked(t *testing.T) {
	t.Parallel()
	y := onFile(t)
	file := copied(t, y)
	dir := t.TempDir()
	there := open(t, Options{Dir: dir})
	y.must(there.Ready(y.ctx))
	refused(t, Restore(file, dir, false), fault.Clash, "", "a store is in "+dir+" already")
	refused(t, Restore(file, dir, true), fault.Clash, "", "is in use, stop the program")
	if err := there.Ready(y.ctx); err != nil {
		t.Errorf("the store that was refused to be overwritten: %v", err)
	}
	y.must(there.Close())
	y.must(Restore(file, dir, true))
	back := yard{Store: open(t, Options{Dir: dir}), t: t, ctx: y.ctx}
	if n := rowsIn(t, back.Store, "papers"); n == 0 {
		t.Error("the store that was there is still there")
	}
	back.sound()
}

func TestRestoreTakesThePlaceOfAStoreThatIsDamaged(t *testing.T) {
	t.Parallel()
	y := onFile(t)
	file := copied(t, y)
	dir := t.TempDir()
	y.must(os.WriteFile(filepath.Join(dir, File), []byte("no longer a store"), 0o600))
	y.must(os.WriteFile(filepath.Join(dir, File+"-wal"), []byte("its log"), 0o600))
	refused(t, Restore(file, dir, false), fault.Clash, "", "already")
	y.must(Restore(file, dir, true))
	back := yard{Store: open(t, Options{Dir: dir}), t: t, ctx: y.ctx}
	back.sound()
}

// A log without its store must not be played into the one that takes its place.
func TestRestoreClearsALogThatOutlivedItsStore(t *testing.T) {
	t.Parallel()
	y := onFile(t)
	file, dir := copied(t, y), t.TempDir()
	wal, err := os.ReadFile(y.file + "-wal")
	y.must(err)
	y.must(os.WriteFile(filepath.Join(dir, File+"-wal"), wal, 0o600))
	y.must(Restore(file, dir, false))
	if _, err := os.Stat(filepath.Join(dir, File+"-wal")); err == nil {
		t.Error("the log is still there")
	}
	back := yard{Store: open(t, Options{Dir: dir}), t: t, ctx: y.ctx}
	back.sound()
}

func TestRestoreRefusesWhatIsNoSoundStore(t *testing.T) {
	t.Parallel()
	y := onFile(t)
	whole, err := os.ReadFile(copied(t, y))
	y.must(err)
	damaged := append([]byte(nil), whole...)
	for i := len(damaged) / 2; i < len(damaged)/2+8192; i++ {
		damaged[i] ^= 0x5a
	}
	unmarked := append([]byte(nil), whole...)
	copy(unmarked[68:72], []byte{0, 0, 0, 0}) // application id, SQLite file format 1.3.12
	for name, c := range map[string]struct {
		content []byte
		says    string
	}{
		"cut off":       {whole[:len(whole)-4096], "is damaged, take an earlier copy"},
		"damaged":       {damaged, "is damaged, take an earlier copy"},
		"of another":    {unmarked, "is no Rowtally store"},
		"no database":   {[]byte("a letter to the farmer, long enough to be read as a header of something or other"), "is no Rowtally store"},
		"an empty file": {nil, "is no Rowtally store"},
	} {
		dir := t.TempDir()
		file := filepath.Join(dir, "copy.db")
		y.must(os.WriteFile(file, c.content, 0o600))
		refused(t, Restore(file, filepath.Join(dir, "data"), false), fault.Refused, "file", c.says)
		if _, err := os.Stat(filepath.Join(dir, "data")); err == nil {
			t.Errorf("%s: something was restored", name)
		}
	}
	refused(t, Restore(filepath.Join(t.TempDir(), "nothing.db"), t.TempDir(), false), fault.Refused, "file", "cannot be read")
	y.quote(y.job)
	refused(t, Restore(y.file, t.TempDir(), false), fault.Refused, "file", "is a store in use and not whole without its log")
}

func TestANewerStoreIsRefused(t *testing.T) {
	t.Parallel()
	y := onFile(t)
	y.must(raw(t, y.Store, "INSERT INTO goose_db_version (version_id, is_applied) VALUES (?, true)", SchemaVersion+1))
	refused(t, y.Ready(y.ctx), fault.Clash, "", fmt.Sprintf("the store has schema %d and this program needs %d", SchemaVersion+1, SchemaVersion))
	file := filepath.Join(t.TempDir(), "copy.db")
	refused(t, y.Backup(y.ctx, file), fault.Clash, "", "a newer Rowtally wrote this store")
	y.must(y.Close())
	_, err := Open(context.Background(), Options{Dir: filepath.Dir(y.file)})
	refused(t, err, fault.Clash, "", "a newer Rowtally wrote this store")
	refused(t, Restore(y.file, t.TempDir(), false), fault.Clash, "", "a newer Rowtally wrote this store")
}

func TestAStoreInPostgresIsCopiedByItsOwnTool(t *testing.T) {
	t.Parallel()
	s := open(t, Options{DatabaseURL: usedDatabase(t)})
	refused(t, s.Backup(t.Context(), filepath.Join(t.TempDir(), "x")), fault.Refused, "", "pg_dump --format=custom")
}
