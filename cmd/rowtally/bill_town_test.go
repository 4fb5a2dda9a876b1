//go:build !race

package main

import (
	"bytes"
	"context"
	"database/sql"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"net/url"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"rowtally/internal/bill"
	"rowtally/internal/demo"
	"rowtally/internal/job"
	"rowtally/internal/store"
)

// billTown is a program on a store in which many jobs wait to be billed.
type billTown struct {
	client *http.Client
	base   string
	csrf   string
	file   string
	dir    string
	who    demo.Login
	run    *served
	first  int // invoices that were issued before
}

// sownOften is the demo's store with ten years of papers and movements in it, and many jobs
// agreed and sown as one of the demo's, ten to a farm. The figures are invented.
func sownOften(t *testing.T, n int, like int64) *billTown {
	t.Helper()
	dir, people := demoStore(t)
	db, err := sql.Open("sqlite3", filepath.Join(dir, store.File))
	if err != nil {
		t.Fatal(err)
	}
	for _, statement := range bigRows {
		if _, err := db.Exec(statement); err != nil {
			t.Fatalf("%v: %s", err, statement)
		}
	}
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
	sowAgain(t, dir, n, like)
	town := &billTown{file: program(t), dir: dir, who: people.People[0]}
	town.first = town.invoices(t)
	town.start(t)
	t.Cleanup(func() { town.run.stop() })
	return town
}

// sowAgain adds jobs that are laid, priced, quoted, agreed and sown as another one is.
func sowAgain(t *testing.T, dir string, n int, like int64) {
	t.Helper()
	ctx := context.Background()
	books, err := store.Open(ctx, store.Options{Dir: dir})
	if err != nil {
		t.Fatal(err)
	}
	defer books.Close()
	f, err := books.Facts(ctx, like, "2026-07-20")
	if err != nil {
		t.Fatal(err)
	}
	for i := range n {
		if i%jobsOfAFarm == 0 {
			err = addFarm(books, &f, i)
		}
		if err == nil {
			err = addSownJob(books, f)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
}

func contractorAct() job.Act {
	return job.Act{PersonID: contractorPerson, Who: "Contractor", Now: time.Date(2026, 7, 20, 9, 0, 0, 0, time.UTC)}
}

// addFarm puts a farm and a paddock of the same boundary in the place of the facts' own.
func addFarm(books *store.Store, f *job.Facts, i int) (err error) {
	f.Farm.ID, f.Farm.Name = 0, fmt.Sprintf("Sown farm %d", i/jobsOfAFarm+1)
	if f.Farm.ID, err = books.AddFarm(context.Background(), contractorAct(), f.Farm); err != nil {
		return err
	}
	f.Paddock.ID, f.Paddock.FarmID = 0, f.Farm.ID
	f.Paddock.ID, err = books.AddPaddock(context.Background(), contractorAct(), f.Paddock)
	f.Job.FarmID, f.Job.PaddockID = f.Farm.ID, f.Paddock.ID
	return err
}

func addSownJob(books *store.Store, f job.Facts) error {
	ctx, act := context.Background(), contractorAct()
	id, err := books.AddJob(ctx, act, job.Job{FarmID: f.Job.FarmID, PaddockID: f.Job.PaddockID, Name: f.Job.Name, Season: 2026, AskedOn: "2026-05-01"})
	if err != nil {
		return err
	}
	layout := *f.Layout
	layout.JobID = id
	if err := books.KeepLayout(ctx, act, layout); err != nil {
		return err
	}
	f.Job.ID, f.Papers, f.Acceptances = id, nil, nil
	draft, err := job.QuoteDraft(f)
	if err != nil {
		return err
	}
	quote, err := books.IssuePaper(ctx, act, draft)
	if err != nil {
		return err
	}
	if err := books.AcceptQuote(ctx, act, bill.Acceptance{PaperID: quote.ID, Name: "the owner"}, nil); err != nil {
		return err
	}
	sown := *f.Sown
	sown.JobID = id
	return books.KeepSown(ctx, act, sown)
}

// billAll sends the form, and goes on as long as the page offers it: on a busy machine the
// time of one page may not suffice.
func (town *billTown) billAll(t *testing.T, form url.Values) (said string) {
	t.Helper()
	for again := true; again; {
		shown := town.send(t, "/accounts/bill", form)
		said, form, again = said+shown, town.ticks(shown), strings.Contains(shown, "Go on with the ")
	}
	return said
}

// everyTick is the form of the page with the tick of every job that was added.
func (town *billTown) everyTick(t *testing.T) url.Values {
	t.Helper()
	return town.ticks(town.page(t, "/accounts/bill"))
}

func (town *billTown) ticks(shown string) url.Values {
	form := url.Values{"csrf": {town.csrf}, "key": {"many"}, "act": {"issue"}}
	for _, total := range totalIn.FindAllStringSubmatch(shown, -1) {
		if job := strings.TrimPrefix(total[1], "total_"); job != strconv.Itoa(sownJob) {
			form.Set(total[1], total[2])
			form.Set("job_"+job, "on")
		}
	}
	return form
}

var (
	csrfIn  = regexp.MustCompile(`name="csrf" value="([^"]*)"`)
	totalIn = regexp.MustCompile(`name="(total_\d+)" value="(\d+)"`)
)

func (town *billTown) start(t *testing.T) {
	t.Helper()
	town.run = startedOn(t, town.file, town.dir)
	town.base = town.run.base
	town.client = signedIn(t, town.base, town.who)
	town.csrf = csrfIn.FindStringSubmatch(town.page(t, "/accounts/bill"))[1]
}

func (town *billTown) kill() {
	town.run.Process.Kill()
	town.run.Wait()
}

func (town *billTown) answered(answer *http.Response, err error) (string, error) {
	if err != nil {
		return "", err
	}
	defer answer.Body.Close()
	text, err := io.ReadAll(answer.Body)
	if err == nil && answer.StatusCode != http.StatusOK {
		err = fmt.Errorf("%s: %d %.300s", answer.Request.URL, answer.StatusCode, text)
	}
	return string(text), err
}

func (town *billTown) page(t *testing.T, path string) string {
	t.Helper()
	text, err := town.answered(town.client.Get(town.base + path))
	if err != nil {
		t.Fatal(err)
	}
	return text
}

func (town *billTown) post(t *testing.T, path string, form url.Values) *http.Response {
	t.Helper()
	request, err := http.NewRequest(http.MethodPost, town.base+path, strings.NewReader(form.Encode()))
	if err != nil {
		t.Fatal(err)
	}
	request.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	request.Header.Set("Origin", town.base)
	answer, err := town.client.Do(request)
	if err != nil {
		t.Fatal(err)
	}
	return answer
}

func (town *billTown) send(t *testing.T, path string, form url.Values) string {
	t.Helper()
	text, err := town.answered(town.post(t, path, form), nil)
	if err != nil {
		t.Fatal(err)
	}
	return text
}

// note enters a note at the truck.
func (town *billTown) note(i int) error {
	entry, err := json.Marshal(job.TruckEntry{Key: fmt.Sprintf("note-%d-%d", time.Now().UnixNano(), i), Kind: job.NoteEntry, PersonID: contractorPerson,
		JobID: sownJob, At: time.Now(), SentAt: time.Now(), Text: "gate left open"})
	if err != nil {
		return err
	}
	request, err := http.NewRequest(http.MethodPost, town.base+"/truck/entries", bytes.NewReader(entry))
	if err != nil {
		return err
	}
	request.Header.Set("Content-Type", "application/json")
	request.Header.Set("Origin", town.base)
	request.Header.Set("X-Form-Token", town.csrf)
	text, err := town.answered(town.client.Do(request))
	if err == nil && !strings.Contains(text, `"kept"`) {
		err = fmt.Errorf("the note is not kept: %s", text)
	}
	return err
}

// during does something while others are at work, one beginning every 20 ms, and gives how
// long each of them took, shortest first.
func (town *billTown) during(t *testing.T, do func()) (took []time.Duration) {
	t.Helper()
	type wait struct {
		took time.Duration
		err  error
	}
	waits, end, begun := make(chan wait, 100_000), make(chan struct{}), make(chan int)
	go func() {
		tick := time.NewTicker(othersEvery)
		defer tick.Stop()
		for i := 0; ; i++ {
			select {
			case <-end:
				begun <- i
				return
			case <-tick.C:
				go func() {
					began := time.Now()
					err := town.other(i)
					waits <- wait{time.Since(began), err}
				}()
			}
		}
	}()
	do()
	close(end)
	for range <-begun {
		one := <-waits
		if one.err != nil {
			t.Fatal(one.err)
		}
		took = append(took, one.took)
	}
	slices.Sort(took)
	return took
}

// other is what somebody else does: looks at a paper, the machines or the shed, or enters a
// note.
func (town *billTown) other(i int) error {
	if i%2 == 0 {
		return town.note(i)
	}
	path := []string{"/papers/1", "/machines", "/shed"}[i/2%3]
	_, err := town.answered(town.client.Get(town.base + path))
	return err
}

// invoices counts those of 2026 that are issued.
func (town *billTown) invoices(t *testing.T) (n int) {
	t.Helper()
	town.ask(t, `SELECT count(*) FROM papers WHERE kind = 'invoice' AND number LIKE 'T2026-%'`, &n)
	return n
}

func (town *billTown) ask(t *testing.T, question string, answer any) {
	t.Helper()
	db, err := sql.Open("sqlite3", filepath.Join(town.dir, store.File))
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	if err := db.QueryRow(question).Scan(answer); err != nil {
		t.Fatal(err)
	}
}

// holds checks that so many invoices were issued, none to the same job twice, without a gap
// in their numbers and each with its PDF.
func (town *billTown) holds(t *testing.T, want int) {
	t.Helper()
	if got := town.invoices(t) - town.first; got != want {
		t.Errorf("%d invoices are issued, want %d", got, want)
	}
	for what, question := range map[string]string{
		"jobs billed twice":      `SELECT count(*) FROM (SELECT job_id FROM papers WHERE kind = 'invoice' AND part = '' GROUP BY job_id HAVING count(*) > 1)`,
		"numbers left out":       `SELECT max(serial) - count(*) FROM papers WHERE kind = 'invoice' AND number LIKE 'T2026-%'`,
		"invoices without a PDF": fmt.Sprintf(`SELECT count(*) FROM papers WHERE number LIKE 'T2026-%%' AND serial > %d AND id NOT IN (SELECT paper_id FROM paper_files)`, town.first),
	} {
		var n int
		if town.ask(t, question, &n); n != 0 {
			t.Errorf("%d %s", n, what)
		}
	}
}
