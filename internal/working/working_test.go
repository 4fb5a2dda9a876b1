package working

import (
	"encoding/json"
	"math"
	"testing"
)

func TestStepsKeepTheOrderOfTheWork(t *testing.T) {
	var s Steps
	s = s.Add("placements per km", "1000 ÷ 3 m", Number(1000.0/3, 1), "placements/row-km", "")
	s = s.Add("mix", "333.3 × 45 mL", Number(15, 2), "L/row-km", "measured at the meter")
	if len(s) != 2 || s[0].Step != "placements per km" || s[1].Source != "measured at the meter" {
		t.Fatalf("%+v", s)
	}
	if s[0].Value.String() != "333.3" || s[1].Value.String() != "15.00" {
		t.Errorf("%s and %s", s[0].Value, s[1].Value)
	}
}

// A page shows a value rounded; calc gives it whole.
func TestValuesAreRoundedForShowAlone(t *testing.T) {
	s := Steps(nil).Add("row-km", "from the log", Number(24.000421, 1), "row-km", "").Add("price", "105.00 × 24", Text("2,520.00"), "$", "agreed quote")
	raw, err := json.Marshal(s)
	want := `[{"step":"row-km","formula":"from the log","value":24.000421,"unit":"row-km"},{"step":"price","formula":"105.00 × 24","value":"2,520.00","unit":"$","source":"agreed quote"}]`
	if err != nil || string(raw) != want {
		t.Errorf("%s, %v", raw, err)
	}
	if s[0].Value.String() != "24.0" || s[1].Value.String() != "2,520.00" || Number(1234567, 0).String() == "1234567" {
		t.Errorf("%s, %s", s[0].Value, s[1].Value)
	}
}

func TestAValueThatIsNoNumberIsAnErrorInJSON(t *testing.T) {
	if raw, err := json.Marshal(Number(math.NaN(), 2)); err == nil {
		t.Errorf("written as %s", raw)
	}
}
