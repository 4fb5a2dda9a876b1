package job

import (
	"fmt"

	"rowtally/internal/fault"
	"rowtally/internal/ground"
)

// Advice is what the readings of the job's paddock say of shrub rows.
func (f Facts) Advice() ground.Advice { return ground.Advise(f.Readings) }

// ruledOut says why no shrub rows should be laid on the paddock, while that can still
// change anything; "" otherwise.
func (c Chain) ruledOut() string {
	a := c.Advice()
	if a.Shrubs != ground.No || c.Rowless() || c.begun() || !c.Stage.Open() {
		return ""
	}
	return fmt.Sprintf("%s Fence it and leave it to volunteer plants. %s", a.WhyNot(), ground.Deferring)
}

// sited adds to the link of the ground what its readings say. Where the answer is no, to
// decline is what comes next.
func (c Chain) sited(link ChainLink) ChainLink {
	a := c.Advice()
	if says := a.Says(); says != "" {
		link.Says += " " + says
	}
	link.Working = append(link.Working, a.Working()...)
	if link.Warning = c.ruledOut(); link.Warning != "" {
		link.Doings = append([]Next{{"Decline", c.path("/decline")}}, link.Doings...)
	}
	return link
}

// farthestM is how far outside its paddock's corners a reading may have been taken.
// Our own bound: it catches swapped and mistyped figures.
const farthestM = 500

// CheckReadingPlace refuses a reading whose place is not at the paddock.
func CheckReadingPlace(p Paddock, r ground.Reading) error {
	at, placed := r.Place()
	if !placed || p.Boundary == "" {
		return nil
	}
	if err := at.Check(); err != nil {
		return fault.Under("place", err)
	}
	survey, err := Survey(p)
	if err != nil {
		return err
	}
	centre := survey.Shape.Centre()
	if off := ground.WGS84.Between(centre, at).DistanceM; off > survey.Shape.AcrossM()/2+farthestM {
		return fault.Refuse("place", "%v lies %.1f km from the middle of %s, check the figures and their order: latitude first", at, off/1000, p.Name)
	}
	return nil
}
