package main

import (
	"context"
	"database/sql"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"rowtally/internal/fault"
	"rowtally/internal/job"
	"rowtally/internal/seed"
	"rowtally/internal/store"
	"rowtally/internal/unit"
)

// kept is a small store on disk, closed again: a business, a farm and a lot of 64 kg.
func kept(t *testing.T, demoDay unit.Date) (dir string) {
	t.Helper()
	dir = t.TempDir()
	books := opened(t, dir)
	defer books.Close()
	ctx, act := context.Background(), job.Act{Who: "Example Contractor", Now: time.Date(2026, 7, 20, 9, 0, 0, 0, time.UTC)}
	business := job.Business{Name: "Example Rows", Currency: "AUD", Zone: "Australia/Adelaide"}
	business.DemoDay = demoDay
	if _, err := books.Begin(ctx, act, business, job.Person{Name: act.Who, Role: job.Contractor, PasswordHash: "x"}); err != nil {
		t.Fatal(err)
	}
	if _, err := books.AddFarm(ctx, act, job.Farm{Name: "Example Farm"}); err != nil {
		t.Fatal(err)
	}
	if _, err := books.AddLot(ctx, act, seed.Lot{Code: "D26-01", Species: "Atriplex nummularia", Layer: seed.Shrub}, 64_000); err != nil {
		t.Fatal(err)
	}
	return dir
}

func opened(t *testing.T, dir string) *store.Store {
	t.Helper()
	books, err := store.Open(context.Background(), store.Options{Dir: dir})
	if err != nil {
		t.Fatal(err)
	}
	return books
}

// farms are the names of the farms of a store.
func farms(t *testing.T, dir string) (names []string) {
	t.Helper()
	books := opened(t, dir)
	defer books.Close()
	all, err := books.Farms(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range all {
		names = append(names, f.Name)
	}
	return names
}

func TestASoundStoreIsVerifiedInSilence(t *testing.T) {
	dir := kept(t, "")
	if out := mustRun(t, 0, "", "verify", "--data", dir); out != "" {
		t.Errorf("verify says %q", out)
	}
	if out := mustRun(t, 0, "", "verify", "--data", dir, "--json"); out != "{\"broken\":[]}\n" {
		t.Errorf("verify --json says %q", out)
	}
	t.Setenv("ROWTALLY_DATA", dir)
	mustRun(t, 0, "", "verify")
}

func TestABrokenLawIsNamedAndEndsWithOne(t *testing.T) {
	dir := kept(t, "")
	file, err := sql.Open("sqlite3", filepath.Join(dir, store.File))
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	if _, err := file.Exec("UPDATE balances SET on_hand = on_hand + 1 WHERE kind = 'lot' AND place = 'shed'"); err != nil {
		t.Fatal(err)
	}
	const law = "the balance of lot 1 in the shed is 64001, its movements add up to 64000"
	if out := mustRun(t, 1, "", "verify", "--data", dir); out != law+"\n" {
		t.Errorf("verify says %q, want %q", out, law)
	}
	var told struct{ Broken []string }
	if err := json.Unmarshal([]byte(mustRun(t, 1, "", "verify", "--data", dir, "--json")), &told); err != nil || len(told.Broken) != 1 || told.Broken[0] != law {
		t.Errorf("verify --json says %+v, %v", told, err)
	}
}

func TestACopyIsPutBackAsItWas(t *testing.T) {
	dir, file := kept(t, ""), filepath.Join(t.TempDir(), "copy.db")
	if out := mustRun(t, 0, "", "backup", "--data", dir, file); out != "copied to "+file+" and read through\n" {
		t.Errorf("backup says %q", out)
	}
	other := filepath.Join(t.TempDir(), "new")
	if out := mustRun(t, 0, "", "restore", "--data", other, file); out != "restored "+file+" into "+other+"\n" {
		t.Errorf("restore says %q", out)
	}
	mustRun(t, 0, "", "verify", "--data", other)
	if got := farms(t, other); len(got) != 1 || got[0] != "Example Farm" {
		t.Errorf("the copy has the farms %v", got)
	}
}

func TestAStoreIsReplacedOnlyWhenAsked(t *testing.T) {
	dir, file := kept(t, ""), filepath.Join(t.TempDir(), "copy.db")
	mustRun(t, 0, "", "backup", "--data", dir, file)
	books := opened(t, dir)
	if _, err := books.AddFarm(context.Background(), job.Act{Who: "x", Now: time.Now()}, job.Farm{Name: "Later Farm"}); err != nil {
		t.Fatal(err)
	}
	books.Close()
	if _, code, err := ran(t, "", "restore", "--data", dir, file); code == 0 || err == nil || len(farms(t, dir)) != 2 {
		t.Errorf("unasked, restore ends with %d: %v, and the farms are %v", code, err, farms(t, dir))
	}
	mustRun(t, 0, "", "restore", "--data", dir, "--overwrite", file)
	if got := farms(t, dir); len(got) != 1 {
		t.Errorf("after the restore the farms are %v", got)
	}
}

func TestADamagedCopyIsNotPutBack(t *testing.T) {
	dir, folder := kept(t, ""), t.TempDir()
	file := filepath.Join(folder, "copy.db")
	mustRun(t, 0, "", "backup", "--data", dir, file)
	content, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	for name, damaged := range map[string][]byte{
		"torn.db": content[:len(content)/2], "empty.db": {}, "text.db": []byte("not a store"), "flipped.db": flipped(content),
	} {
		damagedFile := filepath.Join(folder, name)
		if err := os.WriteFile(damagedFile, damaged, 0o600); err != nil {
			t.Fatal(err)
		}
		if _, code, err := ran(t, "", "restore", "--data", dir, "--overwrite", damagedFile); code == 0 || err == nil {
			t.Errorf("%s is put back: %v", name, err)
		}
		if got := farms(t, dir); len(got) != 1 || got[0] != "Example Farm" {
			t.Errorf("after %s the farms are %v", name, got)
		}
	}
	if _, code, err := ran(t, "", "restore", "--data", dir, "--overwrite", filepath.Join(folder, "none.db")); code == 0 || err == nil {
		t.Errorf("a file that is not there is put back: %v", err)
	}
}

// flipped is a copy with its pages past the first written over.
func flipped(content []byte) []byte {
	out := append([]byte{}, content...)
	for i := 5000; i < len(out)-100; i += 97 {
		out[i] ^= 0xff
	}
	return out
}

func TestBackupNeverWritesOverAFile(t *testing.T) {
	dir, file := kept(t, ""), filepath.Join(t.TempDir(), "copy.db")
	if err := os.WriteFile(file, []byte("something dear"), 0o600); err != nil {
		t.Fatal(err)
	}
	_, code, err := ran(t, "", "backup", "--data", dir, file)
	if content, _ := os.ReadFile(file); code == 0 || err == nil || string(content) != "something dear" {
		t.Errorf("backup ends with %d: %v, and the file holds %.20q", code, err, content)
	}
}

// A store that is not a demo's is the business's own: the demo leaves it alone.
func TestTheDemoEmptiesNoStoreButADemos(t *testing.T) {
	dir := kept(t, "")
	_, code, err := ran(t, "", "demo", "--addr", "127.0.0.1:0", "--data", dir)
	if code != 1 || fault.KindOf(err) != fault.Clash || !strings.Contains(err.Error(), "is not a demo's: name another folder with --data") {
		t.Errorf("ends with %d: %v", code, err)
	}
	if got := farms(t, dir); len(got) != 1 || got[0] != "Example Farm" {
		t.Errorf("the farms are %v", got)
	}
}
