package site

import (
	"rowtally/internal/job"
	"rowtally/internal/money"
)

// costBars is planned against spent as a picture: two bars for each kind of cost.
type costBars struct {
	Width, Height, AxisX float64
	Says                 string
	Kinds                []costBar
}

// costBar is one kind: what the rows sown should have cost above what they cost.
type costBar struct {
	Name, Plan, Spent              string
	NameY, PlanY, SpentY           float64
	PlanW, SpentW                  float64
	PlanX, PlanTY, SpentX, SpentTY float64
}

const (
	costWidth  = 640.0
	costLeft   = 140.0 // room for the names
	costRight  = 100.0 // room for the figures
	costKindH  = 52.0
	costBarH   = 15.0
	costBarGap = 3.0
)

// barsOfCost draws the compared costs by kind; nil where nothing is compared.
func barsOfCost(c job.CostCheck) *costBars {
	sums, order := costSums(c)
	most := money.Cents(0)
	for _, kind := range order {
		most = max(most, sums[kind][0], sums[kind][1])
	}
	if most == 0 {
		return nil
	}
	k := &costBars{Width: costWidth, AxisX: costLeft, Height: costKindH * float64(len(order)), Says: "What the rows sown should have cost and what they cost, by kind"}
	scale := func(amount money.Cents) float64 {
		return (costWidth - costLeft - costRight) * float64(amount) / float64(most)
	}
	for i, kind := range order {
		top := costKindH*float64(i) + 6
		plan, spent := scale(sums[kind][0]), scale(sums[kind][1])
		second := top + costBarH + costBarGap
		k.Kinds = append(k.Kinds, costBar{Name: string(kind), Plan: sums[kind][0].Shown(), Spent: sums[kind][1].Shown(), NameY: top + costBarH + 4,
			PlanY: top, SpentY: second, PlanW: max(plan, 0), SpentW: max(spent, 0),
			PlanX: costLeft + max(plan, 0) + 6, PlanTY: top + 12, SpentX: costLeft + max(spent, 0) + 6, SpentTY: second + 12})
	}
	return k
}

// costSums adds the compared rows up by kind: as they should have been, and as they were.
func costSums(c job.CostCheck) (sums map[job.CostKind][2]money.Cents, order []job.CostKind) {
	sums = map[job.CostKind][2]money.Cents{}
	for _, row := range c.Rows {
		sum, known := sums[row.Kind]
		if !known {
			order = append(order, row.Kind)
		}
		sums[row.Kind] = [2]money.Cents{sum[0] + row.Standard, sum[1] + row.Actual}
	}
	return sums, order
}
