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

// of narrows a reading to the rows of one owner; 0 reads all.
func of(db *gorm.DB, column string, id int64) *gorm.DB {
	if id == 0 {
		return db
	}
	return db.Where(column+" = ?", id)
}

func notHere(word string, id int64) error {
	return fault.Miss("there is no %s with the number %d, look it up in the list again", word, id)
}
