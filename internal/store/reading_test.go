package store

import (
	"testing"

	"rowtally/internal/fault"
	"rowtally/internal/ground"
	"rowtally/internal/job"
)

func salt(paddockID int64) ground.Reading {
	lat, lon := -36.4, 140.1
	return ground.Reading{PaddockID: paddockID, Kind: ground.EC15, Texture: ground.Clay, Value: 120.5, Unit: ground.MilliSiemens, FromCM: 25, ToCM: 50,
		TakenOn: "2026-06", Method: "1:5 in the shed’s bucket", SaidBy: "agronomist", Lat: &lat, Lon: &lon, Note: "by the \"gate\""}
}

func TestAReadingComesBackAsItWasAndStaysWhenWithdrawn(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		placed := salt(y.paddock)
		placed.ID = y.id(s.AddReading(y.ctx, y.act(), placed))
		water := ground.Reading{PaddockID: y.paddock, Kind: ground.WinterWatertable, Value: 0.2, Unit: ground.Metres, TakenOn: "2025-08-14", Method: "hand auger hole", SaidBy: "the owner"}
		water.ID = y.id(s.AddReading(y.ctx, y.once("one press"), water))
		if again := y.id(s.AddReading(y.ctx, y.once("one press"), water)); again != water.ID {
			t.Errorf("the second arrival made %d", again)
		}
		got, err := s.Readings(y.ctx, y.paddock)
		y.must(err)
		same(t, got, []ground.Reading{water, placed})

		refused(t, s.WithdrawReading(y.ctx, y.act(), placed.ID, "2026-07-20", ""), fault.Refused, "why", "keeps its reason")
		y.must(s.WithdrawReading(y.ctx, y.act(), placed.ID, "2026-07-20", "the bucket was not rinsed"))
		refused(t, s.WithdrawReading(y.ctx, y.act(), placed.ID, "2026-07-20", "again"), fault.Clash, "", "withdrawn already")
		placed.WithdrawnOn, placed.WithdrawnWhy = "2026-07-20", "the bucket was not rinsed"
		one, err := s.Reading(y.ctx, placed.ID)
		y.must(err)
		same(t, one, placed)
		facts, err := s.Facts(y.ctx, y.job, "2026-07-20")
		y.must(err)
		same(t, facts.Readings, []ground.Reading{water, placed})
	})
}

func TestAReadingIsRefusedWhereItCannotBe(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		wrong := salt(y.paddock)
		wrong.Texture = ""
		refused(t, second(s.AddReading(y.ctx, y.act(), wrong)), fault.Refused, "texture", "sand, loam or clay")
		late := salt(y.paddock)
		late.TakenOn = "2026-08"
		refused(t, second(s.AddReading(y.ctx, y.act(), late)), fault.Refused, "taken_on", "after today")
		refused(t, second(s.AddReading(y.ctx, y.act(), salt(99))), fault.Missing, "", "there is no paddock")
		refused(t, second(s.Reading(y.ctx, 99)), fault.Missing, "", "there is no reading")
		refused(t, s.WithdrawReading(y.ctx, y.act(), 99, "2026-07-20", "why"), fault.Missing, "", "there is no reading")
		readings, err := s.Readings(y.ctx, 0)
		y.must(err)
		if len(readings) != 0 {
			t.Errorf("kept all the same: %+v", readings)
		}
	})
}

func TestHeightsStayWithTheirPaddock(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		paddock, err := s.Paddock(y.ctx, y.paddock)
		y.must(err)
		paddock.Heights, paddock.HeightsSource = "[[-36.4,140.1,21.5]]", "typed: 1 height"
		y.must(s.ChangePaddock(y.ctx, y.act(), paddock))
		got, err := s.Paddock(y.ctx, y.paddock)
		y.must(err)
		same(t, got, paddock)
		paddock.Heights, paddock.HeightsSource = "", ""
		y.must(s.ChangePaddock(y.ctx, y.act(), paddock))
		got, err = s.Paddock(y.ctx, y.paddock)
		y.must(err)
		same(t, got, job.Paddock{ID: y.paddock, FarmID: y.farm, Name: "Bore"})
	})
}
