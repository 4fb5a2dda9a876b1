package calc

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"
	"testing"

	"rowtally/internal/fault"
)

// ask runs a calculation on one object and returns the answer and Run's error.
func ask(t testing.TB, name, in string, showWorking bool) (string, error) {
	t.Helper()
	var out bytes.Buffer
	err := Run(name, false, showWorking, strings.NewReader(in), &out)
	if text := out.String(); text != "" && (!strings.HasSuffix(text, "\n") || strings.Count(text, "\n") != 1) {
		t.Fatalf("the answer is not one line: %q", text)
	}
	return strings.TrimSuffix(out.String(), "\n"), err
}

// refusedField is the field that a refusal names; the test fails when it was answered.
func refusedField(t testing.TB, answer string, err error) string {
	t.Helper()
	var got struct {
		Error *struct{ Kind, Field, Message string }
	}
	if !errors.Is(err, ErrRefused) || json.Unmarshal([]byte(answer), &got) != nil || got.Error == nil {
		t.Fatalf("not refused: %s, %v", answer, err)
	}
	if got.Error.Kind != "invalid" || got.Error.Message == "" {
		t.Fatalf("a refusal without its kind or sentence: %s", answer)
	}
	return got.Error.Field
}

const oneLine = `{"quantity":"1","unit_price":"3874.65","tax_category":"S","tax_percent":"10"}`

func TestAnObjectIsAnswered(t *testing.T) {
	answer, err := ask(t, "bill-totals", `{"lines":[`+oneLine+`]}`, false)
	if err != nil || !strings.Contains(answer, `"total_tax":"387.47"`) {
		t.Errorf("%s, %v", answer, err)
	}
}

func TestWrongInputIsRefusedNamingTheField(t *testing.T) {
	lines := func(line string) string { return `{"lines":[` + oneLine + `,` + line + `]}` }
	for name, c := range map[string]struct{ calculation, in, field string }{
		"unknown field":         {"bill-totals", `{"lines":[` + oneLine + `],"discount":"5"}`, "discount"},
		"unknown field, inside": {"bill-totals", lines(`{"qty":"1"}`), "lines[1].qty"},
		"field in capitals":     {"bill-totals", `{"Lines":[]}`, "Lines"},
		"missing field":         {"bill-totals", `{}`, "lines"},
		"missing, inside":       {"bill-totals", lines(`{"quantity":"1","tax_category":"S","tax_percent":"10"}`), "lines[1].unit_price"},
		"NaN":                   {"remaining-value", `{"machine_class":"Baler","age_years":NaN,"annual_hours":1}`, "age_years"},
		"Infinity":              {"remaining-value", `{"machine_class":"Baler","age_years":1,"annual_hours":Infinity}`, "annual_hours"},
		"minus Infinity":        {"remaining-value", `{"machine_class":"Baler","age_years":-Infinity,"annual_hours":1}`, "age_years"},
		"beyond a number":       {"remaining-value", `{"machine_class":"Baler","age_years":1e400,"annual_hours":1}`, "age_years"},
		"text for a number":     {"remaining-value", `{"machine_class":"Baler","age_years":"7","annual_hours":1}`, "age_years"},
		"number for a text":     {"remaining-value", `{"machine_class":7,"age_years":7,"annual_hours":1}`, "machine_class"},
		"number for money":      {"bill-totals", lines(`{"quantity":"1","unit_price":0.3968,"tax_category":"S","tax_percent":"10"}`), "lines[1].unit_price"},
		"object for money":      {"bill-totals", lines(`{"quantity":{"a":[1,{"b":2}]},"unit_price":"1","tax_category":"S","tax_percent":"10"}`), "lines[1].quantity"},
		"exponent in money":     {"bill-totals", lines(`{"quantity":"1e3","unit_price":"1","tax_category":"S","tax_percent":"10"}`), "lines[1].quantity"},
		"object for a list":     {"bill-totals", `{"lines":` + oneLine + `}`, "lines"},
		"text for an object":    {"bill-totals", `{"lines":["1"]}`, "lines[0]"},
		"half a count":          {"field-rate", `{"speed_kmh":6,"row_m":400,"turn_s":20,"rows_per_pass":1.5}`, "rows_per_pass"},
		"null for a number":     {"remaining-value", `{"machine_class":"Baler","age_years":null,"annual_hours":1}`, "age_years"},
		"null for a list":       {"bill-totals", `{"lines":null}`, "lines"},
		"null in a list":        {"bill-totals", `{"lines":[null]}`, "lines[0]"},
		"null for money":        {"bill-totals", lines(`{"quantity":null,"unit_price":"1","tax_category":"S","tax_percent":"10"}`), "lines[1].quantity"},
		"given twice":           {"remaining-value", `{"machine_class":"Baler","age_years":1,"age_years":2,"annual_hours":1}`, "age_years"},
		"given twice, escaped":  {"remaining-value", `{"machine_class":"Baler","age_years":1,"age\u005fyears":2,"annual_hours":1}`, "age_years"},
		"trailing text":         {"bill-totals", `{"lines":[` + oneLine + `]} x`, ""},
		"a second object":       {"bill-totals", `{"lines":[` + oneLine + `]}{}`, ""},
		"nothing":               {"bill-totals", ``, ""},
		"a list":                {"bill-totals", `[]`, ""},
		"null":                  {"bill-totals", `null`, ""},
		"cut short":             {"bill-totals", `{"lines":[` + oneLine, "lines"},
		"cut short after all":   {"bill-totals", `{"lines":[` + oneLine + `]`, ""},
		"stray comma":           {"bill-totals", `{"lines":[` + oneLine + `,]}`, "lines[1]"},
		"no colon":              {"bill-totals", `{"lines" []}`, "lines"},
		"not UTF-8":             {"business-number", "{\"scheme\":\"abn\",\"number\":\"\xff\"}", ""},
		"range":                 {"remaining-value", `{"machine_class":"Baler","age_years":-1,"annual_hours":1}`, "age_years"},
		"range, inside":         {"stock-value", `{"method":"by-lot","events":[{"kind":"out","quantity":"1","lot":"D26-01"}]}`, "events[0].quantity"},
		"no such calculation":   {"bill-total", `{}`, ""},
	} {
		answer, err := ask(t, c.calculation, c.in, false)
		if field := refusedField(t, answer, err); field != c.field {
			t.Errorf("%s: field %q is named, want %q: %s", name, field, c.field, answer)
		}
	}
}

func TestTrailingTextIsCalledThat(t *testing.T) {
	for _, tail := range []string{"x", "{}", "1", "]"} {
		answer, _ := ask(t, "business-number", `{"scheme":"acn","number":"004085616"}`+tail, false)
		if !strings.Contains(answer, "there is text after the JSON object") {
			t.Errorf("after %s: %s", tail, answer)
		}
	}
}

func TestNullStandsForAFieldLeftOut(t *testing.T) {
	with, err := ask(t, "remaining-value", `{"machine_class":"Baler","c1":null,"c2":null,"c3":null,"age_years":3,"annual_hours":0,"list_price":null}`, false)
	without, err2 := ask(t, "remaining-value", `{"machine_class":"Baler","age_years":3,"annual_hours":0}`, false)
	if err != nil || err2 != nil || with != without {
		t.Errorf("%s and %s, %v, %v", with, without, err, err2)
	}
	money, err := ask(t, "bill-totals", `{"lines":[{"quantity":"1","unit_price":"3874.65","base_quantity":null,"charge":null,"tax_category":"S","tax_percent":10}],"allowances":null,"prepaid":null}`, false)
	if err != nil || !strings.Contains(money, `"payable":"4262.12"`) {
		t.Errorf("%s, %v", money, err)
	}
}

func TestTheWorkingIsAddedWhenAskedFor(t *testing.T) {
	in := `{"lines":[` + oneLine + `]}`
	plain, err := ask(t, "bill-totals", in, false)
	if err != nil || strings.Contains(plain, `"working"`) {
		t.Fatalf("%s, %v", plain, err)
	}
	shown, err := ask(t, "bill-totals", in, true)
	if err != nil || !strings.HasPrefix(shown, strings.TrimSuffix(plain, "}")+`,"working":[{"step":`) {
		t.Fatalf("%s, %v", shown, err)
	}
	var got struct {
		Working []map[string]any
	}
	if err := json.Unmarshal([]byte(shown), &got); err != nil || len(got.Working) < 5 {
		t.Fatalf("%s, %v", shown, err)
	}
	for _, step := range got.Working {
		for _, key := range []string{"step", "formula", "value", "unit"} {
			if _, has := step[key]; !has {
				t.Errorf("%v lacks %q", step, key)
			}
		}
	}
}

func TestAResultWithoutAWorkingIsAnsweredAsItIs(t *testing.T) {
	in := `{"scheme":"acn","number":"004085616"}`
	plain, _ := ask(t, "business-number", in, false)
	shown, err := ask(t, "business-number", in, true)
	if err != nil || shown != plain {
		t.Errorf("%s, want %s, %v", shown, plain, err)
	}
}

// askLines runs a calculation on JSON Lines.
func askLines(name, in string) ([]string, error) {
	var out bytes.Buffer
	err := Run(name, true, false, strings.NewReader(in), &out)
	return strings.Split(strings.TrimSuffix(out.String(), "\n"), "\n"), err
}

func TestEveryLineIsAnsweredInOrder(t *testing.T) {
	var in strings.Builder
	for i := range 300 {
		switch i % 3 {
		case 0:
			fmt.Fprintf(&in, "{\"scheme\":\"acn\",\"number\":\"%d\"}\n", i)
		case 1:
			in.WriteString("{\"scheme\":\"abn\"}\r\n")
		case 2:
			in.WriteString("not JSON\n")
		}
	}
	answers, err := askLines("business-number", in.String())
	if !errors.Is(err, ErrRefused) || len(answers) != 300 {
		t.Fatalf("%d answers, %v", len(answers), err)
	}
	for i, answer := range answers {
		switch i % 3 {
		case 0:
			if !strings.Contains(answer, fmt.Sprintf(`"formatted":"%d"`, i)) {
				t.Errorf("line %d: %s", i, answer)
			}
		case 1:
			if field := refusedField(t, answer, ErrRefused); field != "number" {
				t.Errorf("line %d names %q", i, field)
			}
		case 2:
			refusedField(t, answer, ErrRefused)
		}
	}
}

func TestGoodLinesEndWithoutAnError(t *testing.T) {
	line := `{"scheme":"acn","number":"004085616"}`
	for _, in := range []string{line, line + "\n", line + "\n\n \n"} {
		if answers, err := askLines("business-number", in); err != nil || len(answers) != 1 {
			t.Errorf("%q: %q, %v", in, answers, err)
		}
	}
	answers, err := askLines("business-number", line+"\n\n"+line+"\n")
	if !errors.Is(err, ErrRefused) || len(answers) != 3 {
		t.Fatalf("an empty line among others: %q, %v", answers, err)
	}
	refusedField(t, answers[1], err)
	var out bytes.Buffer
	if err := Run("business-number", true, false, strings.NewReader(""), &out); err != nil || out.Len() != 0 {
		t.Errorf("no lines: %q, %v", out.String(), err)
	}
}

// An answer comes before the next line is sent: asking and listening in turn works.
func TestALineIsAnsweredBeforeTheNextIsSent(t *testing.T) {
	questions, send := io.Pipe()
	listen, answers := io.Pipe()
	done := make(chan error, 1)
	go func() {
		err := Run("business-number", true, false, questions, answers)
		answers.Close()
		done <- err
	}()
	for range 3 {
		if _, err := io.WriteString(send, "{\"scheme\":\"acn\",\"number\":\"004085616\"}\n"); err != nil {
			t.Fatal(err)
		}
		got := make([]byte, len(`{"valid":true,"formatted":"004 085 616"}`)+1)
		if _, err := io.ReadFull(listen, got); err != nil || !strings.Contains(string(got), "004 085 616") {
			t.Fatalf("%s, %v", got, err)
		}
	}
	send.Close()
	if err := <-done; err != nil {
		t.Error(err)
	}
}

// A defect on one line is answered in a sentence that gives nothing away, the lines after
// it are answered too, and the error itself goes to the caller.
func TestADefectOnALineDoesNotStopTheOthers(t *testing.T) {
	defect := errors.New("the table is empty")
	c := of("half", "", func(in struct {
		N int `json:"n"`
	}) (map[string]int, error) {
		if in.N%2 != 0 {
			return nil, defect
		}
		return map[string]int{"half": in.N / 2}, nil
	})
	var out bytes.Buffer
	err := c.runLines(false, strings.NewReader("{\"n\":2}\n{\"n\":3}\n{\"n\":4}\n"), &out)
	want := `{"half":1}` + "\n" + `{"error":{"field":"","kind":"internal","message":"this could not be worked out, which is a defect of the program"}}` + "\n" + `{"half":2}` + "\n"
	if !errors.Is(err, defect) || errors.Is(err, ErrRefused) || out.String() != want {
		t.Errorf("%s%v", out.String(), err)
	}
	out.Reset()
	if err := c.runOne(false, strings.NewReader(`{"n":3}`), &out); !errors.Is(err, defect) || out.Len() != 0 {
		t.Errorf("one object: %q, %v", out.String(), err)
	}
}

func TestAClashIsAnsweredByItsKind(t *testing.T) {
	c := of("held", "", func(struct{}) (struct{}, error) { return struct{}{}, fault.Conflict("the lot is held") })
	answer, err := c.Answer([]byte(`{}`), false)
	if !errors.Is(err, ErrRefused) || string(answer) != `{"error":{"field":"","kind":"clash","message":"the lot is held"}}` {
		t.Errorf("%s, %v", answer, err)
	}
}

func TestTheListNamesEveryCalculationOnce(t *testing.T) {
	seen := map[string]bool{}
	last := ""
	for _, n := range Names() {
		if n[0] <= last || n[1] == "" {
			t.Errorf("%q stands after %q, with %q", n[0], last, n[1])
		}
		last, seen[n[0]] = n[0], true
	}
	for _, name := range []string{"remaining-value", "repair-cost", "capital-recovery", "field-rate", "machine-hour", "variance", "stock-value", "bill-totals", "business-number"} {
		if !seen[name] {
			t.Errorf("%s is not listed", name)
		}
	}
}
