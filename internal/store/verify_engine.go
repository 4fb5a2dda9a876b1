package store

import (
	"fmt"
	"strings"

	"gorm.io/gorm"
)

// sqliteFile has SQLite read every page, index and constraint of the file.
func sqliteFile(db *gorm.DB) ([]string, error) {
	found, err := sentences(db, "PRAGMA integrity_check")
	if err != nil || len(found) == 1 && found[0] == "ok" {
		return nil, err
	}
	for i := range found {
		found[i] = "the file is damaged: " + found[i]
	}
	return found, nil
}

// sqliteReferences finds the foreign keys that lead nowhere.
func sqliteReferences(db *gorm.DB) ([]string, error) {
	return sentences(db, `SELECT 'row ' || coalesce(rowid, '') || ' of ' || "table" || ' refers to a row of ' || parent || ' that is not there'
		FROM pragma_foreign_key_check`)
}

// foreignKey is a foreign key as PostgreSQL's catalogue has it; the columns of both sides
// stand in one order, with commas between them.
type foreignKey struct{ Child, Parent, ChildColumns, ParentColumns string }

const foreignKeys = `SELECT c.conrelid::regclass::text AS child, c.confrelid::regclass::text AS parent,
	string_agg(quote_ident(a.attname), ',' ORDER BY k.at) AS child_columns,
	string_agg(quote_ident(b.attname), ',' ORDER BY k.at) AS parent_columns
	FROM pg_constraint c, unnest(c.conkey, c.confkey) WITH ORDINALITY AS k (mine, theirs, at), pg_attribute a, pg_attribute b
	WHERE c.contype = 'f' AND c.connamespace = current_schema()::regnamespace
	AND a.attrelid = c.conrelid AND a.attnum = k.mine AND b.attrelid = c.confrelid AND b.attnum = k.theirs
	GROUP BY c.oid, c.conrelid, c.confrelid ORDER BY 1, 2`

// postgresReferences finds the foreign keys that lead nowhere: the engine keeps them from
// coming about, but not in a store that was put together with them switched off.
func postgresReferences(db *gorm.DB) ([]string, error) {
	var keys []foreignKey
	if err := db.Raw(foreignKeys).Scan(&keys).Error; err != nil {
		return nil, err
	}
	var broken []string
	for _, k := range keys {
		found, err := sentences(db, k.orphans())
		if err != nil {
			return nil, err
		}
		broken = append(broken, found...)
	}
	return broken, nil
}

// orphans is the statement that finds the rows whose key leads nowhere.
func (k foreignKey) orphans() string {
	mine, theirs := strings.Split(k.ChildColumns, ","), strings.Split(k.ParentColumns, ",")
	var same []string
	for i := range mine {
		same = append(same, fmt.Sprintf("p.%s = c.%s", theirs[i], mine[i]))
	}
	return fmt.Sprintf(`SELECT 'a row of %s refers to a row of %s that is not there' FROM %s c
		WHERE c.%s IS NOT NULL AND NOT EXISTS (SELECT 1 FROM %s p WHERE %s)`,
		k.Child, k.Parent, k.Child, mine[0], k.Parent, strings.Join(same, " AND "))
}
