package calc

import (
	"strings"
	"testing"
)

const mixInput = `{"row_km":34.9,"placement_spacing_m":3,"placement_volume_ml":45,"tub_l":160,
	"medium":{"bulk_density_kg_per_m3":90,"bag_l":100,"cost_per_bag":"38.00"},
	"species":[
		{"name":"A","emergence_fraction":0.05,"live_seeds_per_placement":30,"lots":[{"code":"A1","purity_percent":92,"germination_percent":34,"units_per_kg":83333.333,"cost_per_kg":"48"}]},
		{"name":"B","emergence_fraction":0.05,"live_seeds_per_placement":20,"lots":[{"code":"B1","purity_percent":95,"germination_percent":51,"units_per_kg":476190.476,"cost_per_kg":"65","available_kg":0}]}]}`

func TestMixAnswers(t *testing.T) {
	checkAnswers(t, "mix", mixInput, map[string]any{
		"mix_l_per_km": 15.0, "mix_l": 523.5, "medium_l": 523.5, "medium_bags": 6.0, "seed_l": 0.0,
		"species.0.lots.0.cost": "642.67", "species.1.lots.0.cost": "65.52", "medium_cost": "228.00", "cost": "936.19",
		"species.0.lots.0.short_kg": 0.0,
		"batches.0.number":          1.0, "batches.0.mix_l": 160.0, "batches.3.mix_l": 43.5,
		"batches.0.lots.0.code": "A1", "batches.0.lots.0.grams": 4092.0, "batches.0.lots.1.grams": 308.0,
	})
}

func TestMixRefusesByTheFieldsPath(t *testing.T) {
	for _, c := range []struct{ from, to, field string }{
		{`"germination_percent":51`, `"germination_percent":0`, "species[1].lots[0].germination_percent"},
		{`"purity_percent":95`, `"purity_percent":140`, "species[1].lots[0].purity_percent"},
		{`"cost_per_kg":"65"`, `"cost_per_kg":65`, "species[1].lots[0].cost_per_kg"},
		{`"units_per_kg":476190.476`, `"fill_percent":60`, "species[1].lots[0].fill_percent"},
		{`"units_per_kg":476190.476,`, ``, "species[1].lots[0].units_per_kg"},
		{`"bulk_density_kg_per_m3":90`, `"bulk_density_kg_per_m3":0`, "medium.bulk_density_kg_per_m3"},
		{`"row_km":34.9`, `"row_km":1e9`, "row_km"},
		{`"tub_l":160`, `"tub_l":0.01`, "tub_l"},
	} {
		in := strings.Replace(mixInput, c.from, c.to, 1)
		if in == mixInput {
			t.Fatalf("%s is not in the input", c.from)
		}
		checkAnswers(t, "mix", in, map[string]any{"error.kind": "invalid", "error.field": c.field})
	}
}

func TestCatchTestAnswers(t *testing.T) {
	checkAnswers(t, "catch-test", `{"caught_ml":928,"run_m":48,"placement_spacing_m":3,"intended_placement_volume_ml":45,"tub_l":174,"live_seeds_per_placement":50}`,
		map[string]any{"placement_volume_ml": 58.0, "within_tolerance": false, "placements_per_tub": 3000.0, "row_km_per_tub": 9.0, "live_seeds_per_tub": 150_000.0})
	checkAnswers(t, "catch-test", `{"caught_ml":0,"run_m":48,"placement_spacing_m":3,"intended_placement_volume_ml":45,"tub_l":160}`, map[string]any{"error.field": "caught_ml"})
}
