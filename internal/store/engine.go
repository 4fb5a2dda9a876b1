package store

import (
	"context"
	"errors"
	"log/slog"
	"strings"
	"time"

	"gorm.io/gorm"
	"gorm.io/gorm/logger"
	"gorm.io/gorm/schema"
)

// engine is one of the two databases that a store may be in; it names the folder of its
// migrations.
type engine string

const (
	onSQLite   engine = "sqlite"
	onPostgres engine = "postgres"
)

// slow is how long a statement may take before the log hears of it.
const slow = 500 * time.Millisecond

// newConfig makes the settings of one connection. Two connections must never share them:
// the dialect of the first would rule both, and row locks would be lost without a word.
func newConfig(log *slog.Logger) *gorm.Config {
	return &gorm.Config{
		SkipDefaultTransaction: true,
		TranslateError:         true,
		NamingStrategy:         names{},
		Logger: quiet{logger.NewSlogLogger(log, logger.Config{
			SlowThreshold:             slow,
			LogLevel:                  logger.Warn,
			IgnoreRecordNotFoundError: true,
		})},
	}
}

// quiet keeps out of the log what is no defect: a name that is taken, a reader who left,
// a transaction that will be sent again.
type quiet struct{ logger.Interface }

func (q quiet) Trace(ctx context.Context, begin time.Time, statement func() (string, int64), err error) {
	if errors.Is(err, gorm.ErrDuplicatedKey) || errors.Is(err, context.Canceled) || asksAgain(err) {
		err = nil
	}
	q.Interface.Trace(ctx, begin, statement, err)
}

// ParamsFilter keeps the values of a statement out of the log: they are people's.
func (q quiet) ParamsFilter(_ context.Context, statement string, _ ...any) (string, []any) {
	return statement, nil
}

// names gives the table of a noun. Row structs of this package end in Row and share the
// table of their noun.
type names struct{ schema.NamingStrategy }

var tables = map[string]string{
	"Business":           "business",
	"Document":           "lot_documents",
	"Entry":              "journal",
	"Held":               "held_back",
	"Owning":             "owning",
	"PaperSown":          "paper_sown",
	"RecipeSpecies":      "recipe_species",
	"UnderstoreySpecies": "understorey_species",
	"Source":             "lot_sources",
	"Sown":               "sown",
}

func (n names) TableName(noun string) string {
	noun = strings.TrimSuffix(noun, "Row")
	noun = strings.ToUpper(noun[:1]) + noun[1:]
	if table, ok := tables[noun]; ok {
		return table
	}
	return n.NamingStrategy.TableName(noun)
}
