package job

import "fmt"

func (c Chain) sownLink() ChainLink {
	link := ChainLink{Name: "Sown", Anchor: "sown", State: Open}
	if c.Rowless() {
		return c.doneLink(link)
	}
	if c.laid == nil {
		link.Says = "After the rows."
		return link
	}
	link.Doings = []Next{{"Load a log", c.path("/sown")}}
	sownM, by := c.SownM()
	if by == "" {
		link.Says = "Nothing yet."
		if c.Stage == Agreed || c.Stage == Sowing {
			link.Doings = append([]Next{{"At the truck", fmt.Sprintf("/truck/%d", c.Job.ID)}}, link.Doings...)
		}
		return link
	}
	link.Figures = []Figure{{km(sownM), "row-km sown"}, {km(c.laid.RowM - min(sownM, c.laid.RowM)), "row-km left"}}
	link.Says = fmt.Sprintf("By %s; %s row-km were planned.", by, km(c.laid.RowM))
	if c.Sown != nil {
		link.State = Kept
		link.Says = c.Sown.Measured()
		link.Working = c.Sown.Working()
		link.Doings = []Next{{"Planned against sown", c.path("/sown")}}
	}
	if c.StageIs(Sowing) && c.RanOut(c.laid.RowM) {
		link.Warning = c.ranOutSays(sownM)
		link.Doings = append([]Next{{"Mix what is left", fmt.Sprintf("/truck/%d", c.Job.ID)}}, link.Doings...)
	}
	return link
}

// doneLink is the link of a job without rows: its day sheets show that it was done.
func (c Chain) doneLink(link ChainLink) ChainLink {
	link.Says = "No rows to measure: the day sheets show the work, and every line is billed as agreed."
	link.Doings = []Next{{"Day sheet", fmt.Sprintf("/truck/%d/day", c.Job.ID)}}
	if len(c.DaySheets) > 0 {
		link.State = Kept
	}
	return link
}

// ranOutSays says where the mix ended, and why when a catch test tells.
func (c Chain) ranOutSays(sownM float64) string {
	why := ""
	if found, ok := c.CatchFound(); ok && !found.WithinTolerance {
		why = fmt.Sprintf(" The meter drops %s mL for %s.", percent(found.PlacementVolumeML), percent(c.Recipe.PlacementML))
	}
	return fmt.Sprintf("%s ran out of mix at %s of %s row-km.%s Mix for the %s row-km left.",
		c.Job.Name, km(sownM), km(c.laid.RowM), why, km(c.LeftM(c.laid.RowM)))
}

// StageIs tells whether the job is at a stage.
func (c Chain) StageIs(s Stage) bool { return c.Stage == s }
