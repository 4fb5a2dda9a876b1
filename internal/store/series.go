package store

// next takes the next number of a series within this transaction: 1, 2, 3 … without a
// gap, since a number whose act fails is given back. Others who want one wait.
func (t tx) next(kind string, year int) (int64, error) {
	var serial int64
	err := t.Raw(`INSERT INTO series (kind, year, last) VALUES (?, ?, 1)
		ON CONFLICT (kind, year) DO UPDATE SET last = series.last + 1 RETURNING last`, kind, year).Scan(&serial).Error
	return serial, err
}
