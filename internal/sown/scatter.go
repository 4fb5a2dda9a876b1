package sown

import "math"

// guideFor measures what a log scatters, and makes the guide for it: how straight a pass
// must be depends on how straight the log can show it.
func guideFor(runs []run, l limits) (guide, float64) {
	g := guide{headingDeg: l.headingDeg, baseM: max(headingBaseM, baseTimes*jitterM(runs)), holdM: l.holdM, holdFixes: l.holdFixes}
	scatterM := g.scatterM(runs)
	g.strayM = max(l.crossTrackM, straightTimes*scatterM)
	g.retreatM = headingBaseM + straightTimes*scatterM
	return g, scatterM
}

// jitterM is the part of the error that is new at every fix, as a standard deviation of
// one axis. The second difference of a steady drive is the error's alone, √6 times as
// large; its median length is that of a Rayleigh distribution, σ√(2 ln 2).
func jitterM(runs []run) float64 {
	count := 0
	for _, r := range runs {
		count += len(r.points)
	}
	all := make([]float64, 0, count)
	for _, r := range runs {
		for i := 2; i < len(r.points); i++ {
			p, q, s := r.points[i-2], r.points[i-1], r.points[i]
			if p.to(q) < headingBaseM && q.to(s) < headingBaseM {
				all = append(all, math.Hypot(s.along-2*q.along+p.along, s.across-2*q.across+p.across))
			}
		}
	}
	return median(all) / math.Sqrt(6*2*math.Ln2)
}

// fewestFixes is how many steps a drive needs to show its scatter.
const fewestFixes = 3

// scatterM is the middle scatter of the straight drives of a log, sowing or not: what
// receiver and driver together stray from a line, as a standard deviation.
func (g guide) scatterM(runs []run) float64 {
	var all []float64
	for _, r := range runs {
		for _, l := range g.legs(r.points) {
			if l.to-l.from >= fewestFixes && r.points[l.from].to(r.points[l.to]) >= 3*headingBaseM {
				all = append(all, fitLine(r.points[l.from:l.to+1]).rmsM)
			}
		}
	}
	return median(all)
}
