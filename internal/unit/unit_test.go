package unit

import (
	"testing"
	"time"

	"pgregory.net/rapid"
)

func TestParseDateTakesDaysThatAre(t *testing.T) {
	for _, text := range []string{"2026-07-20", "2024-02-29", "0001-01-01", "9999-12-31"} {
		if d, err := ParseDate(text); err != nil || string(d) != text {
			t.Errorf("%s: %q, %v", text, string(d), err)
		}
	}
	for _, text := range []string{"", "2026-02-29", "2026-13-01", "2026-7-20", "20 Jul 2026", "2026-07-20T00:00:00Z", " 2026-07-20", "26-07-20"} {
		if d, err := ParseDate(text); err == nil || d != "" {
			t.Errorf("%q is taken as %q", text, string(d))
		}
	}
}

func TestDaysAreWrittenForPeople(t *testing.T) {
	for day, want := range map[Date]string{"2026-07-20": "20 Jul 2026", "2026-03-04": "4 Mar 2026", "": ""} {
		if got := day.String(); got != want {
			t.Errorf("%q is written %q, want %q", string(day), got, want)
		}
	}
}

// A moment late in the evening is that day where it was, whatever the day elsewhere.
func TestDateOfGoesByTheMomentsOwnZone(t *testing.T) {
	adelaide := time.FixedZone("ACST", 9*3600+1800)
	at := time.Date(2026, 7, 20, 23, 30, 0, 0, adelaide)
	if DateOf(at) != "2026-07-20" || DateOf(at.UTC()) != "2026-07-20" || DateOf(at.Add(time.Hour)) != "2026-07-21" || DateOf(at.Add(time.Hour).UTC()) != "2026-07-20" {
		t.Errorf("%q, %q", string(DateOf(at)), string(DateOf(at.Add(time.Hour))))
	}
}

func TestMonthsEndOnTheirLastDay(t *testing.T) {
	for _, c := range []struct {
		from   Date
		months int
		want   Date
	}{
		{"2026-02-10", 12, "2027-02-10"}, {"2024-02-29", 12, "2025-02-28"}, {"2026-01-31", 1, "2026-02-28"}, {"2023-12-31", 2, "2024-02-29"},
		{"2026-03-31", -1, "2026-02-28"}, {"2026-07-20", 0, "2026-07-20"}, {"2026-11-30", 3, "2027-02-28"}, {"2026-01-15", -13, "2024-12-15"},
	} {
		if got := c.from.PlusMonths(c.months); got != c.want {
			t.Errorf("%s and %d months: %s, want %s", string(c.from), c.months, string(got), string(c.want))
		}
	}
}

func TestDaysAreCountedBothWays(t *testing.T) {
	for _, c := range []struct {
		from, to Date
		days     int
	}{{"2026-07-20", "2026-07-20", 0}, {"2024-02-28", "2024-03-01", 2}, {"2026-02-28", "2026-03-01", 1}, {"2026-01-01", "2027-01-01", 365}, {"2026-10-04", "2026-10-05", 1}} {
		if c.from.DaysTo(c.to) != c.days || c.to.DaysTo(c.from) != -c.days || c.from.Plus(c.days) != c.to {
			t.Errorf("%s to %s: %d days", string(c.from), string(c.to), c.from.DaysTo(c.to))
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		day := Date("2000-01-01").Plus(rapid.IntRange(0, 40_000).Draw(t, "day"))
		days := rapid.IntRange(-40_000, 40_000).Draw(t, "days")
		later := day.Plus(days)
		if day.DaysTo(later) != days || later.Plus(-days) != day {
			t.Fatalf("%s and %d days: %s", string(day), days, string(later))
		}
		if (days > 0) != (later > day) {
			t.Fatalf("days do not sort as text: %s, %s", string(day), string(later))
		}
	})
}

func TestThousandsAreSetApart(t *testing.T) {
	for _, c := range []struct {
		v        float64
		decimals int
		want     string
	}{
		{0, 0, "0"}, {999, 0, "999"}, {1000, 0, "1" + thin + "000"}, {1234567.891, 2, "1" + thin + "234" + thin + "567.89"}, {-1234.5, 1, "−1" + thin + "234.5"},
		{-0.04, 1, "0.0"}, {-0.06, 1, "−0.1"}, {999.95, 0, "1" + thin + "000"}, {0.5, 0, "0"}, {2.5, 0, "2"}, {5006.8, 1, "5" + thin + "006.8"}, {12345.6789, 4, "12" + thin + "345.6789"},
	} {
		if got := Grouped(c.v, c.decimals); got != c.want {
			t.Errorf("%v with %d decimals: %q, want %q", c.v, c.decimals, got, c.want)
		}
	}
}
