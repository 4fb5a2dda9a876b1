package calc

import (
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"testing"
)

const sownPlan = `{"boundary":{"type":"Polygon","coordinates":[[[140.1,-36.4],[140.1045,-36.4],[140.1045,-36.3964],[140.1,-36.3964],[140.1,-36.4]]]},` +
	`"headland_m":20,"phase_m":25,"bearing_deg":0,"rows_per_belt":1,"alley_m":8,"placement_spacing_m":3,"rows":true}`

type end struct{ Lat, Lon float64 }

// laidRows are the rows that row-plan answers, end to end.
func laidRows(t *testing.T) (rows [][2]end, rowM float64) {
	t.Helper()
	answer, err := ask(t, "row-plan", sownPlan, false)
	if err != nil {
		t.Fatal(err, answer)
	}
	var got struct {
		RowM float64 `json:"row_m"`
		Rows []struct{ Spans []struct{ From, To end } }
	}
	if err := json.Unmarshal([]byte(answer), &got); err != nil {
		t.Fatal(err)
	}
	for _, row := range got.Rows {
		rows = append(rows, [2]end{row.Spans[0].From, row.Spans[0].To})
	}
	return rows, got.RowM
}

// drove logs the way from a share of a row to another, 1.8 m a second.
func drove(row [2]end, from, to float64, second *int) string {
	text, steps := "", int(math.Abs(to-from)*200)
	for i := range steps + 1 {
		f := from + (to-from)*float64(i)/float64(steps)
		text += fmt.Sprintf(`2026-07-20T%02d:%02d:%02dZ,%.9f,%.9f,1\n`, *second/3600, *second/60%60, *second%60,
			row[0].Lat+f*(row[1].Lat-row[0].Lat), row[0].Lon+f*(row[1].Lon-row[0].Lon))
		*second++
	}
	*second += 20
	return text
}

// TestSownOnTheRowsThatThePlanAnswers drives the first row, half of the second, the third
// with an overrun and the fourth twice, and leaves the rest.
func TestSownOnTheRowsThatThePlanAnswers(t *testing.T) {
	rows, rowM := laidRows(t)
	lengthM := rowM / float64(len(rows))
	second := 0
	text := `time,lat,lon,sowing\n` + drove(rows[0], 0, 1, &second) + drove(rows[1], 1, 0.5, &second) + drove(rows[2], 0, 1.05, &second) +
		drove(rows[3], 1, 0, &second) + drove(rows[3], 0, 1, &second)
	answer, err := ask(t, "sown", `{"log":{"format":"csv","text":"`+text+`"},"plan":`+sownPlan+`}`, true)
	if err != nil {
		t.Fatal(err, answer)
	}
	var got map[string]any
	if err := json.Unmarshal([]byte(answer), &got); err != nil {
		t.Fatal(err)
	}
	for field, want := range map[string]float64{
		"planned_m": rowM, "covered_m": 3.5 * lengthM, "missed_m": rowM - 3.5*lengthM, "doubled_m": lengthM, "overrun_m": 0.05 * lengthM,
		"unplanned_m": 0, "sown_m": 4.55 * lengthM, "passes": 5,
	} {
		if v, ok := got[field].(float64); !ok || math.Abs(v-want) > 0.1 {
			t.Errorf("%s is %v, not %.2f", field, got[field], want)
		}
	}
	if got["planned_m"] != rowM {
		t.Errorf("planned_m is %v, row-plan's row_m %v", got["planned_m"], rowM)
	}
	if steps, ok := got["working"].([]any); !ok || len(steps) < 8 {
		t.Errorf("working: %v", got["working"])
	}
}

func TestSownRefusesByTheFieldsPath(t *testing.T) {
	log := `"log":{"format":"csv","text":"lat,lon\n-36.399,140.101\n"}`
	for in, field := range map[string]string{
		`{"plan":` + sownPlan + `}`: "log",
		`{` + log + `,"plan":` + strings.Replace(sownPlan, `"alley_m":8`, `"alley_m":0`, 1) + `}`: "plan.alley_m",
		`{` + strings.Replace(log, "csv", "kml", 1) + `,"plan":` + sownPlan + `}`:                 "log.format",
		`{` + strings.Replace(log, "lat,lon", "x,y", 1) + `,"plan":` + sownPlan + `}`:             "log.text",
		`{` + strings.Replace(log, "-36.399", "-36.199", 1) + `,"plan":` + sownPlan + `}`:         "log",
		`{` + log + `,"plan":` + sownPlan + `,"implement":{"rows":2}}`:                            "implement.row_gap_m",
		`{` + log + `,"plan":` + sownPlan + `,"implement":{"rows":2,"row_gap_m":2,"width_m":3}}`:  "implement.width_m",
		`{` + log + `,"plan":` + sownPlan + `,"tolerances":{"bridge_m":-1}}`:                      "tolerances.bridge_m",
		`{` + log + `,"plan":{"boundary_m":[[[0,0],[300,0],[300,300],[0,300],[0,0]]],"headland_m":20,` +
			`"bearing_deg":0,"rows_per_belt":1,"alley_m":8,"placement_spacing_m":3}}`: "plan.boundary_m",
	} {
		answer, err := ask(t, "sown", in, false)
		if got := refusedField(t, answer, err); got != field {
			t.Errorf("%.120s… refuses %q, want %q: %s", in, got, field, answer)
		}
	}
}
