package site

import (
	"fmt"
	"strconv"

	"rowtally/internal/job"
)

// seasonCostPage is what a season's jobs cost and brought.
type seasonCostPage struct {
	Frame
	job.SeasonCost
	Years             []int
	PerHour, PerRowKm string // "" where nothing is told
}

// seasonCost shows the results of one season: by farm, machine, month and job.
func (s *site) seasonCost(r *request) error {
	years, err := s.Books.Seasons(r.Context())
	if err != nil {
		return err
	}
	page := seasonCostPage{Frame: r.frame("accounts", "What the season cost and brought"), Years: years}
	season, _ := strconv.Atoi(string(r.today())[:4])
	if len(years) > 0 && years[0] < season {
		season = years[0]
	}
	if asked := r.Query("season"); asked != "" {
		if season, err = strconv.Atoi(asked); err != nil || season < 1000 || season > 9999 {
			return noPage()
		}
	}
	if page.SeasonCost, err = s.resultsOf(r, season); err != nil {
		return err
	}
	page.Title = fmt.Sprintf("Season %d: what it cost and brought", season)
	page.tell()
	return r.show("season_cost", page)
}

// tell writes what an hour of machine work and a row-km came to.
func (p *seasonCostPage) tell() {
	var machines job.Result
	for _, m := range p.Machines {
		machines.Cost += m.Cost
	}
	machines.RunMin = p.Sum.RunMin
	if each, ok := machines.PerHour(); ok && machines.Cost > 0 {
		p.PerHour = each.Shown()
	}
	if each, ok := p.Sum.PerRowKm(); ok {
		p.PerRowKm = each.Shown()
	}
}

func (s *site) resultsOf(r *request, season int) (job.SeasonCost, error) {
	facts, err := s.Books.SeasonFacts(r.Context(), season, r.today())
	if err != nil {
		return job.SeasonCost{}, err
	}
	return job.SeasonCostOf(season, facts)
}
