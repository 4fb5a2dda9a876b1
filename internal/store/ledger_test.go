package store

import (
	"testing"

	"pgregory.net/rapid"

	"rowtally/internal/job"
)

// shelf is what must be where after the acts so far, kept by adding and taking away alone.
type shelf struct {
	shed, truck int64
	tubs        []taken // of the one job, last one last
}

// taken is what a tub took from each place.
type taken struct {
	id, shed, truck int64
}

// Whatever is done in whatever order: what was there and came in is what went out and is
// left, an act is refused exactly when there is not enough, and no law is broken.
func TestWhatWasThereAndCameInIsWhatWentOutAndIsLeft(t *testing.T) {
	t.Parallel()
	y := newYard(t, open(t, Options{Dir: t.TempDir()}))
	y.agree(y.job, claim(y.lot, 5_000))
	rival := y.newJob()
	y.agree(rival, claim(y.lot, 2_000))
	left := &shelf{shed: 10_000}
	rapid.Check(t, func(r *rapid.T) {
		acts := rapid.SliceOfN(rapid.SampledFrom([]string{"receive", "write off", "load", "unload", "mix", "empty back"}), 1, 8).Draw(r, "acts")
		for _, act := range acts {
			grams := rapid.Int64Range(1, 3_000).Draw(r, "grams")
			if done, want := left.do(y, act, grams); done != want {
				r.Fatalf("to %s %d g: done %v, want %v (%+v)", act, grams, done, want, left)
			}
		}
		if shed, truck := y.onHand(job.LotStock, y.lot, job.Shed), y.onHand(job.LotStock, y.lot, job.Truck); shed != left.shed || truck != left.truck {
			r.Fatalf("%d g in the shed and %d g on the truck, want %d and %d", shed, truck, left.shed, left.truck)
		}
		broken, err := y.Verify(y.ctx)
		if err != nil || len(broken) > 0 {
			r.Fatalf("broken laws: %v, %v", broken, err)
		}
	})
}

// do does an act, and tells whether it was done and whether it should have been.
func (l *shelf) do(y yard, act string, grams int64) (done, want bool) {
	a, kind := y.act(), job.LotStock
	switch act {
	case "receive":
		l.shed += grams
		return y.Receive(y.ctx, a, kind, y.lot, grams, "") == nil, true
	case "write off":
		want = grams <= l.shed+l.truck
		if want {
			fromShed := min(grams, l.shed)
			l.shed, l.truck = l.shed-fromShed, l.truck-(grams-fromShed)
		}
		return y.WriteOff(y.ctx, a, kind, y.lot, grams, "mice") == nil, want
	case "load":
		if want = grams <= l.shed; want {
			l.shed, l.truck = l.shed-grams, l.truck+grams
		}
		return y.MoveStock(y.ctx, a, kind, y.lot, job.Shed, job.Truck, grams, "") == nil, want
	case "unload":
		if want = grams <= l.truck; want {
			l.shed, l.truck = l.shed+grams, l.truck-grams
		}
		return y.MoveStock(y.ctx, a, kind, y.lot, job.Truck, job.Shed, grams, "") == nil, want
	case "mix":
		return l.mix(y, grams)
	}
	return l.emptyBack(y)
}

func (l *shelf) mix(y yard, grams int64) (done, want bool) {
	others, err := y.HeldBack(y.ctx, 0)
	y.must(err)
	free := l.shed + l.truck
	for _, h := range others {
		if h.JobID != y.job {
			free -= h.Held
		}
	}
	id, err := y.MixTub(y.ctx, y.act(), tub(y.job, y.lot, grams))
	if grams > free {
		return err == nil, false
	}
	fromTruck := min(grams, l.truck)
	l.truck, l.shed = l.truck-fromTruck, l.shed-(grams-fromTruck)
	l.tubs = append(l.tubs, taken{id, grams - fromTruck, fromTruck})
	return err == nil, true
}

func (l *shelf) emptyBack(y yard) (done, want bool) {
	if len(l.tubs) == 0 {
		return false, false
	}
	last := l.tubs[len(l.tubs)-1]
	l.tubs = l.tubs[:len(l.tubs)-1]
	l.shed, l.truck = l.shed+last.shed, l.truck+last.truck
	return y.UnmixTub(y.ctx, y.act(), last.id) == nil, true
}
