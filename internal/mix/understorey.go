package mix

import (
	"cmp"
	"errors"
	"fmt"

	"rowtally/internal/fault"
	"rowtally/internal/money"
	"rowtally/internal/unit"
	"rowtally/internal/working"
)

// Understorey asks for the seed to sow over the alleys. It is sown by area, with no
// medium: AreaHa is what is sown, net of rows, headlands and no-go areas, above 0.
type Understorey struct {
	AreaHa  float64              `json:"area_ha"`
	AreaIs  string               `json:"area_is,omitempty"` // which hectares, in words; those net of rows, headlands and no-go areas when left out
	Species []UnderstoreySpecies `json:"species"`
}

// UnderstoreySpecies is one species of the understorey. The rate, in kg/ha above 0, is
// one of pure live seed where RateIsLive, else one of seed as bagged.
type UnderstoreySpecies struct {
	Name        string  `json:"name"`
	RateKgPerHa float64 `json:"rate_kg_per_ha"`
	RateIsLive  bool    `json:"rate_is_live"`
	Lots        []Draw  `json:"lots"` // shares are of the rate

	InoculantGPerKg float64 `json:"inoculant_g_per_kg,omitempty"` // to a kg of seed as bagged, 0 to 1000
}

// UnderstoreySeed is the seed to take from the shed.
type UnderstoreySeed struct {
	KgPerHa float64                `json:"kg_per_ha"` // as bagged, all species
	Kg      float64                `json:"kg"`
	Cost    *money.Cents           `json:"cost"` // of the lots that have a cost; nil where none has
	Species []UnderstoreySpeciesKg `json:"species"`

	of Understorey
}

// UnderstoreySpeciesKg is the seed of one species.
type UnderstoreySpeciesKg struct {
	Name string             `json:"name"`
	Lots []UnderstoreyLotKg `json:"lots"`

	Kg         float64 `json:"kg"` // of all lots
	InoculantG float64 `json:"inoculant_g,omitempty"`
}

// UnderstoreyLotKg is the seed of one lot, as bagged.
type UnderstoreyLotKg struct {
	Code        string       `json:"code"`
	PLSPercent  float64      `json:"pls_percent"`
	LiveKgPerHa float64      `json:"live_kg_per_ha"`
	KgPerHa     float64      `json:"kg_per_ha"`
	Kg          float64      `json:"kg"`
	Cost        *money.Cents `json:"cost"` // of the kg to the gram; nil without a cost per kg
	ShortKg     float64      `json:"short_kg"`
}

const mostAreaHa = 100_000

// MakeUpUnderstorey works out the seed of an understorey, lot by lot.
func MakeUpUnderstorey(u Understorey) (UnderstoreySeed, error) {
	if err := u.check(); err != nil {
		return UnderstoreySeed{}, err
	}
	out := UnderstoreySeed{of: u}
	for k, s := range u.Species {
		one := UnderstoreySpeciesKg{Name: s.Name}
		for i, share := range shares(s.Lots) {
			lot := s.lot(s.Lots[i], share, u.AreaHa)
			if !(lot.Kg <= mostKg) {
				return UnderstoreySeed{}, fault.Refuse(fmt.Sprintf("species[%d].lots[%d].germination_percent", k, i), "lot %s would take over %d kg: choose a lot with more live seed", lot.Code, mostKg)
			}
			lot.Cost = costOf(money.FactorOf(lot.Kg, 3), s.Lots[i].CostPerKg)
			one.Lots = append(one.Lots, lot)
			one.Kg += lot.Kg
			out.KgPerHa += lot.KgPerHa
			out.Kg += lot.Kg
			out.Cost = plus(out.Cost, lot.Cost)
		}
		one.InoculantG = one.Kg * s.InoculantGPerKg
		out.Species = append(out.Species, one)
	}
	return out, nil
}

func (s UnderstoreySpecies) lot(d Draw, share, areaHa float64) UnderstoreyLotKg {
	live := d.LiveFraction()
	out := UnderstoreyLotKg{Code: d.Code, PLSPercent: 100 * live, KgPerHa: s.RateKgPerHa * share}
	if s.RateIsLive {
		out.KgPerHa /= live
	}
	out.LiveKgPerHa = out.KgPerHa * live
	out.Kg = out.KgPerHa * areaHa
	if d.AvailableKg != nil {
		out.ShortKg = max(0, out.Kg-*d.AvailableKg)
	}
	return out
}

func (u Understorey) check() error {
	errs := []error{above("area_ha", "the area, in hectares,", u.AreaHa, mostAreaHa)}
	if n := len(u.Species); n < 1 || n > mostSpecies {
		errs = append(errs, fault.Refuse("species", "there are %d species, enter from 1 to %d", n, mostSpecies))
	}
	for i, s := range u.Species {
		errs = append(errs, fault.Under(fmt.Sprintf("species[%d]", i), s.check()))
	}
	return errors.Join(errs...)
}

func (s UnderstoreySpecies) check() error {
	const mostKgPerHa = 1000
	errs := []error{above("rate_kg_per_ha", "the rate, in kg/ha,", s.RateKgPerHa, mostKgPerHa),
		between("inoculant_g_per_kg", "the inoculant, in g per kg of seed,", s.InoculantGPerKg, 0, 1000), checkShares(s.Name, s.Lots)}
	if n := len(s.Lots); n < 1 || n > mostLots {
		errs = append(errs, fault.Refuse("lots", "there are %d lots of %s, enter from 1 to %d", n, s.Name, mostLots))
	}
	for i, d := range s.Lots {
		errs = append(errs, fault.Under(fmt.Sprintf("lots[%d]", i), d.check()))
	}
	return errors.Join(errs...)
}

// Working shows the seed as bagged, lot by lot.
func (s UnderstoreySeed) Working() working.Steps {
	steps := working.Steps{}.Add("area", cmp.Or(s.of.AreaIs, "net of rows, headlands and no-go areas"), working.Number(s.of.AreaHa, 2), "ha", "")
	for i, species := range s.Species {
		asked := s.of.Species[i]
		formula := "rate x share"
		if asked.RateIsLive {
			formula = "live rate x share / pure live seed"
		}
		for k, l := range species.Lots {
			live := "purity x germination"
			if asked.Lots[k].CountHard {
				live = "purity x (germination + hard)"
			}
			steps = steps.
				Add(l.Code+", pure live seed", live, working.Number(l.PLSPercent, 1), "%", "").
				Add(l.Code+", as bagged", formula, working.Number(l.KgPerHa, 3), "kg/ha", "").
				Add(l.Code+", in all", "kg/ha x area", working.Number(l.Kg, 2), "kg", "")
		}
		if species.InoculantG > 0 {
			steps = steps.Add(species.Name+", inoculant", fmt.Sprintf("kg x %s g per kg", unit.Plain(asked.InoculantGPerKg)), working.Number(species.InoculantG, 0), "g", "its label")
		}
	}
	return steps
}
