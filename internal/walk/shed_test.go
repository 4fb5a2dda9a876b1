package walk

import (
	"fmt"
	"testing"
)

func (w *walk) addLots() {
	for _, l := range w.lots {
		w.addLot(l)
		w.addTest(l)
	}
}

func (w *walk) addLot(l lot) {
	b := w.contractor
	b.press("Shed")
	b.press("A new seed lot")
	b.fill("Lot code", l.code, "Botanical name", l.species, "Common name", l.common, "Form", l.form,
		"Purity", l.purityPercent, "What the germination test counted", l.unit, "Weight of 1000 units", l.thousandG,
		"Bulk density", l.bulkKgPerL, "Weight received", l.firstKg, "Cost of a kg, landed", l.costPerKg, "Received on", day(w.t, -90))
	if l.countHard {
		b.choose("Hard seed counts as live", "yes: hard seed counts as live")
	}
	if l.code == w.lots[0].code {
		w.badPurities(l)
	}
	b.press("Keep the lot")
	b.headed(l.code + ", " + l.common)
	b.says("Never tested")
}

// addTest enters a germination test; what the page makes of it is what calc does.
func (w *walk) addTest(l lot) {
	b := w.contractor
	b.press("A new test")
	b.fill("Finished on", day(w.t, -60), "Laboratory", "Example Seed Laboratory", "Certificate or report number", "R "+l.code)
	if l.code == w.lots[0].code {
		w.badCounts()
	}
	for i, counts := range l.replicates {
		for k, column := range []string{"seeds", "normal", "abnormal", "hard", "fresh", "dead"} {
			b.typeIn(fmt.Sprintf("%s of replicate %d", column, i+1), counts[k])
		}
	}
	b.press("Keep the test")
	g := l.germination(w.t)
	b.says("Germination test kept.", fmt.Sprintf("Germination %d %%, 95 %% interval %s to %s %%", g.Percent, fixed(g.Interval.Low, 1), fixed(g.Interval.High, 1)),
		fmt.Sprintf("%s %% of %d seeds", fixed(g.LivePercent, 1), g.Seeds))
	b.shows(fixed(l.livePerKg(w.t)/1000, 1)+" live per g", fixed(l.pls(w.t), 1)+" % pure live seed")
}

// germination is what calc makes of a lot's test.
type germination struct {
	Seeds       int     `json:"seeds"`
	Percent     int     `json:"germination_percent"`
	Exact       float64 `json:"germination_exact_percent"`
	LivePercent float64 `json:"live_percent"`
	Interval    struct {
		Low  float64 `json:"low_percent"`
		High float64 `json:"high_percent"`
	} `json:"interval"`
}

func (l lot) germination(t *testing.T) germination {
	t.Helper()
	var replicates []map[string]int
	for _, counts := range l.replicates {
		one := map[string]int{}
		for k, column := range []string{"seeds", "normal", "abnormal", "hard", "fresh", "dead"} {
			if counts[k] != "" {
				one[column] = int(amount(t, counts[k]))
			}
		}
		replicates = append(replicates, one)
	}
	return calc[germination](t, "germination-test", map[string]any{"replicates": replicates})
}

// hardPercent is the share of hard seeds that a lot's test counted.
func (l lot) hardPercent(t *testing.T) float64 {
	hard, seeds := 0.0, 0.0
	for _, counts := range l.replicates {
		seeds += amount(t, counts[0])
		if counts[3] != "" {
			hard += amount(t, counts[3])
		}
	}
	return 100 * hard / seeds
}

// pls is the pure live seed of calc, in %.
func (l lot) pls(t *testing.T) float64 {
	t.Helper()
	in := map[string]any{"purity_percent": amount(t, l.purityPercent), "germination_percent": l.germination(t).Exact}
	if l.countHard {
		in["hard_percent"] = l.hardPercent(t)
	}
	return calc[struct {
		Percent float64 `json:"pls_percent"`
	}](t, "pure-live-seed", in).Percent
}

// livePerKg is by hand: units per kg × purity × what the test counted as live.
func (l lot) livePerKg(t *testing.T) float64 {
	t.Helper()
	live := 0.0
	seeds := 0.0
	for _, counts := range l.replicates {
		seeds += amount(t, counts[0])
		live += amount(t, counts[1])
		if l.countHard && counts[3] != "" {
			live += amount(t, counts[3])
		}
	}
	return 1e6 / amount(t, l.thousandG) * amount(t, l.purityPercent) / 100 * live / seeds
}

// inMix is the lot as calc's mix takes it, with what was first received of it.
func (l lot) inMix(t *testing.T) map[string]any {
	t.Helper()
	in := map[string]any{
		"code": l.code, "purity_percent": amount(t, l.purityPercent), "germination_percent": l.germination(t).Exact,
		"hard_percent": l.hardPercent(t), "count_hard": l.countHard, "units_per_kg": 1e6 / amount(t, l.thousandG),
		"available_kg": amount(t, l.firstKg),
	}
	if l.bulkKgPerL != "" {
		in["bulk_density_kg_per_l"] = amount(t, l.bulkKgPerL)
	}
	return in
}

func (w *walk) addMedium() {
	b, m := w.contractor, w.medium
	b.press("Shed")
	b.press("A new medium")
	b.fill("Product", m.name, "Bulk density", m.densityKgPerM3, "A bag holds", m.bagL, "Cost of a bag", m.costPerBag,
		"Charged for a litre placed", m.chargePerL, "Volume received", m.firstL)
	b.press("Keep the medium")
	b.shows(fixed(amount(w.t, m.firstL), 1)+" L free", fixed(amount(w.t, m.firstL)/amount(w.t, m.bagL), 1)+" bags")
}

const machineName = "tractor and seeder"

func (w *walk) addMachine() {
	b := w.contractor
	b.press("Machines")
	b.press("A new machine")
	b.fill("Name", machineName, "Rows at once", w.layout.rowsPerBelt, "Hoppers hold, usable", w.mix.tubL,
		"Service due at", "1300", "Meter stands at", "1200.5")
	b.press("Keep the machine")
	b.shows("1200.5 h on the meter")
	b.says("1300.0 h service due")
}

// receive takes more of a lot or medium into the shed.
func (w *walk) receive(name, quantity string) {
	if quantity == "" {
		return
	}
	b := w.contractor
	b.press("Shed")
	b.press(name)
	b.press("Receive, write off, count")
	b.typeIn("How much", quantity)
	b.press("Keep it")
	b.says("Kept.")
}

// stock is what the shed page says of a lot, in kg, or of a medium, in L.
type stock struct{ onHand, held, free float64 }

// stock reads a line of the shed page, which is open.
func (b *browser) stock(t *testing.T, name, unit string) stock {
	t.Helper()
	cells := b.row(name)
	return stock{amount(t, cells["on hand "+unit]), amount(t, cells["held back "+unit]), amount(t, cells["free "+unit])}
}
