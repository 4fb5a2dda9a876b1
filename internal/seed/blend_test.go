package seed

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"rowtally/internal/money"
)

// anyPart is a lot of one species with one test of four hundred seeds.
func anyPart(t *rapid.T) BlendPart {
	lot := Lot{Code: "L", Species: "Atriplex undulata", Unit: "naked seed", Layer: Shrub, RetestMonths: 12,
		PurityPercent: rapid.Float64Range(40, 100).Draw(t, "purity"), UnitsPerKg: rapid.Float64Range(5_000, 900_000).Draw(t, "units"),
		BulkDensityKgPerL: rapid.Float64Range(0.1, 0.9).Draw(t, "density"),
		CostPerKg:         money.Whole(rapid.Int64Range(1, 300).Draw(t, "cost"))}
	return BlendPart{Lot: lot, Source: Source{Grams: rapid.Int64Range(100, 90_000).Draw(t, "grams")},
		Tests: []Test{counted("2026-02-10", rapid.IntRange(4, 396).Draw(t, "normal"), 400)}}
}

// Pouring lots together makes and loses nothing: live seed, pure seed, litres and cost of
// the parts are those of the blend.
func TestABlendHoldsWhatItsPartsHold(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		parts := []BlendPart{anyPart(t), anyPart(t), anyPart(t)}
		blend, err := Blend(parts)
		test, ok := BlendTest(parts, "2026-07-20")
		if err != nil || !ok {
			t.Fatalf("no blend: %v", err)
		}
		g, err := JudgeGermination(GerminationCounts{Replicates: test.Replicates})
		if err != nil {
			t.Fatal(err)
		}
		var kg, pure, live, litres, cost float64
		for _, p := range parts {
			part, _ := JudgeGermination(GerminationCounts{Replicates: p.Tests[0].Replicates})
			w := float64(p.Source.Grams) / 1000
			kg += w
			pure += w * p.Lot.PurityPercent / 100
			live += w * p.Lot.PurityPercent / 100 * p.Lot.UnitsPerKg * part.GerminationExactPercent / 100
			litres += w / p.Lot.BulkDensityKgPerL
			cost += w * p.Lot.CostPerKg.Float()
		}
		same := func(what string, got, want, off float64) {
			if !(math.Abs(got-want) <= off*want) {
				t.Fatalf("%s of the blend is %v, of its parts %v", what, got, want)
			}
		}
		same("pure seed", kg*blend.PurityPercent/100, pure, 1e-12)
		same("litres", kg/blend.BulkDensityKgPerL, litres, 1e-12)
		same("cost", kg*blend.CostPerKg.Float(), cost, 1e-4)
		units := kg * blend.PurityPercent / 100 * blend.UnitsPerKg
		if got := units * g.GerminationExactPercent / 100; !(math.Abs(got-live) <= 0.003*units) {
			t.Fatalf("%v live seeds of %v units, the parts hold %v", got, units, live)
		}
		if g.Seeds < 1 || g.Seeds > 1200 {
			t.Fatalf("the blend's test stands for %d seeds, its parts counted 1200", g.Seeds)
		}
	})
}

// A lot blended with more of itself is the same lot, and its test is worth both tests.
func TestALotBlendedWithItselfStaysItself(t *testing.T) {
	hard := 12
	lot := Lot{Code: "U26-03", Species: "Trifolium michelianum", PurityPercent: 98, UnitsPerKg: 1_111_111, CountHard: true, RetestMonths: 12, InertPercent: new(2.0), OtherSeedPercent: new(0.0)}
	tests := []Test{{TestedOn: "2026-02-03", Replicates: []Replicate{{Seeds: 100, Normal: 74, Hard: &hard, Dead: new(14)}}}}
	part := BlendPart{Lot: lot, Tests: tests, Source: Source{Grams: 500}}
	got, err := Blend([]BlendPart{part, part})
	if err != nil || math.Abs(got.PurityPercent-98) > 1e-9 || math.Abs(got.UnitsPerKg-1_111_111) > 1e-3 || *got.InertPercent != 2 || *got.OtherSeedPercent != 0 {
		t.Errorf("%+v, %v", got, err)
	}
	test, ok := BlendTest([]BlendPart{part, part}, "2026-07-20")
	if !ok || len(test.Replicates) != 1 {
		t.Fatalf("%+v", test)
	}
	r := test.Replicates[0]
	if r.Seeds < 180 || r.Seeds > 200 || math.Abs(float64(r.Normal)/float64(r.Seeds)-0.74) > 1e-3 || math.Abs(float64(*r.Hard)/float64(r.Seeds)-0.12) > 0.005 {
		t.Errorf("%+v, hard %d", r, *r.Hard)
	}
	if err := checkReplicates(test.Replicates); err != nil {
		t.Error(err)
	}
	if _, ok := BlendTest([]BlendPart{part, {Lot: lot, Source: Source{Grams: 1}}}, "2026-07-20"); ok {
		t.Error("a blend with a part never tested has a test")
	}
}

func TestDocumentsAreToldByTheirBytes(t *testing.T) {
	for want, content := range map[string]string{PDF: "%PDF-1.4", JPEG: "\xff\xd8\xff\xe0..", PNG: "\x89PNG\r\n\x1a\n.."} {
		if got, err := DocumentTypeOf([]byte(content)); got != want || err != nil {
			t.Errorf("%q is told as %q, %v", content, got, err)
		}
	}
	for _, bad := range []string{"", "GIF89a", "<svg>", " %PDF-1.4", "PK\x03\x04"} {
		_, err := DocumentTypeOf([]byte(bad))
		refusedFor(t, "file", err)
	}
}
