package store

import (
	"errors"

	"gorm.io/gorm"

	"rowtally/internal/fault"
)

// one reads the row with this number. word is what a person calls it.
func one[T any](db *gorm.DB, word string, id int64) (T, error) {
	row, ok, err := maybe[T](db.Where("id = ?", id))
	if err == nil && !ok {
		err = notHere(word, id)
	}
	return row, err
}

// maybe reads the first row; ok is false when there is none.
func maybe[T any](db *gorm.DB) (row T, ok bool, err error) {
	err = db.Take(&row).Error
	if errors.Is(err, gorm.ErrRecordNotFound) {
		return row, false, nil
	}
	return row, err == nil, err
}

// all reads every row.
func all[T any](db *gorm.DB) ([]T, error) {
	var rows []T
	err := db.Find(&rows).Error
	return rows, err
}

// of narrows a reading to the rows of one owner or of several; 0 alone reads all.
func of(db *gorm.DB, column string, ids ...int64) *gorm.DB {
	switch {
	case len(ids) == 1 && ids[0] == 0:
		return db
	case len(ids) == 1:
		return db.Where(column+" = ?", ids[0])
	}
	return db.Where(column+" IN ?", ids)
}

// several is a reading that more than one statement is made from.
func several(db *gorm.DB) *gorm.DB { return db.Session(&gorm.Session{}) }

// first is the first of what was read; ok is false when nothing was.
func first[T any](rows []T, unread error) (row T, ok bool, err error) {
	if len(rows) == 0 || unread != nil {
		return row, false, unread
	}
	return rows[0], true, nil
}

// ownElse finds what a job has of its own, else the business's, kept as the job 0, else the usual.
func ownElse[T any](kept map[int64]T, usual T) func(jobID int64) T {
	return func(jobID int64) T {
		for _, id := range []int64{jobID, 0} {
			if own, has := kept[id]; has {
				return own
			}
		}
		return usual
	}
}

func notHere(word string, id int64) error {
	return fault.Miss("there is no %s with the number %d, look it up in the list again", word, id)
}
