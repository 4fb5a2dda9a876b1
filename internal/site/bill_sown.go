package site

import (
	"fmt"
	"slices"
	"strconv"

	"rowtally/internal/fault"
	"rowtally/internal/job"
	"rowtally/internal/money"
	"rowtally/internal/unit"
)

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

type billSownPage struct {
	Frame
	Says    string
	Wrong   string
	Ready   []billLine
	Waiting []billLine
	Ticked  string // how many, and what they come to

	Rows  string     // stands where the rows of a run go, while it runs; "" for no run
	Ended string     // what the run came to
	Left  []billLine // what was ticked and the run did not come to
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
			return s.runBill(r, f, page, ticked)
		}
		page.Wrong = "Nothing is ticked. Tick each job whose invoice is to be issued."
		r.Status(422)
	}
	if err := s.fillToBill(r, f, &page); err != nil {
		return err
	}
	return r.show("bill_sown", page)
}

// tickedJobs is the jobs ticked, in the order of their codes.
func (s *site) tickedJobs(r *request, f *form) (ticked []job.Job, err error) {
	jobs, err := s.Books.Jobs(r.Context(), 0)
	for _, j := range jobs {
		if f.typed[tickOf(j.ID)] == "on" {
			ticked = append(ticked, j)
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
