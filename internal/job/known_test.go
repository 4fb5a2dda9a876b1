package job

import (
	"reflect"
	"sync"
	"testing"

	"rowtally/internal/seed"
)

// What is remembered is what is worked out anew, and many may ask at once.
func TestFactsThatRememberSayTheSame(t *testing.T) {
	plain := sceneOf(t, 24)
	laid := laidOf(t, plain)
	sown, err := Match(plain, []Log{driven(laid, everyBelt(laid)...)})
	if err != nil {
		t.Fatal(err)
	}
	plain.Sown = &sown
	f := plain
	f.Remember()
	f.Shelf.Remember()
	var asking sync.WaitGroup
	for range 8 {
		asking.Go(func() {
			_, _ = f.Rows()
			ListedChainOf(f)
		})
	}
	asking.Wait()
	want, got := ChainOf(plain), ChainOf(f)
	if !reflect.DeepEqual(got.Links, want.Links) || !reflect.DeepEqual(got.Map, want.Map) || got.RowM() != want.RowM() || got.Stage != want.Stage {
		t.Errorf("remembered: %+v\nworked out anew: %+v", got.Links, want.Links)
	}
	first, _ := f.Rows()
	second, _ := f.Rows()
	read, again := f.Sown.Rows(), f.Sown.Rows()
	if &first.Rows[0] != &second.Rows[0] || &read[0] != &again[0] {
		t.Error("the rows were laid, or the record read, a second time")
	}
}

// A copy with another layout, paddock, lot or test is not answered from what was remembered.
func TestWhatIsRememberedFollowsTheFacts(t *testing.T) {
	f := sceneOf(t, 24)
	f.Remember()
	f.Shelf.Remember()
	before, err := f.Rows()
	if err != nil {
		t.Fatal(err)
	}
	other, layout := f, *f.Layout
	layout.AlleyM *= 2
	other.Layout = &layout
	if wider, err := other.Rows(); err != nil || wider.RowM >= before.RowM {
		t.Errorf("alleys twice as wide: %v m after %v m, %v", wider.RowM, before.RowM, err)
	}
	if again, err := f.Rows(); err != nil || again.RowM != before.RowM {
		t.Errorf("%v m, before %v m, %v", again.RowM, before.RowM, err)
	}
	other = f
	other.Paddock.Boundary = ""
	if m2 := other.GrossM2(); m2 != 0 || f.GrossM2() == 0 {
		t.Errorf("%v m² without a boundary, %v m² with it", m2, f.GrossM2())
	}
	lot := f.Shelf.Lots[0]
	was := f.Shelf.LotOn(lot, f.Today)
	lot.PurityPercent /= 2
	if now := f.Shelf.LotOn(lot, f.Today); now.LivePerKg >= was.LivePerKg || now.LivePerKg != LotToday(lot, f.Shelf.Tests[lot.ID], f.Today).LivePerKg {
		t.Errorf("half as pure: %v live per kg after %v", now.LivePerKg, was.LivePerKg)
	}
	shelf := f.Shelf
	shelf.Tests = map[int64][]seed.Test{}
	if shelf.LotOn(f.Shelf.Lots[0], f.Today).Tested {
		t.Error("a lot without tests is tested")
	}
}

// What is remembered is worked out once for each key.
func TestWhatIsRememberedIsWorkedOutOnce(t *testing.T) {
	var r remembered[string, int]
	worked := 0
	for _, key := range []string{"a", "a", "b", "b", "b"} {
		if got, _ := r.of(key, func() (int, error) { worked++; return worked, nil }); got != worked {
			t.Errorf("%s: %d, worked out %d times", key, got, worked)
		}
	}
	if worked != 2 {
		t.Errorf("worked out %d times for two keys", worked)
	}
}
