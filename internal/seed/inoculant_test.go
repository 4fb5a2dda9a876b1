package seed

import (
	"testing"

	"rowtally/internal/fault"
	"rowtally/internal/money"
)

func TestPacksOfAnInoculant(t *testing.T) {
	in := Inoculant{ForGroup: "C", Product: "example", PackG: 250, PackPrice: money.MustFactor("14.50")}
	for grams, want := range map[float64]float64{0: 0, 0.5: 1, 249.9: 1, 250: 1, 250.5: 2, 500: 2, 1000: 4} {
		if got := in.Packs(grams); got != want {
			t.Errorf("%v g take %v packs, want %v", grams, got, want)
		}
	}
	in.Keeps = true
	if got := in.Packs(100); got != 0.4 {
		t.Errorf("100 g of a pack that keeps are %v packs", got)
	}
}

func TestAnInoculantThatIsNoneIsRefused(t *testing.T) {
	for field, spoil := range map[string]func(*Inoculant){
		"for_group": func(in *Inoculant) { in.ForGroup = " " }, "product": func(in *Inoculant) { in.Product = "" },
		"pack_g": func(in *Inoculant) { in.PackG = 0 }, "pack_price": func(in *Inoculant) { in.PackPrice = money.MustFactor("-1") },
	} {
		in := Inoculant{ForGroup: "C", Product: "example", PackG: 250, PackPrice: money.MustFactor("14.50")}
		if err := in.Check(); err != nil {
			t.Fatal(err)
		}
		spoil(&in)
		if _, refused := fault.Fields(in.Check())[field]; !refused {
			t.Errorf("%s: %v", field, in.Check())
		}
	}
	if _, found := InoculantFor([]Inoculant{{ForGroup: "C"}}, " c "); !found {
		t.Error("a group is not found by a small letter")
	}
}
