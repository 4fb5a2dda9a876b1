package site

import (
	"fmt"
	"strconv"

	"rowtally/internal/fault"
	"rowtally/internal/job"
	"rowtally/internal/mix"
)

type drillPage struct {
	formPage
	Job   job.Job
	Drill job.Drill
	Past  []job.DrillLoad
}

// loadDrill keeps what of the understorey's lots went into the drill; the form begins with
// what is still to be loaded.
func (s *site) loadDrill(r *request) error {
	facts, err := s.jobFacts(r)
	if err != nil {
		return err
	}
	drill, err := job.DrillOf(facts)
	if err != nil {
		return err
	}
	f := blank(drillTyped(drill))
	if r.isPost() {
		f = readForm(r)
		load := readLoad(f, drill)
		load.JobID, load.MadeAt = facts.Job.ID, r.now
		if f.ok() {
			if _, err := s.Books.LoadDrill(r.Context(), r.act(), load); err == nil {
				return r.see(drillPath(facts.Job.ID) + "?done=drilled")
			} else if err := f.take(err); err != nil {
				return err
			}
		}
	}
	return r.drawDrill(f, drillPage{Job: facts.Job, Drill: drill, Past: facts.DrillLoads})
}

func drillPath(jobID int64) string { return jobPath(jobID) + "/understorey/load" }

func lotField(lotID int64) string { return fmt.Sprintf("kg_%d", lotID) }

func drillTyped(drill job.Drill) map[string]string {
	typed := map[string]string{}
	if ha := drill.LeftHa(); ha >= 0.05 {
		typed["ha"] = strconv.FormatFloat(ha, 'f', 1, 64)
	}
	for _, l := range drill.Lines {
		if l.Left() > 0 && l.OnHold == "" {
			typed[lotField(l.LotID)] = strconv.FormatFloat(float64(l.Left())/1000, 'f', 3, 64)
		}
	}
	return typed
}

// readLoad reads the kilograms of each lot; a lot left empty did not go in.
func readLoad(f *form, drill job.Drill) job.DrillLoad {
	load := job.DrillLoad{Ha: f.number("ha", 0.1, 100_000), Note: f.text("note")}
	for _, l := range drill.Lines {
		if name := lotField(l.LotID); f.typed[name] != "" {
			load.Lots = append(load.Lots, mix.Ingredient{LotID: l.LotID, Grams: f.thousandths(name, leastAmount, mostKg)})
		}
	}
	if len(load.Lots) == 0 {
		f.refuse("", "Nothing goes into the drill yet: enter the kg of one lot at least.")
	}
	return load
}

func (r *request) drawDrill(f *form, page drillPage) error {
	page.Frame = r.frame(r.atWork(), "Load the drill, "+page.Job.Name)
	page.Action, page.Back = r.Path(), jobPath(page.Job.ID)+"#understorey"
	var lots []Field
	for _, l := range page.Drill.Lines {
		hint := fmt.Sprintf("%s of %s kg are loaded.", amount(l.Loaded), amount(l.Need))
		if l.OnHold != "" {
			hint = "On hold: " + l.OnHold + ". Choose another lot in the understorey, or free this one in the shed."
		}
		lots = append(lots, Field{Name: lotField(l.LotID), Label: l.Code + " " + l.Name, Kind: "number", Unit: "kg", Hint: hint})
	}
	page.Groups = []group{{Fields: f.fields(lots...)}, {Fields: f.fields(
		Field{Name: "ha", Label: "Meant for", Kind: "number", Unit: "ha", Required: true,
			Hint: fmt.Sprintf("%s of %s ha are loaded for.", grouped(page.Drill.LoadedHa, 1), grouped(page.Drill.Ha, 1))},
		Field{Name: "note", Label: "Note"},
	)}}
	page.Head = f.head()
	for i := range page.Past {
		page.Past[i].MadeAt = inZone(page.Past[i].MadeAt, r.business.Zone)
	}
	if !f.ok() {
		r.Status(422)
	}
	return r.show("drill", page)
}

// drillUndo takes a load of the drill back that was entered wrong, or was emptied out again.
func (s *site) drillUndo(r *request) error {
	facts, err := s.jobFacts(r)
	if err != nil {
		return err
	}
	id, err := r.id("entry")
	if err != nil {
		return err
	}
	for _, load := range facts.DrillLoads {
		if load.ID == id {
			if err := s.Books.UndoDrillLoad(r.Context(), r.act(), id); err != nil {
				return err
			}
			return r.see(drillPath(facts.Job.ID) + "?done=undone")
		}
	}
	return fault.Miss("There is no such drill load of %s. It may be taken back already.", facts.Job.Name)
}
