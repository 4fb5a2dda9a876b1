package ground

import (
	"maps"
	"math"
	"slices"
	"testing"

	"rowtally/internal/fault"
	"rowtally/internal/unit"
)

func TestAReadingIsRefusedByTheFieldThatIsWrong(t *testing.T) {
	half := 140.1
	far := -136.0
	for _, c := range []struct {
		field string
		spoil func(*Reading)
	}{
		{"kind", func(r *Reading) { r.Kind = "pH" }},
		{"unit", func(r *Reading) { r.Unit = Metres }},
		{"unit", func(r *Reading) { *r = sample(WinterWatertable, 0.5); r.Unit = DeciSiemens }},
		{"texture", func(r *Reading) { *r = sample(EC15, 0.5); r.Texture = "" }},
		{"texture", func(r *Reading) { r.Texture = Clay }},
		{"value", func(r *Reading) { r.Value = -1 }},
		{"value", func(r *Reading) { r.Value = math.NaN() }},
		{"value", func(r *Reading) { r.Value = 3400 }},
		{"value", func(r *Reading) { *r = sample(WinterWatertable, 60) }},
		{"to_cm", func(r *Reading) { r.FromCM, r.ToCM = 50, 25 }},
		{"to_cm", func(r *Reading) { r.FromCM, r.ToCM = 0, 0 }},
		{"to_cm", func(r *Reading) { r.ToCM = math.Inf(1) }},
		{"to_cm", func(r *Reading) { *r = sample(SummerWatertable, 2); r.ToCM = 50 }},
		{"method", func(r *Reading) { r.Method = "" }},
		{"said_by", func(r *Reading) { r.SaidBy = "" }},
		{"taken_on", func(r *Reading) { r.TakenOn = "June" }},
		{"taken_on", func(r *Reading) { r.TakenOn = "2026-13" }},
		{"place", func(r *Reading) { r.Lon = &half }},
		{"place", func(r *Reading) { r.Lat, r.Lon = &far, &half }},
	} {
		r := sample(ECe, 34)
		c.spoil(&r)
		err := r.Check()
		if fields := slices.Collect(maps.Keys(fault.Fields(err))); len(fields) != 1 || fields[0] != c.field {
			t.Errorf("%+v: %v concerns %v, want %s", r, err, fields, c.field)
		}
	}
	for _, kind := range ReadingKinds {
		if err := sample(kind, 1).Check(); err != nil {
			t.Errorf("%s: %v", kind, err)
		}
	}
}

func TestADayOrAMonthIsEnough(t *testing.T) {
	for taken, want := range map[Taken]string{"2026-06-11": "11 Jun 2026", "2026-06": "Jun 2026"} {
		if taken.check() != nil || taken.String() != want {
			t.Errorf("%s is written %q", string(taken), taken)
		}
	}
	const today unit.Date = "2026-07-20"
	for taken, after := range map[Taken]bool{"2026-07": false, "2026-08": true, "2026-07-20": false, "2026-07-21": true, "2025-12": false} {
		if taken.After(today) != after {
			t.Errorf("%s after %s: %v", string(taken), string(today), !after)
		}
	}
}
