package calc

import (
	"encoding/json"
	"math"
	"testing"
)

// The figures are published ones or worked by hand beside the packages' own tests; here
// they come in and go out under the names that scripts rely on.
func TestMachinesAndMoneyAnswerUnderTheirNames(t *testing.T) {
	for _, c := range []struct{ name, in, want string }{
		{"remaining-value", `{"machine_class":"Farm tractor medium (60-112 kW / 80-150 hp)","age_years":4,"annual_hours":0,"list_price":"1000.00"}`, `{"percent_of_list":55.0564,"value":"550.56"}`},
		{"remaining-value", `{"c1":0.9,"c2":0.1,"c3":0.002,"age_years":9,"annual_hours":400}`, `{"percent_of_list":31.36}`},
		{"repair-cost", `{"rf1":0.007,"rf2":2.0,"list_price":"150000","from_h":0,"to_h":6000}`, `{"accumulated_percent_from":0,"accumulated_percent_to":25.2,"cost":"37800.00"}`},
		{"repair-cost", `{"machine_class":"Tractor 2WD and stationary power unit","list_price":"150000","from_h":5600,"to_h":6000}`, `{"accumulated_percent_from":21.952,"accumulated_percent_to":25.2,"cost":"4872.00"}`},
		{"capital-recovery", `{"purchase_price":"100000","end_value":"20000","years":15,"interest_percent":10}`, `{"factor":0.13147377688737218,"per_year":"12517.90"}`},
		{"capital-recovery", `{"purchase_price":"1000","end_value":"200","years":8,"interest_percent":0}`, `{"factor":0.125,"per_year":"100.00"}`},
		{"field-rate", `{"speed_kmh":5,"width_m":2.6,"efficiency_percent":85}`, `{"ha_per_h":1.105,"h_per_ha":0.904977375565611}`},
		{"field-rate", `{"speed_kmh":6,"row_m":400,"turn_s":25,"rows_per_pass":2}`, `{"row_km_per_h":10.867924528301886,"turn_efficiency_percent":90.56603773584905}`},
		{"field-rate", `{"speed_kmh":6,"row_m":400,"turn_s":240,"rows_per_pass":1,"other_efficiency_percent":80}`, `{"row_km_per_h":2.4,"turn_efficiency_percent":50}`},
		{"machine-hour", `{"purchase_price":"130000","list_price":"150000","keep_years":15,"annual_hours":400,"interest_percent":8,"taxes_insurance_housing_percent":1,
			"remaining":{"percent":23},"repair":{"rf1":0.007,"rf2":2},"meter_h":5600,"fuel":{"pto_kw":100},"fuel_price_per_l":"2.00"}`,
			`{"end_value":"34500.00","capital_recovery_per_year":"13917.22","tih_per_year":"822.50","ownership_per_h":"36.85","repair_per_h":"12.18","fuel_per_h":"44.60","lubrication_per_h":"6.69","labour_per_h":"0.00","total_per_h":"100.32"}`},
		{"machine-hour", `{"purchase_price":"130000","list_price":"150000","age_years":0,"keep_years":15,"annual_hours":400,"interest_percent":8,"taxes_insurance_housing_percent":1,
			"remaining":{"percent":23},"repair":{"machine_class":"Tractor 2WD and stationary power unit"},"meter_h":5600,"fuel":{"l_per_h":30},"fuel_price_per_l":"2.00","fuel_credit_per_l":"0.203",
			"lubrication_percent":10,"labour_per_h":"35","labour_hours_per_machine_hour":1.2}`,
			`{"end_value":"34500.00","capital_recovery_per_year":"13917.22","tih_per_year":"822.50","ownership_per_h":"36.85","repair_per_h":"12.18","fuel_per_h":"53.91","lubrication_per_h":"5.39","labour_per_h":"42.00","total_per_h":"150.33"}`},
		{"variance", `{"planned_quantity":"430","planned_price":"6.9","actual_quantity":"450","actual_price":"6.5"}`, `{"price_variance":"-180.00","quantity_variance":"138.00","total_variance":"-42.00"}`},
		{"variance", `{"planned_quantity":313,"planned_price":"14","actual_quantity":338,"actual_price":"14.0"}`, `{"price_variance":"0.00","quantity_variance":"350.00","total_variance":"350.00"}`},
		{"stock-value", `{"method":"moving-average","events":[{"kind":"in","quantity":"100","unit_cost":"5.5"},{"kind":"out","quantity":20},{"kind":"in","quantity":165,"unit_cost":"5.95"},{"kind":"out","quantity":"180"},{"kind":"in","quantity":"40","unit_cost":"6.25"},{"kind":"out","quantity":"50"}]}`,
			`{"received_value":"1781.75","issued_value":"1453.22","ending_quantity":"55","ending_value":"328.53"}`},
		{"stock-value", `{"method":"by-lot","events":[{"kind":"in","quantity":"4","unit_cost":"2","lot":"A"},{"kind":"in","quantity":"1","unit_cost":"9","lot":"B"},{"kind":"out","quantity":"0.5","lot":"B"}]}`,
			`{"received_value":"17.00","issued_value":"4.50","ending_quantity":"4.5","ending_value":"12.50"}`},
		{"stock-value", `{"method":"by-lot","events":[]}`, `{"received_value":"0.00","issued_value":"0.00","ending_quantity":"0","ending_value":"0.00"}`},
		{"business-number", `{"scheme":"abn","number":"51824753556"}`, `{"valid":true,"formatted":"51 824 753 556"}`},
		{"bill-totals", `{"lines":[{"quantity":"10","unit_price":"12.00","base_quantity":"12","allowance":"1.00","charge":"2.00","tax_category":"S","tax_percent":"10"},{"quantity":"2","unit_price":"0.50","tax_category":"Z","tax_percent":"0"}],
			"allowances":[{"amount":"1.00","tax_category":"S","tax_percent":"10.0"}],"charges":[{"amount":"0.55","tax_category":"Z","tax_percent":"0"}],"prepaid":"5.00","rounding":"-0.03"}`,
			`{"lines":[{"net":"11.00"},{"net":"1.00"}],"sum_of_lines":"12.00","sum_of_allowances":"1.00","sum_of_charges":"0.55","total_excl":"11.55","tax":[{"tax_category":"S","tax_percent":"10","taxable":"10.00","tax":"1.00"},
			{"tax_category":"Z","tax_percent":"0","taxable":"1.55","tax":"0.00"}],"total_tax":"1.00","total_incl":"12.55","prepaid":"5.00","rounding":"-0.03","payable":"7.52"}`},
	} {
		answer, err := ask(t, c.name, c.in, false)
		if err != nil {
			t.Errorf("%s: %s, %v", c.name, answer, err)
			continue
		}
		if !alike(parsed(t, answer), parsed(t, c.want)) {
			t.Errorf("%s:\n%s, want\n%s", c.name, answer, c.want)
		}
	}
}

func parsed(t *testing.T, text string) any {
	t.Helper()
	var v any
	if err := json.Unmarshal([]byte(text), &v); err != nil {
		t.Fatalf("%s: %v", text, err)
	}
	return v
}

// alike compares two JSON values: numbers to twelve digits, everything else exactly.
func alike(a, b any) bool {
	switch a := a.(type) {
	case float64:
		b, ok := b.(float64)
		return ok && math.Abs(a-b) <= 1e-12*math.Max(1, math.Abs(b))
	case []any:
		b, ok := b.([]any)
		for i := range a {
			if !ok || len(a) != len(b) || !alike(a[i], b[i]) {
				return false
			}
		}
		return ok && len(a) == len(b)
	case map[string]any:
		b, ok := b.(map[string]any)
		for key := range a {
			if !ok || !alike(a[key], b[key]) {
				return false
			}
		}
		return ok && len(a) == len(b)
	}
	return a == b
}
