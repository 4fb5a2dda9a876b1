package store

import (
	"fmt"
	"slices"
	"sync"
	"testing"

	"rowtally/internal/bill"
	"rowtally/internal/fault"
	"rowtally/internal/job"
	"rowtally/internal/mix"
)

// crowd runs an act from many goroutines at once and gives what came of each.
func crowd(size int, act func(i int) error) []error {
	errs := make([]error, size)
	start := make(chan struct{})
	var all sync.WaitGroup
	for i := range size {
		all.Go(func() {
			<-start
			errs[i] = act(i)
		})
	}
	close(start)
	all.Wait()
	return errs
}

// failures counts what failed; a failure of any other kind fails the test.
func failures(t *testing.T, errs []error, kind fault.Kind) int {
	t.Helper()
	n := 0
	for _, err := range errs {
		if err == nil {
			continue
		}
		if fault.KindOf(err) != kind {
			t.Fatalf("got %v, want a failure of kind %s", err, kind)
		}
		n++
	}
	return n
}

// Fifty at once draw 20 times 10 g of a lot that has 10 kg and one of 5 kg: 500 draws of
// each thousand must be refused, and nothing may be lost.
func TestFiftyAtOnceDrawExactlyWhatIsThere(t *testing.T) {
	const people, draws = 50, 20
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		scarce := y.id(s.AddLot(y.ctx, y.act(), lot("D2"), 5_000))
		refusals := make([]int, people)
		errs := crowd(people, func(i int) error {
			for range draws {
				switch err := s.WriteOff(y.ctx, y.act(), job.LotStock, scarce, 10, "spilt"); fault.KindOf(err) {
				case fault.Refused:
					refusals[i]++
				case fault.Internal:
					if err != nil {
						return err
					}
				}
			}
			return nil
		})
		failures(t, errs, fault.Clash)
		sum := 0
		for _, n := range refusals {
			sum += n
		}
		if sum != people*draws-500 {
			t.Errorf("%d draws were refused, want 500", sum)
		}
		if left := y.onHand(job.LotStock, scarce, job.Shed); left != 0 {
			t.Errorf("%d g are left, want 0", left)
		}
		y.sound()
	})
}

func TestTwentyAtOnceGetNumbersWithoutAGap(t *testing.T) {
	const people = 20
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		var jobs []int64
		for range people {
			jobs = append(jobs, y.newJob())
		}
		serials := make([]int64, 2*people)
		errs := crowd(2*people, func(i int) error {
			p := quote(jobs[i%people])
			if i%5 == 0 { // one of five does not add up: its number goes to the next
				p.Total++
			}
			issued, err := s.IssuePaper(y.ctx, y.act(), p)
			serials[i] = issued.Serial
			return err
		})
		if n := failures(t, errs, fault.Internal); n != 2*people/5 {
			t.Errorf("%d were refused, want %d", n, 2*people/5)
		}
		slices.Sort(serials)
		for i, serial := range serials[2*people/5:] {
			if serial != int64(i+1) {
				t.Fatalf("the numbers given are %v", serials)
			}
		}
		y.sound()
	})
}

func TestTheSameFormSentTwentyTimesIsDoneOnce(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		ids := make([]int64, 20)
		errs := crowd(len(ids), func(i int) (err error) {
			ids[i], err = s.MixTub(y.ctx, y.once("made by the phone"), tub(y.job, y.lot, 400))
			return err
		})
		failures(t, errs, fault.Clash)
		for _, id := range ids {
			if id == 0 || id != ids[0] {
				t.Fatalf("the answers are %v, want one and the same", ids)
			}
		}
		if left := y.onHand(job.LotStock, y.lot, job.Shed); left != 9_600 {
			t.Errorf("%d g are left, want 9 600", left)
		}
		y.sound()
	})
}

// Jobs that claim, mix from, receive and write off the same two lots at once, in opposite
// orders, never hold back or use more than is there.
func TestManyAtOnceKeepTheLaws(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		other := y.id(s.AddLot(y.ctx, y.act(), lot("D2"), 10_000))
		var jobs []int64
		for range 12 {
			jobs = append(jobs, y.newJob())
			y.quote(jobs[len(jobs)-1])
		}
		errs := crowd(24, func(i int) error {
			id := jobs[i%len(jobs)]
			if i >= len(jobs) {
				return y.changeStock(i, other)
			}
			papers, err := s.Papers(y.ctx, id)
			if err != nil {
				return err
			}
			claims := []job.Held{claim(y.lot, 1_500), claim(other, 1_500)}
			if i%2 == 0 {
				slices.Reverse(claims)
			}
			if err := s.AcceptQuote(y.ctx, y.act(), bill.Acceptance{PaperID: papers[0].ID, Name: "A Farmer"}, claims); err != nil {
				return err
			}
			_, err = s.MixTub(y.ctx, y.act(), mix.Tub{JobID: id, Ingredient: []mix.Ingredient{{LotID: other, Grams: 700}, {LotID: y.lot, Grams: 700}}})
			return err
		})
		failures(t, errs, fault.Clash)
		y.sound()
	})
}

func (y yard) changeStock(i int, lotID int64) error {
	switch i % 3 {
	case 0:
		return y.WriteOff(y.ctx, y.act(), job.LotStock, lotID, 1_000, fmt.Sprint("spoilt ", i))
	case 1:
		return y.Receive(y.ctx, y.act(), job.LotStock, y.lot, 500, "")
	}
	return y.MoveStock(y.ctx, y.act(), job.LotStock, lotID, job.Shed, job.Truck, 100, "")
}
