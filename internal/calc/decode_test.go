package calc

import (
	"encoding/json"
	"errors"
	"reflect"
	"strings"
	"testing"

	"rowtally/internal/fault"
	"rowtally/internal/money"
)

// everything is an input with every kind of field that a calculation may take.
type everything struct {
	Text   string          `json:"text"`
	Number float64         `json:"number"`
	Count  int             `json:"count"`
	Long   int64           `json:"long,omitempty"`
	Yes    bool            `json:"yes,omitempty"`
	Money  money.Factor    `json:"money,omitzero"`
	Exact  *money.Exact    `json:"exact,omitempty"`
	Maybe  *float64        `json:"maybe,omitempty"`
	Own    json.RawMessage `json:"own,omitempty"`
	List   [][]float64     `json:"list,omitempty"`
	Parts  []part          `json:"parts,omitempty"`
	embedded
	Unlisted int `json:"-"`
}

type part struct {
	Name string `json:"name"`
	Of   *part2 `json:"of,omitempty"`
}

type part2 struct {
	N int `json:"n"`
}

type embedded struct {
	Inner string `json:"inner,omitempty"`
}

func decoded(raw string) (everything, error) {
	var v everything
	err := decode([]byte(raw), &v)
	return v, err
}

func TestEveryKindOfFieldIsRead(t *testing.T) {
	got, err := decoded(`{"text":"a","number":-1.5e2,"count":3,"long":9007199254740993,"yes":true,"money":"0.3968","exact":12.50,"maybe":0,
		"own":{"type":"Polygon","coordinates":[[[140.1,-36.4]]]},"list":[[1,2],[]],"parts":[{"name":"b","of":{"n":4}}],"inner":"c"}`)
	if err != nil {
		t.Fatal(err)
	}
	if got.Text != "a" || got.Number != -150 || got.Count != 3 || got.Long != 9007199254740993 || !got.Yes || got.Money.String() != "0.3968" ||
		got.Exact.String() != "12.5" || *got.Maybe != 0 || !json.Valid(got.Own) || !reflect.DeepEqual(got.List, [][]float64{{1, 2}, {}}) || got.Parts[0].Of.N != 4 || got.Inner != "c" {
		t.Errorf("%+v", got)
	}
}

func TestRefusalsNameTheirPlace(t *testing.T) {
	rest := `"text":"a","number":1,"count":3`
	for in, field := range map[string]string{
		`{` + rest + `,"list":[[1],[2,"x"]]}`:           "list[1][1]",
		`{` + rest + `,"list":[[1],null]}`:              "list[1]",
		`{` + rest + `,"parts":[{"name":"b","of":{}}]}`: "parts[0].of.n",
		`{` + rest + `,"parts":[{"name":"b","of":[]}]}`: "parts[0].of",
		`{` + rest + `,"exact":"x"}`:                    "exact",
		`{` + rest + `,"long":9223372036854775808}`:     "long",
		`{` + rest + `,"long":1.0}`:                     "long",
		`{` + rest + `,"yes":1}`:                        "yes",
		`{` + rest + `,"inner":1}`:                      "inner",
		`{` + rest + `,"Unlisted":1}`:                   "Unlisted",
		`{` + rest + `,"own":{"a":}}`:                   "own",
		`{"text":"a","count":3}`:                        "number",
	} {
		_, err := decoded(in)
		if got := fault.Fields(err); len(got) != 1 || got[field] == "" {
			t.Errorf("%s: %v, want %q", in, got, field)
		}
	}
}

func TestNoInputIsTooDeepOrTooLong(t *testing.T) {
	const deep = 5_000_000
	start := `{"text":"a","number":1,"count":3,`
	for name, in := range map[string]string{
		"deep own value":   start + `"own":` + strings.Repeat("[", deep) + strings.Repeat("]", deep) + `}`,
		"deep, never shut": start + `"own":` + strings.Repeat(`{"a":`, deep/5),
		"deep money":       start + `"money":` + strings.Repeat("[", deep) + strings.Repeat("]", deep) + `}`,
		"deep list":        start + `"list":` + strings.Repeat("[", deep) + `}`,
		"deep alone":       strings.Repeat("[", deep),
		"long number":      start + `"maybe":` + strings.Repeat("9", deep) + `}`,
		"long field":       start + `"` + strings.Repeat("é", deep/2) + `":1}`,
		"long money":       start + `"money":"` + strings.Repeat("9", deep) + `"}`,
		"too many bytes":   start + `"inner":"` + strings.Repeat("x", mostInput) + `"}`,
	} {
		_, err := decoded(in)
		e, ok := errors.AsType[*fault.Error](err)
		if !ok || e.Kind != fault.Refused {
			t.Errorf("%s is taken, %v", name, err)
			continue
		}
		if len(e.Message) > 500 || len(e.Field) > 300 {
			t.Errorf("%s: a sentence of %d bytes on a field of %d", name, len(e.Message), len(e.Field))
		}
	}
}

func FuzzDecode(f *testing.F) {
	for _, seed := range []string{
		`{"text":"a","number":1,"count":3}`,
		`{"text":"a","number":1e400,"count":3,"own":[{}],"list":[[1]],"parts":[{"name":"b","of":{"n":1}}]}`,
		`{"text":"\ud800","number":-0,"count":3,"money":"0.3968","exact":12.50,"maybe":null,"inner":""}`,
		`{"text":"a","text":"b"}`, `[`, `{"a":NaN}`, "\xff", `{"text":"a","number":1,"count":3}{}`,
	} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, raw []byte) {
		var first everything
		if err := decode(raw, &first); err != nil {
			if e, ok := errors.AsType[*fault.Error](err); !ok || e.Kind != fault.Refused || e.Message == "" {
				t.Fatalf("refused without a sentence: %#v", err)
			}
			return
		}
		if !json.Valid(raw) {
			t.Fatalf("taken, and no JSON: %q", raw)
		}
		again := canonical(t, first)
		second, err := decoded(again)
		if err != nil || canonical(t, second) != again {
			t.Fatalf("%q is read as %s and back as %s, %v", raw, again, canonical(t, second), err)
		}
	})
}

// canonical writes what was read.
func canonical(t *testing.T, v everything) string {
	t.Helper()
	raw, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	return string(raw)
}
