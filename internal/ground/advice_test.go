package ground

import (
	"strings"
	"testing"
)

// fitness of figures inside the spans of a row of the published table for saltbush.
func TestSaltbushIsJudgedAsPublished(t *testing.T) {
	kinds := map[string]ReadingKind{
		"Winter watertable best": WinterWatertable, "Summer watertable best": SummerWatertable, "Subsoil (25-50 cm) ECe best": ECe,
	}
	seen := 0
	for _, row := range classesOf(t, "C-saltbush site suitability") {
		kind, known := kinds[row.Text("class_or_item")]
		if !known {
			t.Fatalf("%s is not checked", row.Name)
		}
		seen++
		for _, v := range within(row.Number("value_min"), row.Number("value_max"), 0.001) {
			if got := sample(kind, v).Find().Shrubs; got != Best {
				t.Errorf("%s: %v is %v, published best", row.Name, v, got)
			}
		}
	}
	if seen != 3 {
		t.Errorf("%d rows", seen)
	}
	for _, c := range []struct {
		kind  ReadingKind
		value float64
		want  Fitness
	}{ // the rows' remarks: "moderate 2-8; poor >16", "moderate 1.0-1.5; poor <1.0", "poor if shallower than 0.3"
		{ECe, 1, NotTold}, {ECe, 2.1, Moderate}, {ECe, 7.9, Moderate}, {ECe, 16.1, Poor}, {ECe, 32, Poor}, {ECe, 32.1, No}, {ECe, 34, No},
		{SummerWatertable, 1.2, Moderate}, {SummerWatertable, 0.9, Poor}, {SummerWatertable, 2.5, Best}, {SummerWatertable, 3, NotTold},
		{WinterWatertable, 0.2, No}, {WinterWatertable, 0.299, No}, {WinterWatertable, 0.3, Best}, {WinterWatertable, 0.7, Best}, {WinterWatertable, 0.9, Moderate},
		{EM38, 500, NotTold}, {EC15, 3, No}, {EC15, 2.9, Poor}, {EC15, 1, Best},
	} {
		if got := sample(c.kind, c.value).Find(); got.Shrubs != c.want || got.Says == "" || got.Shrubs != NotTold && got.Source == "" {
			t.Errorf("%s %v: %v, want %v (%q, %q)", c.kind, c.value, got.Shrubs, c.want, got.Says, got.Source)
		}
	}
}

// The figures that the alleys' sentences name are the published ones.
func TestAlleysNameThePublishedFigures(t *testing.T) {
	all := ""
	for _, v := range []float64{3, 10, 20, 40} {
		all += sample(ECe, v).Find().Alley + "\n"
	}
	for _, row := range classesOf(t, "E-understorey") {
		name := strings.ToLower(strings.Fields(row.Text("class_or_item"))[0])
		if !strings.Contains(all, name) {
			t.Errorf("%s: %s is not named", row.Name, name)
		}
	}
	for _, figure := range []string{"up to about 8 dS/m", "below 5 dS/m in the top 10 cm", "6–8 to 40 dS/m in summer", "350 mm"} {
		if !strings.Contains(all, figure) {
			t.Errorf("%q is not said", figure)
		}
	}
}

func TestOnlyTheSubsoilIsJudged(t *testing.T) {
	top := sample(ECe, 60)
	top.FromCM, top.ToCM = 0, 10
	if f := top.Find(); f.Shrubs != NotTold || !strings.Contains(f.Says, "not the depth") || len(f.Classes) != 2 {
		t.Errorf("the top 10 cm: %+v", f)
	}
	deep := sample(ECe, 60)
	deep.FromCM, deep.ToCM = 40, 60
	if f := deep.Find(); f.Shrubs != No {
		t.Errorf("40 to 60 cm overlaps the subsoil: %v", f.Shrubs)
	}
}

func TestTheAnswerIsNoWhereSaltOrWaterRulesShrubsOut(t *testing.T) {
	withdrawn := sample(ECe, 10)
	withdrawn.WithdrawnOn, withdrawn.WithdrawnWhy = "2026-06-12", "wrong paddock"
	for says, c := range map[string]struct {
		readings []Reading
		want     Fitness
		parts    bool
	}{
		"salt and water":              {[]Reading{sample(ECe, 34), sample(WinterWatertable, 0.2)}, No, false},
		"salt alone":                  {[]Reading{sample(ECe, 34), sample(WinterWatertable, 0.5)}, No, false},
		"water alone":                 {[]Reading{sample(ECe, 10), sample(WinterWatertable, 0.2)}, No, false},
		"part of the paddock":         {[]Reading{sample(ECe, 34), sample(ECe, 10)}, Poor, true},
		"a withdrawn one":             {[]Reading{sample(ECe, 34), withdrawn}, No, false},
		"the worst counts":            {[]Reading{sample(ECe, 10), sample(WinterWatertable, 0.9)}, Moderate, false},
		"best":                        {[]Reading{sample(ECe, 10), sample(WinterWatertable, 0.5), sample(SummerWatertable, 2)}, Best, false},
		"a meter decides nothing":     {[]Reading{sample(EM38, 900)}, NotTold, false},
		"nothing":                     {nil, NotTold, false},
		"water no, summer water fine": {[]Reading{sample(WinterWatertable, 0.1), sample(SummerWatertable, 2)}, No, false},
	} {
		if got := Advise(c.readings); got.Shrubs != c.want || got.Parts != c.parts {
			t.Errorf("%s: %v, parts %v; want %v, %v", says, got.Shrubs, got.Parts, c.want, c.parts)
		}
	}
}

func TestTheReasonNamesFigureDepthMonthAndScheme(t *testing.T) {
	a := Advise([]Reading{sample(ECe, 34), sample(WinterWatertable, 0.2)})
	for _, part := range []string{"ECe 34 dS/m at 25–50 cm, Jun 2026", "extreme salinity, above 32 dS/m by Barrett-Lennard, Bennett & Colmer 2008", "winter watertable 0.2 m, Jun 2026", "shallower than 0.3 m"} {
		if !strings.Contains(a.Why(), part) {
			t.Errorf("%q lacks %q", a.Why(), part)
		}
	}
	if steps := a.Working(); len(steps) != 4 || steps[0].Source != SaltlandScheme.Source || steps[1].Source != RevegetationScheme.Source {
		t.Errorf("%+v", steps)
	}
}
