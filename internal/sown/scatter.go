package sown

import "math"

// guideFor measures what a log scatters, and makes the guide for it: how straight a pass
// must be depends on how straight the log can show it. The slow part of the scatter is what
// the jitter from fix to fix leaves of it.
func guideFor(runs []run, l limits) (g guide, scatterM, slowM float64) {
	jitter := jitterM(runs)
	g = guide{headingDeg: l.headingDeg, baseM: max(headingBaseM, baseTimes*jitter), holdM: l.holdM, holdFixes: l.holdFixes}
	scatterM, longM := g.scatterM(runs)
	slowM = math.Sqrt(max(0, longM*longM-jitter*jitter))
	g.strayM = max(l.crossTrackM, straightTimes*scatterM, min(slowTimes*slowM, slowStrayM))
	g.retreatM = headingBaseM + straightTimes*scatterM
	return g, scatterM, slowM
}

// enoughSteps is how many steps of a log show its jitter.
const enoughSteps = 100_000

// jitterM is the part of the error that is new at every fix, as a standard deviation of
// one axis. The second difference of a steady drive is the error's alone, √6 times as
// large; its median length is that of a Rayleigh distribution, σ√(2 ln 2).
func jitterM(runs []run) float64 {
	count := 0
	for _, r := range runs {
		count += len(r.points)
	}
	every := count/enoughSteps + 1
	all := make([]float64, 0, count/every+len(runs))
	for _, r := range runs {
		for i := 2; i < len(r.points); i += every {
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
// receiver and driver together stray from a line, as a standard deviation; of all drives,
// and of the longer ones alone.
func (g guide) scatterM(runs []run) (allM, longM float64) {
	var all, long []float64
	for _, r := range runs {
		for _, l := range g.legs(r.points) {
			wayM := r.points[l.from].to(r.points[l.to])
			if l.to-l.from < fewestFixes || wayM < 3*headingBaseM {
				continue
			}
			rmsM := fitLine(r.points[l.from : l.to+1]).rmsM
			if all = append(all, rmsM); wayM >= longLegM {
				long = append(long, rmsM)
			}
		}
	}
	return median(all), median(long)
}

// longLegM is a drive, in metres, that shows what strays slowly and no bend: our choice.
const longLegM = 60
