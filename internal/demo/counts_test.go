package demo_test

import "testing"

// 116 of 190 placements in 19 stretches of ten: 61.1 % ± 9.6, 291 ± 46 to the net hectare, for
// the contractor and the farmer alike; the autumn's count stands apart, and both are offered
// to the next job's mix.
func TestTheFirstJobsCountsAreShownWithTheirErrorAndTeach(t *testing.T) {
	s := demoOf(t)
	v := s.enter(t, "contractor")
	for _, path := range []string{"/jobs/1", "/jobs/1/counts", "/farm/" + s.town.Links[0].Token + "/jobs/1"} {
		v.says(path, "61.1 % ± 9.6", "291 ± 46", "24 Oct 2025", "47.9 % ± ", "15 May 2026", "a placement with at least one live seedling of a sown species")
	}
	v.says("/jobs/5/mix", "By the first counts 3.1 in 100 (", "from 1 first count of Atriplex nummularia (J-01 24 Oct 2025), all of fruit, bracts on, high salinity",
		"By the autumn counts 2.2 in 100 (", "Take 3.14 in 100 and keep the recipe")
	v.says("/jobs/2/counts", "19 stretches of 10 placements, 30 m each, drawn on 6 Jul 2026 with the number 2", "Nothing is counted yet")
	v.says("/truck", "First count: the places are drawn.")
}
