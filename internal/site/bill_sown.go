package site

import (
	"fmt"
	"slices"
	"strconv"

	"rowtally/internal/bill"
	"rowtally/internal/fault"
	"rowtally/internal/job"
	"rowtally/internal/money"
	"rowtally/internal/unit"
)

// readAtOnce is how many jobs are read before their invoices are issued: few, so that each
// invoice rests on books read a moment ago.
const readAtOnce = 20

// billLine is one job that has an agreed quote and is not billed whole.
type billLine struct {
	job.Job
	Farm, Paddock string
	Stage         job.Stage
	RowM          float64
	Total         money.Cents // of its invoice as it would be issued now, tax included
	Ticked        bool
	Cannot        string // why no invoice can be issued yet; "" where one can
}

// Tick is the name of the line's tick.
func (l billLine) Tick() string { return tickOf(l.ID) }

// Shown is the name of the field that keeps which total the page showed.
func (l billLine) Shown() string { return shownOf(l.ID) }

func tickOf(jobID int64) string  { return "job_" + strconv.FormatInt(jobID, 10) }
func shownOf(jobID int64) string { return "total_" + strconv.FormatInt(jobID, 10) }

// billedJob is what became of one job that was ticked.
type billedJob struct {
	job.Job
	Farm, Paddock string
	Paper         bill.Paper
	Before        bool   // its invoice was issued before this form came
	Refused       string // why it was not issued; "" where it was
}

type billSownPage struct {
	Frame
	Says    string
	Wrong   string
	Ready   []billLine
	Waiting []billLine
	Ticked  string // how many, and what they come to
	Done    []billedJob
}

// billSown lists the jobs that can be billed, and issues the invoices of those ticked.
func (s *site) billSown(r *request) error {
	page := billSownPage{Frame: r.frame("accounts", "Bill what is sown")}
	f := readForm(r)
	if r.isPost() && f.typed["act"] == "issue" {
		ticked, err := s.tickedJobs(r, f)
		if err != nil {
			return err
		}
		if len(ticked) > 0 {
			page.Done, err = s.billEach(r, f, ticked)
			page.Says = saysOfBilled(page.Done, r.business)
			if err != nil {
				return err
			}
			return r.show("bill_sown", page)
		}
		page.Wrong = "Nothing is ticked. Tick each job whose invoice is to be issued."
		r.Status(422)
	}
	if err := s.fillToBill(r, f, &page); err != nil {
		return err
	}
	return r.show("bill_sown", page)
}

// tickedJobs is the numbers of the jobs ticked.
func (s *site) tickedJobs(r *request, f *form) ([]int64, error) {
	jobs, err := s.Books.Jobs(r.Context(), 0)
	var ticked []int64
	for _, j := range jobs {
		if f.typed[tickOf(j.ID)] == "on" {
			ticked = append(ticked, j.ID)
		}
	}
	return ticked, err
}

// fillToBill reads what can be billed. Until something is ticked by hand, the jobs that are
// sown are.
func (s *site) fillToBill(r *request, f *form, page *billSownPage) error {
	ids, err := s.Books.ToBill(r.Context())
	if err != nil {
		return err
	}
	all, err := s.factsWhere(r, func(j job.Job) bool { return slices.Contains(ids, j.ID) })
	if err != nil {
		return err
	}
	var sum money.Cents
	ticked := 0
	for _, facts := range all {
		line, err := billLineOf(facts)
		if err != nil {
			return err
		}
		if line.Cannot != "" {
			page.Waiting = append(page.Waiting, line)
			continue
		}
		if line.Ticked = line.Stage == job.AllSown; r.isPost() {
			line.Ticked = f.typed[line.Tick()] == "on"
		}
		if line.Ticked {
			ticked, sum = ticked+1, sum+line.Total
		}
		page.Ready = append(page.Ready, line)
	}
	page.Says = saysOfToBill(page.Ready, page.Waiting, r.business)
	page.Ticked = fmt.Sprintf("Ticked: %d of %s, %s in all with tax.", ticked, unit.Counted(len(page.Ready), "job"), r.business.Money(sum))
	return nil
}

func billLineOf(f job.Facts) (billLine, error) {
	line := billLine{Job: f.Job, Farm: f.Farm.Name, Paddock: f.Paddock.Name, Stage: job.StageOf(f)}
	draft, err := job.InvoiceDraft(f)
	if fault.KindOf(err) == fault.Internal && err != nil {
		return line, err
	}
	if err != nil {
		line.Cannot = sentence(err.Error())
	}
	line.RowM, line.Total = draft.RowM, draft.Total
	return line, nil
}

func saysOfToBill(ready, waiting []billLine, b job.Business) string {
	var sum money.Cents
	for _, l := range ready {
		sum += l.Total
	}
	switch {
	case len(ready) == 0 && len(waiting) == 0:
		return "Nothing waits for its invoice: no job is agreed and not billed."
	case len(ready) == 0:
		return fmt.Sprintf("Nothing can be billed yet: %s agreed and not ready.", unit.Counted(len(waiting), "job"))
	case len(waiting) == 0:
		return fmt.Sprintf("%s can be billed, %s in all with tax.", unit.Counted(len(ready), "job"), b.Money(sum))
	}
	return fmt.Sprintf("%s can be billed, %s in all with tax; %d more agreed and not ready.", unit.Counted(len(ready), "job"), b.Money(sum), len(waiting))
}

// billEach issues the invoice of each job in a transaction of its own, so that nobody waits
// longer than for one, and says what became of it.
func (s *site) billEach(r *request, f *form, ids []int64) (done []billedJob, err error) {
	for some := range slices.Chunk(ids, readAtOnce) {
		all, err := s.factsWhere(r, func(j job.Job) bool { return slices.Contains(some, j.ID) })
		if err != nil {
			return done, err
		}
		for _, facts := range all {
			one, err := s.billOne(r, f, facts)
			if err != nil {
				return done, err
			}
			done = append(done, one)
		}
	}
	return done, nil
}

// billOne issues one job's invoice under a key of its own. What is refused is said, and
// stops no other.
func (s *site) billOne(r *request, f *form, facts job.Facts) (billedJob, error) {
	one := billedJob{Job: facts.Job, Farm: facts.Farm.Name, Paddock: facts.Paddock.Name}
	draft, err := job.InvoiceDraft(facts)
	if one.Paper, one.Before = facts.Issued(bill.Invoice, draft); one.Before {
		return one, nil
	}
	if shown := f.typed[shownOf(facts.Job.ID)]; err == nil && shown != "" && shown != strconv.FormatInt(int64(draft.Total), 10) {
		err = fault.Conflict("its invoice comes to %s now, which is not what the page showed: look at it again", r.business.Money(draft.Total))
	}
	if err == nil {
		act := r.act()
		if act.Key != "" {
			act.Key += " " + tickOf(facts.Job.ID)
		}
		one.Paper, err = s.issueAs(r, act, draft)
	}
	if err != nil && fault.KindOf(err) != fault.Internal {
		one.Refused, err = sentence(err.Error()), nil
	}
	return one, err
}

func saysOfBilled(done []billedJob, b job.Business) string {
	var sum money.Cents
	issued, refused := 0, 0
	for _, one := range done {
		if one.Refused != "" {
			refused++
			continue
		}
		issued, sum = issued+1, sum+one.Paper.Total
	}
	says := fmt.Sprintf("%d invoices are issued, %s in all with tax.", issued, b.Money(sum))
	if issued == 1 {
		says = fmt.Sprintf("1 invoice is issued, %s with tax.", b.Money(sum))
	}
	if refused > 0 {
		says += fmt.Sprintf(" %d could not be, for the reasons below.", refused)
	}
	return says
}
