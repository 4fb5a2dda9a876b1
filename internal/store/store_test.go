package store

import (
	"context"
	"testing"
)

func TestAStoreIsReadyOnceItIsOpen(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		if err := s.Ready(context.Background()); err != nil {
			t.Error(err)
		}
	})
}
