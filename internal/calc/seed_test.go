package calc

import (
	"encoding/json"
	"strings"
	"testing"
)

// fieldAt walks an answer: "interval.low_percent", "batches[0].lots[1].grams" as
// "batches.0.lots.1.grams"; nil where there is none.
func fieldAt(answer any, path string) any {
	for _, part := range strings.Split(path, ".") {
		switch v := answer.(type) {
		case map[string]any:
			answer = v[part]
		case []any:
			at, err := json.Number(part).Int64()
			if err != nil || int(at) >= len(v) {
				return nil
			}
			answer = v[at]
		default:
			return nil
		}
	}
	return answer
}

// checkAnswers asks a calculation by its JSON and looks at fields of what comes back. A
// refusal is looked at the same way: "error.field".
func checkAnswers(t *testing.T, name, in string, want map[string]any) {
	t.Helper()
	var out strings.Builder
	_ = Run(name, false, true, strings.NewReader(in), &out)
	var answer any
	if err := json.Unmarshal([]byte(out.String()), &answer); err != nil {
		t.Fatalf("%s: %v in %s", name, err, out.String())
	}
	for path, value := range want {
		if got := fieldAt(answer, path); got != value {
			t.Errorf("%s %s: %s is %v, not %v", name, in, path, got, value)
		}
	}
	if fieldAt(answer, "error") == nil && fieldAt(answer, "working.0.step") == nil {
		t.Errorf("%s %s: no working", name, in)
	}
}

func TestSeedCalculationsAnswerAndRefuse(t *testing.T) {
	for _, c := range []struct {
		name, in string
		want     map[string]any
	}{
		{"germination-test", `{"replicates":[{"seeds":100,"normal":95},{"seeds":100,"normal":78},{"seeds":100,"normal":86},{"seeds":100,"normal":85}]}`,
			map[string]any{"seeds": 400.0, "germination_percent": 86.0, "range_percent": 17.0, "tolerated_range_percent": 14.0, "within_tolerance": false,
				"verdict": "retest: replicates differ by 17, at most 14", "interval.level": 0.95, "interval.method": "clopper-pearson"}},
		{"germination-test", `{"replicates":[{"seeds":50,"normal":20}]}`, map[string]any{"germination_exact_percent": 40.0, "tolerated_range_percent": nil, "within_tolerance": nil}},
		{"germination-test", `{"replicates":[{"seeds":100,"normal":34,"abnormal":3,"dead":61}]}`, map[string]any{"error.kind": "invalid", "error.field": "replicates[0]"}},
		{"germination-test", `{"replicates":[{"seeds":100}]}`, map[string]any{"error.field": "replicates[0].normal"}},
		{"germination-test", `{"replicates":[{"seeds":100,"normal":3.5}]}`, map[string]any{"error.field": "replicates[0].normal"}},
		{"retest-agreement", `{"first_percent":93,"second_percent":87,"seeds":400}`, map[string]any{"mean_percent": 90.0, "difference_percent": 6.0, "tolerance_percent": 6.0, "agree": true}},
		{"binomial-interval", `{"successes":30,"trials":30,"method":"wilson"}`, map[string]any{"high_fraction": 1.0}},
		{"binomial-interval", `{"successes":30,"trials":30}`, map[string]any{"error.field": "method"}},
		{"pure-live-seed", `{"purity_percent":90,"germination_percent":70}`, map[string]any{"pls_percent": 63.0, "bulk_rate": nil}},
		{"pure-live-seed", `{"purity_percent":140,"germination_percent":70}`, map[string]any{"error.field": "purity_percent", "error.message": "purity is 140 %, enter a figure above 0 and up to 100"}},
		{"seed-storage", `{"ke":8,"cw":4,"ch":0.03,"cq":0.0005,"moisture_percent":10,"temperature_c":0}`, map[string]any{"sigma_days": 10_000.0, "half_life_days": nil}},
		{"seed-storage", `{"ke":8,"cw":4,"ch":0.03,"cq":0.0005,"moisture_percent":0,"temperature_c":0}`, map[string]any{"error.field": "moisture_percent"}},
		{"placements-filled", `{"emergence_fraction":0.05,"target_fraction":0.95}`, map[string]any{"live_seeds_needed": 60.0}},
		{"placements-filled", `{"emergence_fraction":0.05,"law":"binomial","target_fraction":0.95}`, map[string]any{"live_seeds_needed": 59.0}},
		{"placements-filled", `{"emergence_fraction":0,"live_seeds":30}`, map[string]any{"filled_fraction": 0.0}},
		{"placements-filled", `{"emergence_fraction":0.05,"live_seeds":30,"fill_percent":60}`, map[string]any{"error.field": "fill_percent"}},
	} {
		checkAnswers(t, c.name, c.in, c.want)
	}
}
