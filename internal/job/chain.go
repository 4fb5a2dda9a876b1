package job

// Chain is a job worked out on a day: its stage, every link with its figures, and the one
// thing to do next.
type Chain struct {
	Facts
	Stage   Stage
	Links   []ChainLink
	Next    Next
	Trouble []string // what stands in the job's way, in sentences
	Map     *Map     // nil while no boundary is read, and in a list

	laid  *Laid
	live  float64    // live seeds of the mix that is still to be made
	short []Shortage // what the recipe needs beyond what is free
}

// ChainOf works a job out. Every page and paper of the job reads from it.
func ChainOf(f Facts) Chain {
	c := ListedChainOf(f)
	c.Map = c.picture(c.laid)
	return c
}

// ListedChainOf works a job out for a list, without its picture.
func ListedChainOf(f Facts) Chain {
	f.Remember()
	c := Chain{Facts: f, Stage: StageOf(f)}
	if laid, err := f.Rows(); err == nil {
		c.laid = &laid
	}
	recipe := c.work()
	c.short = recipe.Short
	if recipe.toMix && recipe.why == nil {
		c.live = recipe.Mix.LiveSeedsPerKm * c.LeftM(c.laid.RowM) / 1000 * (1 + c.Recipe.SparePercent/100)
	}
	c.Links = []ChainLink{
		c.groundLink(), c.rowsLink(), c.seedLink(recipe), c.mixLink(recipe),
		c.understoreyLink(), c.moneyLink(), c.sownLink(), c.invoiceLink(), c.countsLink(),
	}
	c.mark()
	return c
}

// RowM is the planned row length in metres; 0 while rows are not laid.
func (c Chain) RowM() float64 {
	if c.laid == nil {
		return 0
	}
	return c.laid.RowM
}

// mark finds the first link where something is to do, and gathers what is wrong.
func (c *Chain) mark() {
	marked := c.Stage == Declined
	for i := range c.Links {
		link := &c.Links[i]
		if link.Warning != "" {
			c.Trouble = append(c.Trouble, link.Warning)
		}
		if marked || link.Warning == "" && (link.State == Kept || !c.Stage.Open()) {
			continue
		}
		marked = true
		link.State = Now
		if len(link.Doings) > 0 {
			c.Next = link.Doings[0]
		}
	}
}

// picture is the paddock with what is known of its rows; nil while no boundary is read.
func (f Facts) picture(laid *Laid) *Map {
	var m Map
	switch {
	case laid != nil:
		m = MapOfPlan(*laid)
		f.addSown(&m, *laid)
	case f.Paddock.Boundary != "":
		survey, err := f.Survey()
		if err != nil {
			return nil
		}
		m = MapOfGround(survey)
	default:
		return nil
	}
	return &m
}
