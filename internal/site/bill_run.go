package site

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"log/slog"
	"slices"
	"strconv"
	"strings"
	"time"

	"rowtally/internal/bill"
	"rowtally/internal/fault"
	"rowtally/internal/job"
	"rowtally/internal/money"
	"rowtally/internal/unit"
)

const (
	readAtOnce = 20               // jobs read before their invoices are issued: few, so that each rests on books read a moment ago
	longestRun = 40 * time.Second // after it the page ends and offers to go on, well within the time that a page may take
)

// billRun is the issuing of many invoices by one press. Each is issued in a transaction of
// its own, so that nobody waits longer than for one, and printed beside the issuing of the
// next. It outlives its request: the page is told while the run goes on, and a reader who
// leaves stops nothing.
type billRun struct {
	*site
	work      context.Context
	act       job.Act // its key is common to the run
	business  job.Business
	shown     map[string]string // which totals the page showed, by the names of their fields
	requestID string

	issued, refused int
	sum             money.Cents
}

// billedJob is what became of one job that was ticked.
type billedJob struct {
	job.Job
	Farm, Paddock string
	Paper         bill.Paper
	Before        bool   // its invoice was issued before this form came
	Refused       string // why it was not issued; "" where it was
}

// runBill issues the invoices of the ticked jobs and writes the page meanwhile, a row as soon
// as its invoice is issued. What the time does not suffice for is offered again.
func (s *site) runBill(r *request, f *form, page billSownPage, ticked []job.Job) error {
	page.Says = fmt.Sprintf("Ticked: %s. Each invoice stands below as soon as it is issued, and the sum at the foot.", unit.Counted(len(ticked), "job"))
	page.Rows = secret()
	head, _, err := s.aroundRows(page)
	if err != nil {
		return err
	}
	run := &billRun{site: s, act: r.act(), business: r.business, shown: f.typed, requestID: requestID(r.Ctx)}
	r.Type("html", "utf-8")
	r.Ctx.Context().SetBodyStreamWriter(func(w *bufio.Writer) {
		told(w, head)
		page.Ended, page.Left = run.through(ticked, func(one billedJob) {
			if err := s.views.Render(w, "bill_sown", one, "billed-row"); err == nil {
				w.Flush()
			}
		})
		if _, foot, err := s.aroundRows(page); err == nil {
			told(w, foot)
		}
	})
	return nil
}

// told writes a part of a page at once. That nobody reads it any more is no failure: the run
// goes on, and its rows stand in the books.
func told(w *bufio.Writer, part string) {
	if _, err := io.WriteString(w, part); err == nil {
		w.Flush()
	}
}

// aroundRows is the page above and below the rows of the run.
func (s *site) aroundRows(page billSownPage) (head, foot string, err error) {
	var whole strings.Builder
	err = s.views.Render(&whole, "bill_sown", page)
	head, foot, _ = strings.Cut(whole.String(), page.Rows)
	return head, foot, err
}

// through issues one invoice after the other and tells of each. It says what they come to,
// and which jobs are left where the time is up or something went wrong on our side.
func (run *billRun) through(ticked []job.Job, tell func(billedJob)) (says string, left []billLine) {
	began := time.Now()
	work, end := context.WithTimeout(context.Background(), longestWork)
	defer end()
	run.work = work
	prints, printed := make(chan bill.Paper, readAtOnce), make(chan struct{})
	go func() { run.printAll(prints); close(printed) }()
	done, err := run.each(ticked, began.Add(longestRun), tell, prints)
	close(prints)
	<-printed
	for _, j := range ticked[done:] {
		total, _ := strconv.ParseInt(run.shown[shownOf(j.ID)], 10, 64)
		left = append(left, billLine{Job: j, Total: money.Cents(total)})
	}
	run.Log.Info("billed", slog.String("request", run.requestID), slog.Int("issued", run.issued), slog.Int("refused", run.refused),
		slog.Int("left", len(left)), slog.Duration("took", time.Since(began)))
	if err != nil {
		run.Log.Error("failed", slog.String("request", run.requestID), slog.String("error", err.Error()))
		return run.says() + fmt.Sprintf(" Then something went wrong on our side, known to the log as %s. What is issued is issued whole; the rest is as it was.", run.requestID), left
	}
	return run.says(), left
}

// each bills job after job until a moment, and gives how many it came to.
func (run *billRun) each(ticked []job.Job, until time.Time, tell func(billedJob), prints chan<- bill.Paper) (done int, err error) {
	for some := range slices.Chunk(ticked, readAtOnce) {
		all, err := run.Books.FactsWhere(run.work, unit.DateOf(run.act.Now), func(j job.Job) bool {
			return slices.ContainsFunc(some, func(t job.Job) bool { return t.ID == j.ID })
		})
		if err != nil {
			return done, err
		}
		for _, facts := range all {
			if run.over(until) {
				return done, nil
			}
			one, err := run.bill(facts)
			if err != nil {
				return done, err
			}
			done++
			run.add(one)
			tell(one)
			if one.Refused == "" && one.Paper.SHA256 == "" {
				prints <- one.Paper
			}
		}
	}
	return done, nil
}

// over tells whether the time is up, or the program is told to end.
func (run *billRun) over(until time.Time) bool {
	select {
	case <-run.Ends:
		return true
	default:
		return time.Now().After(until)
	}
}

// printAll prints invoices and keeps their bytes. One that could not be printed is printed
// by whoever opens it first, to the same bytes.
func (run *billRun) printAll(prints <-chan bill.Paper) {
	for paper := range prints {
		if _, err := run.print(run.work, paper); err != nil {
			run.Log.Error("failed", slog.String("request", run.requestID), slog.String("error", err.Error()))
		}
	}
}

// bill issues one job's invoice under a key of its own. What is refused is said, and stops no
// other.
func (run *billRun) bill(facts job.Facts) (billedJob, error) {
	one := billedJob{Job: facts.Job, Farm: facts.Farm.Name, Paddock: facts.Paddock.Name}
	draft, err := job.InvoiceDraft(facts)
	if one.Paper, one.Before = facts.Issued(bill.Invoice, draft); one.Before {
		return one, nil
	}
	if shown := run.shown[shownOf(facts.Job.ID)]; err == nil && shown != "" && shown != strconv.FormatInt(int64(draft.Total), 10) {
		err = fault.Conflict("its invoice comes to %s now, which is not what the page showed: look at it again", run.business.Money(draft.Total))
	}
	if err == nil {
		act := run.act
		if act.Key != "" {
			act.Key += " " + tickOf(facts.Job.ID)
		}
		one.Paper, err = run.freeze(run.work, act, draft)
	}
	if err != nil && fault.KindOf(err) != fault.Internal {
		one.Refused, err = sentence(err.Error()), nil
	}
	return one, err
}

func (run *billRun) add(one billedJob) {
	if one.Refused != "" {
		run.refused++
		return
	}
	run.issued, run.sum = run.issued+1, run.sum+one.Paper.Total
}

func (run *billRun) says() string {
	says := fmt.Sprintf("%d invoices are issued, %s in all with tax.", run.issued, run.business.Money(run.sum))
	if run.issued == 1 {
		says = fmt.Sprintf("1 invoice is issued, %s with tax.", run.business.Money(run.sum))
	}
	if run.refused > 0 {
		says += fmt.Sprintf(" %d could not be, for the reasons above.", run.refused)
	}
	return says
}
