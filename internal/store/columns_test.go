package store

import (
	"reflect"
	"slices"
	"strings"
	"sync"
	"testing"

	"gorm.io/gorm/schema"

	"rowtally/internal/bill"
	"rowtally/internal/ground"
	"rowtally/internal/job"

	"rowtally/internal/machine"
	"rowtally/internal/mix"
	"rowtally/internal/seed"
)

// keptStructs is every struct that is kept as a row of a table.
var keptStructs = []any{
	job.Business{}, bill.TaxRate{}, job.Person{}, sessionRow{}, keyRow{}, entryRow{}, job.Farm{}, job.Link{}, job.Paddock{}, ground.Reading{}, job.Job{},
	job.Layout{}, recipeRow{}, recipeSpeciesRow{}, recipeLotRow{}, bill.Rate{}, seed.Lot{}, testRow{}, replicateRow{},
	mix.Product{}, job.Balance{}, job.Movement{}, job.StockWorth{}, job.Held{}, machine.Machine{}, machine.Owning{}, machine.FuelRate{}, machine.DaySheet{}, mix.Catch{},
	tubRow{}, tubIngredientRow{}, paperRow{}, bill.PaperLine{}, bill.AdjustedLine{}, paymentRow{}, bill.Placing{}, paperParticularRow{}, paperFileRow{}, bill.Acceptance{},
	job.Log{}, job.Sown{}, job.Measuring{}, seed.StorageCondition{}, speciesRetestRow{}, seed.Document{}, seed.Source{},
	cleanOutRow{}, cleanOutLotRow{}, understoreyRow{}, understoreySpeciesRow{}, understoreyLotRow{}, countPlanRow{}, countRow{}, drillLoadRow{}, drillLoadLotRow{}, truckEntryRow{}, job.Photo{},
	questionRow{}, job.Word{}, paperSownRow{},
	job.CostRates{}, costingRow{}, costingMachineRow{}, costingOtherRow{}, costPlanRow{}, costPlanLineRow{},
	job.Terms{}, bill.PaperLot{}, alternativeRow{}, paperAlternativeRow{}, rateCardRow{}, rateCardLineRow{}, seed.Inoculant{},
}

// onlyInTables is what no struct keeps: the guard that keeps the business single, the number series, and
// what the migrations write.
var onlyInTables = map[string][]string{
	"business":         {"one"},
	"cost_rates":       {"one"},
	"series":           {"kind", "year", "last"},
	"goose_db_version": {"id", "version_id", "is_applied", "tstamp"},
	"sqlite_sequence":  {"name", "seq"},
}

// families names what an engine calls a column's type by what is kept in it.
var families = map[string]string{
	"integer": "whole", "bigint": "whole", "int8": "whole", "text": "text", "boolean": "yes or no", "bool": "yes or no",
	"real": "measure", "float8": "measure", "datetime": "moment", "timestamptz": "moment", "blob": "bytes", "bytea": "bytes",
}

var kinds = map[schema.DataType]string{
	schema.Int: "whole", schema.Uint: "whole", schema.String: "text", schema.Bool: "yes or no",
	schema.Float: "measure", schema.Time: "moment", schema.Bytes: "bytes", "text": "text",
}

func TestEveryKeptFieldHasItsColumnAndEveryColumnItsField(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		fields := map[string]map[string]string{}
		for _, kept := range keptStructs {
			parsed, err := schema.Parse(kept, &sync.Map{}, names{})
			if err != nil {
				t.Fatalf("%T: %v", kept, err)
			}
			fields[parsed.Table] = fieldsOf(parsed)
		}
		tables, err := s.write.Migrator().GetTables()
		if err != nil {
			t.Fatal(err)
		}
		for table := range fields {
			if !slices.Contains(tables, table) {
				t.Errorf("there is no table %s", table)
			}
		}
		for _, table := range tables {
			compare(t, table, fields[table], columnsOf(t, s, table))
		}
	})
}

// fieldsOf says of each column that a struct needs what is kept in it.
func fieldsOf(parsed *schema.Schema) map[string]string {
	out := map[string]string{}
	for _, f := range parsed.Fields {
		if f.DBName == "" {
			continue
		}
		out[f.DBName] = kinds[f.DataType]
		if f.FieldType.Kind() == reflect.Pointer {
			out[f.DBName] += " or none"
		}
	}
	return out
}

func columnsOf(t *testing.T, s *Store, table string) map[string]string {
	t.Helper()
	columns, err := s.write.Migrator().ColumnTypes(table)
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]string{}
	for _, c := range columns {
		family := families[strings.ToLower(c.DatabaseTypeName())]
		key, _ := c.PrimaryKey()
		if nullable, _ := c.Nullable(); nullable && !key {
			family += " or none"
		}
		out[c.Name()] = family
	}
	return out
}

func compare(t *testing.T, table string, fields, columns map[string]string) {
	t.Helper()
	for name, kept := range fields {
		if columns[name] != kept || kept == "" {
			t.Errorf("%s.%s: the struct keeps %q, the table %q", table, name, kept, columns[name])
		}
	}
	for name := range columns {
		if _, ok := fields[name]; !ok && !slices.Contains(onlyInTables[table], name) {
			t.Errorf("%s.%s: no struct keeps it", table, name)
		}
	}
}
