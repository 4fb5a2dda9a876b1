package rows

import (
	"encoding/json"
	"testing"

	"rowtally/internal/fault"
)

// No input of JSON makes the layout panic; what it refuses is a refusal, and what it
// lays out adds up.
func FuzzLay(f *testing.F) {
	f.Add([]byte(`{"boundary_m":[[[0,0],[100,0],[100,50],[0,50]]],"no_go":[[[[10,10],[20,10],[10,20]]]],"headland_m":2,"rows_per_belt":2,"row_gap_m":2,"alley_m":9,"placement_spacing_m":3}`))
	f.Add([]byte(`{"boundary":{"type":"Polygon","coordinates":[[[140,-36],[140.01,-36],[140.01,-36.01],[140,-36]]]},"no_go":[{"type":"Point","coordinates":[140,-36]}],"headland_m":5,"bearing_deg":33,"rows_per_belt":1,"alley_m":9,"placement_spacing_m":3}`))
	f.Add([]byte(`{"boundary_m":[[[0,0],[0,0],[0,1e-300]],[]],"no_go":[[],{}],"rows_per_belt":1,"alley_m":0.1,"placement_spacing_m":3}`))
	f.Fuzz(func(t *testing.T, raw []byte) {
		var in Input
		if json.Unmarshal(raw, &in) != nil {
			return
		}
		p, err := Lay(in)
		if err != nil {
			if fault.KindOf(err) != fault.Refused {
				t.Errorf("%v is no refusal", err)
			}
			return
		}
		if !(p.RowM >= 0 && p.DrivenM <= p.RowM*(1+1e-9)+1e-6 && p.SpanCount >= p.RowCount && p.RowCount >= p.BeltCount) {
			t.Errorf("%+v", p.Totals)
		}
	})
}
