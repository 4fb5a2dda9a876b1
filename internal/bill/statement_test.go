package bill

import (
	"testing"

	"pgregory.net/rapid"

	"rowtally/internal/fault"
	"rowtally/internal/unit"
)

func TestAStatementRunsFromItsOpeningToItsClosingBalance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := lived(t)
		from := unit.Date("2025-12-01").Plus(rapid.IntRange(0, 500).Draw(t, "from"))
		to := from.Plus(rapid.IntRange(0, 200).Draw(t, "days"))
		s, err := a.StatementFor(from, to)
		if err != nil {
			t.Fatal(err)
		}
		balance := s.Opening
		for i, line := range s.Lines {
			balance += line.Amount
			if line.Balance != balance || line.On < from || line.On > to || i > 0 && line.On < s.Lines[i-1].On {
				t.Fatalf("line %d is %+v after %+v", i, line, s.Lines[max(0, i-1)])
			}
		}
		if balance != s.Closing || s.Ages.Sum()-s.Credit != s.Closing {
			t.Fatalf("it runs to %s, closes at %s, ageing %v less credit %s", balance, s.Closing, s.Ages, s.Credit)
		}
		next, err := a.StatementFor(to.Plus(1), to.Plus(30))
		if err != nil || next.Opening != s.Closing {
			t.Fatalf("the next opens at %s, this one closed at %s (%v)", next.Opening, s.Closing, err)
		}
	})
}

func TestAStatementThatEndsBeforeItBeginsIsRefused(t *testing.T) {
	if _, err := (Account{}).StatementFor("2026-07-02", "2026-07-01"); fault.Fields(err)["to"] == "" {
		t.Errorf("got %v", err)
	}
}
