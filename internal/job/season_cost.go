package job

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"

	"rowtally/internal/bill"
	"rowtally/internal/machine"
	"rowtally/internal/money"
	"rowtally/internal/unit"
)

// SeasonCost is what the jobs of one season cost and brought, without tax.
type SeasonCost struct {
	Season   int
	Jobs     []JobResult // that cost or brought anything, in order of their codes
	Farms    []Result
	Months   []Result // by the month of a job's last day sheet, else of its invoice
	Machines []MachineResult
	Sum      Result
	LeftOut  []string // what the costs do not hold, each said once
}

// Result is jobs of one kind added up.
type Result struct {
	Name   string
	Jobs   int
	RowM   float64 // metres of row sown, of each job to the ten metres that papers state
	RunMin int64   // of day sheets
	Cost   money.Cents

	Waiting money.Cents // of it, of jobs that are not billed yet
	Net     money.Cents // billed with its adjustments
	Left    money.Cents // Net less what the billed jobs cost
}

// JobResult is one job.
type JobResult struct {
	Facts
	Result
	Spent Cost
	Month string // "2026-06"; "" while it has neither day sheet nor invoice
}

// MachineResult is what one machine did in the season and cost.
type MachineResult struct {
	Machine machine.Machine
	Result  // Cost is owning, repair, oil, fuel and driving; Net and Left are not told of a machine
	FuelL   money.Factor
}

// PerRowKm is what a row-km cost; ok is false where none is sown.
func (r Result) PerRowKm() (money.Cents, bool) { return shareOf(r.Cost, r.RowM/1000) }

// PerHour is what an hour on the meter cost; ok is false where there is none.
func (r Result) PerHour() (money.Cents, bool) { return shareOf(r.Cost, float64(r.RunMin)/60) }

// RowKmShown writes what a row-km cost; "" where none is sown.
func (r Result) RowKmShown() string { return eachShown(r.PerRowKm()) }

// HourShown writes what an hour cost; "" where there is none.
func (r Result) HourShown() string { return eachShown(r.PerHour()) }

func eachShown(each money.Cents, ok bool) string {
	if !ok {
		return ""
	}
	return each.Shown()
}

// Margin writes what is left in per cent of what was billed; "" where nothing was.
func (r Result) Margin() string { return EarnedBy(r.Net, r.Cost-r.Waiting).MarginShown() }

// CostOfBilled is what the jobs cost that are billed.
func (r Result) CostOfBilled() money.Cents { return r.Cost - r.Waiting }

// Add counts another result in.
func (r *Result) add(o Result) {
	r.Jobs, r.RowM, r.RunMin = r.Jobs+o.Jobs, r.RowM+o.RowM, r.RunMin+o.RunMin
	r.Cost, r.Waiting, r.Net, r.Left = r.Cost+o.Cost, r.Waiting+o.Waiting, r.Net+o.Net, r.Left+o.Left
}

// SeasonEnd is the day by which a job's machine hours are priced: the end of its season's
// year, or today while that is to come.
func (j Job) SeasonEnd(today unit.Date) unit.Date {
	if j.Season == 0 {
		return today
	}
	return min(today, unit.Date(fmt.Sprintf("%04d-12-31", j.Season)))
}

// BilledNet is what a job was billed without tax: every invoice with its adjustment notes.
func (f Facts) BilledNet() (sum money.Cents, billed bool) {
	for _, p := range f.Papers {
		if p.Kind == bill.Invoice || p.Kind == bill.Adjustment {
			sum, billed = sum+p.NetTotal, true
		}
	}
	return sum, billed
}

// SeasonCostOf adds a season's jobs up. Every machine's hour is worked out once.
func SeasonCostOf(season int, all []Facts) (SeasonCost, error) {
	s := SeasonCost{Season: season}
	farms, months, machines := map[string]*Result{}, map[string]*Result{}, map[int64]*MachineResult{}
	known := map[int64]pricedHour{}
	for _, f := range all {
		spent, err := spentBy(f, known)
		if err != nil {
			return s, fmt.Errorf("cost of %s: %w", f.Job.Code, err)
		}
		one := jobResult(f, spent)
		if one.Cost == 0 && one.Net == 0 {
			continue
		}
		s.Jobs = append(s.Jobs, one)
		s.Sum.add(one.Result)
		named(farms, f.Farm.Name).add(one.Result)
		named(months, one.Month).add(one.Result)
		addMachines(machines, f, spent)
		s.say(spent.LeftOut)
	}
	s.Farms, s.Months = sorted(farms), sorted(months)
	for _, m := range machines {
		s.Machines = append(s.Machines, *m)
	}
	slices.SortFunc(s.Machines, func(a, b MachineResult) int { return cmp.Compare(a.Name, b.Name) })
	return s, nil
}

func jobResult(f Facts, spent Cost) JobResult {
	net, billed := f.BilledNet()
	one := JobResult{Facts: f, Spent: spent, Result: Result{Name: f.Job.Code, Jobs: 1, RowM: RowKmOf(spent.RowM).Float() * 1000, Cost: spent.Total, Net: net, Left: net - spent.Total}}
	if !billed {
		one.Waiting, one.Left = spent.Total, 0
	}
	var last unit.Date
	for _, p := range f.Papers {
		if p.Kind == bill.Invoice {
			last = p.IssuedOn
		}
	}
	for _, d := range f.DaySheets {
		one.RunMin += d.RunMin()
		last = d.Day
	}
	if last != "" {
		one.Month = string(last)[:7]
	}
	return one
}

// addMachines counts the machines' lines of a job's cost in, and the rows of their sheets.
func addMachines(machines map[int64]*MachineResult, f Facts, spent Cost) {
	for _, m := range f.Yard.Machines {
		sheets := f.Yard.on(m, f.DaySheets)
		if len(sheets) == 0 {
			continue
		}
		if machines[m.ID] == nil {
			machines[m.ID] = &MachineResult{Machine: m, Result: Result{Name: m.Name}}
		}
		out := machines[m.ID]
		out.Jobs++
		for _, d := range sheets {
			out.RowM, out.RunMin = out.RowM+d.RowM, out.RunMin+d.RunMin()
		}
		for _, l := range spent.Lines {
			if l.ID != m.ID {
				continue
			}
			if l.Kind == MachineCost || l.Kind == FuelCost || l.Kind == LabourCost {
				out.Cost += l.Amount
			}
			if l.Kind == FuelCost {
				out.FuelL = out.FuelL.Plus(l.Quantity)
			}
		}
	}
}

// say keeps each sentence once.
func (s *SeasonCost) say(sentences []string) {
	for _, one := range sentences {
		if !slices.Contains(s.LeftOut, one) {
			s.LeftOut = append(s.LeftOut, one)
		}
	}
}

func named(results map[string]*Result, name string) *Result {
	if results[name] == nil {
		results[name] = &Result{Name: name}
	}
	return results[name]
}

func sorted(results map[string]*Result) []Result {
	var out []Result
	for _, r := range results {
		out = append(out, *r)
	}
	slices.SortFunc(out, func(a, b Result) int { return cmp.Compare(a.Name, b.Name) })
	return out
}

// MonthSaid writes the month of a result: "Jun 2026", or that it is neither sown nor billed.
func (r Result) MonthSaid() string {
	if r.Name == "" {
		return "not sown or billed yet"
	}
	return unit.Date(r.Name + "-01").Time().Format("Jan 2006")
}

// ResultsTable lists the jobs of seasons with what each cost and brought.
func ResultsTable(seasons []SeasonCost) Table {
	kinds := []CostKind{SeedCost, TreatmentCost, MediumCost, MachineCost, FuelCost, LabourCost, FloatCost, OthersCost, OverheadCost}
	t := Table{Name: "job results", Heads: []string{"season", "job", "farm", "name", "month", "row-km sown", "machine hours"}}
	for _, kind := range kinds {
		t.Heads = append(t.Heads, string(kind))
	}
	t.Heads = append(t.Heads, "cost", "of it not billed yet", "billed without tax", "left", "cost a row-km")
	for _, s := range seasons {
		for _, j := range s.Jobs {
			row := []Cell{said(strconv.Itoa(s.Season)), said(j.Job.Code), said(j.Farm.Name), said(j.Job.Name), said(j.Month), numbered(RowKmOf(j.RowM)), numbered(money.FactorOf(float64(j.RunMin)/60, 2))}
			for _, kind := range kinds {
				row = append(row, amounted(j.Spent.Of(kind)))
			}
			row = append(row, amounted(j.Cost), amounted(j.Waiting), amounted(j.Net), amounted(j.Left), Cell{})
			if each, ok := j.PerRowKm(); ok {
				row[len(row)-1] = amounted(each)
			}
			t.Rows = append(t.Rows, row)
		}
	}
	return t
}
