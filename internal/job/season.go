package job

import (
	"fmt"
	"sort"
	"strings"
	"unicode/utf8"

	"rowtally/internal/machine"
	"rowtally/internal/unit"
)

// Season is the first page: what must happen next, what is short, and the weeks.
type Season struct {
	On      unit.Date
	Asked   []SeasonLine // farmers' questions that wait for an answer, said first of all
	Trouble []SeasonLine // jobs in trouble, said next
	Lines   []SeasonLine // short or due, soonest first
	Jobs    []Chain      // in the order of their windows
	Live    LiveSeed
	Ahead   []HoursAhead // machine hours to come, by the machine that sows
}

// SeasonLine is one thing that is short, due or next, with the page that mends it.
type SeasonLine struct {
	What   string // "Live seed", "Medium", "Test", "Service", "Quote"
	Says   string
	Amount Figure
	By     string
	Mend   Next
}

// SeasonOf reads the season off every job, the shelf and the machines.
func SeasonOf(all []Facts, shelf Shelf, machines []machine.Machine, today unit.Date) Season {
	s := Season{On: today}
	for _, f := range all {
		chain := ListedChainOf(f)
		s.Jobs = append(s.Jobs, chain)
		s.addJob(chain)
		s.addQuestions(f)
	}
	s.addMedium(shelf)
	s.addTests(shelf)
	runs := s.hoursAhead(all)
	for _, m := range machines {
		s.addMachine(m, runs[m.ID])
	}
	sort.SliceStable(s.Jobs, func(i, k int) bool { return before(s.Jobs[i].Job.WindowFrom, s.Jobs[k].Job.WindowFrom) })
	s.Live = liveSeedOf(s.Jobs, shelf, today)
	return s
}

// Summary answers in one line how the season stands.
func (s Season) Summary() string {
	sowing, agreed := 0, 0
	for _, c := range s.Jobs {
		switch c.Stage {
		case Sowing:
			sowing++
		case Agreed:
			agreed++
		}
	}
	says := fmt.Sprintf("%s being sown, %d agreed and to come, %s short or due.", unit.Counted(sowing, "job"), agreed, unit.Counted(len(s.Lines)+len(s.Trouble), "thing"))
	if len(s.Asked) > 0 {
		says += fmt.Sprintf(" %s to answer.", unit.Counted(len(s.Asked), "question"))
	}
	return says
}

// before sorts days with the unset ones last.
func before(a, b unit.Date) bool { return a != "" && (b == "" || a < b) }

func (s *Season) addJob(c Chain) {
	if c.Stage == Declined {
		return
	}
	where := fmt.Sprintf("%s at %s", c.Job.Name, c.Farm.Name)
	for _, trouble := range c.Trouble {
		s.Trouble = append(s.Trouble, SeasonLine{What: where, Says: trouble, Mend: c.Next})
	}
	if len(c.Trouble) == 0 && c.Next.Label != "" {
		s.Lines = append(s.Lines, SeasonLine{What: sentenceCase(string(c.Stage)), Says: where, Amount: c.size(), By: c.window(), Mend: c.Next})
	}
}

// addQuestions lists the questions that wait for the contractor's answer.
func (s *Season) addQuestions(f Facts) {
	for _, t := range f.Threads() {
		if !t.Waits() {
			continue
		}
		last := t.Words[len(t.Words)-1]
		s.Asked = append(s.Asked, SeasonLine{
			What: fmt.Sprintf("%s at %s", f.Job.Name, f.Farm.Name),
			Says: fmt.Sprintf("%s asks about %s: “%s”", last.Name, t.About, shortened(last.Text, mostQuoted)),
			By:   last.SaidAt.Format("2 Jan 2006"),
			Mend: Next{"Answer", f.path(fmt.Sprintf("#question-%d", t.ID))},
		})
	}
}

// mostQuoted is how many characters of a question a list shows.
const mostQuoted = 140

// shortened is a text on one line, cut between words where it is long.
func shortened(text string, most int) string {
	out := ""
	for _, word := range strings.Fields(text) {
		if room := most - utf8.RuneCountInString(out) - 1; utf8.RuneCountInString(word) > room {
			if out == "" {
				out = string([]rune(word)[:room])
			}
			return out + " …"
		}
		out = strings.TrimSpace(out + " " + word)
	}
	return out
}

func (c Chain) size() Figure {
	if m := c.RowM(); m > 0 {
		return Figure{km(m), "row-km"}
	}
	if m2 := c.GrossM2(); m2 > 0 {
		return figure(m2/1e4, 1, "ha")
	}
	return Figure{}
}

func (c Chain) window() string {
	if c.Job.WindowFrom == "" {
		return ""
	}
	return "from " + c.Job.WindowFrom.String()
}

// addMedium says which medium the agreed jobs need more of than there is.
func (s *Season) addMedium(shelf Shelf) {
	for _, product := range shelf.Products {
		var lacking int64
		for _, c := range s.Jobs {
			if c.Stage != Agreed && c.Stage != Sowing {
				continue
			}
			for _, short := range c.short {
				if short.Kind == MediumStock && short.ID == product.ID {
					lacking += short.Need - short.Free
				}
			}
		}
		if lacking > 0 {
			s.Lines = append(s.Lines, SeasonLine{
				What: "Medium", Says: "agreed jobs need more " + product.Name + " than is free",
				Amount: Figure{litres(lacking), "L"}, Mend: Next{"Order, then take it in", fmt.Sprintf("/shed/media/%d/stock", product.ID)},
			})
		}
	}
}

// addTests says which lots with seed left want a test.
func (s *Season) addTests(shelf Shelf) {
	for _, lot := range shelf.Lots {
		figures := shelf.LotOn(lot, s.On)
		onHand := shelf.OnHand(LotStock, lot.ID)
		if !figures.WantsTest() || lot.OnHold() || onHand == 0 {
			continue
		}
		by := "before it is used"
		if figures.Due {
			by = "overdue since " + figures.DueOn.String()
		}
		s.Lines = append(s.Lines, SeasonLine{
			What: "Test", Says: fmt.Sprintf("%s, %s: %s", lot.Code, lot.CommonName, figures.State),
			Amount: Figure{grams(onHand), "kg"}, By: by, Mend: Next{"Send a sample", fmt.Sprintf("/shed/lots/%d", lot.ID)},
		})
	}
}

// addMachine says which service is due soon, by its hours, by its date or by both, or within
// the hours that agreed jobs still take.
func (s *Season) addMachine(m machine.Machine, aheadH float64) {
	left, kept := ServiceLeftMin(m)
	within := kept && float64(left)/60 < aheadH
	if !ServiceSoon(m, s.On) && !within {
		return
	}
	line := SeasonLine{What: "Service", Says: m.Name, Mend: Next{"The machine", fmt.Sprintf("/machines/%d", m.ID)}}
	if kept {
		line.Says += fmt.Sprintf(", due at %s h", unit.Grouped(float64(m.ServiceDueMin)/60, 0))
		line.Amount = figure(float64(left)/60, 1, "h left")
		if within {
			line.Says += fmt.Sprintf(", within the %s h that agreed jobs still take", unit.Grouped(aheadH, 1))
		}
	}
	if m.ServiceOn != "" {
		line.By = serviceByDate(m.ServiceOn, s.On)
	}
	s.Lines = append(s.Lines, line)
}

// FarmsSay answers in one line whether any farm waits for something.
func FarmsSay(farms int, open map[int64]int) string {
	jobs := 0
	for _, n := range open {
		jobs += n
	}
	switch {
	case farms == 0:
		return "No farm is kept yet."
	case jobs == 0:
		return "No farm waits for anything."
	}
	wait := "wait"
	if len(open) == 1 {
		wait = "waits"
	}
	return fmt.Sprintf("%d of %s %s for something: %s.", len(open), unit.Counted(farms, "farm"), wait, unit.Counted(jobs, "open job"))
}
