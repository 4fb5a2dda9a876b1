package walk

import "testing"

// walk is one season being walked through.
type walk struct {
	season
	t          *testing.T
	site       string
	contractor *browser
	operator   *browser
	farmer     *browser

	job      string // path of the job's page
	plan     rowPlan
	worked   mixAnswer
	farmPage string // path of the farm's page
	link     string // the farmer's

	sown   sownAnswer
	billed bill // of the invoice
}

func TestTwinRowsFromBoundaryToInvoice(t *testing.T) { t.Parallel(); walkThrough(t, twinRows) }

func TestSingleRowsFromBoundaryToInvoiceWithoutScript(t *testing.T) {
	t.Parallel()
	walkThrough(t, singleRows)
}

// walkThrough takes one season through the whole chain, in the order in which it happens.
func walkThrough(t *testing.T, s season) {
	site, folder := serve(t)
	w := &walk{season: s, t: t, site: site}
	w.begin()

	w.addFarm()
	w.addPaddock()
	w.askJob()
	w.layRows()
	w.lookAt()

	w.addLots()
	w.addMedium()
	w.addMachine()
	w.chooseLots()
	w.fillShed()

	w.enterRates()
	w.issueQuote()
	w.makeLink()
	w.farmerSaysYes()
	w.stockIsHeldBack()

	w.operatorComes()
	w.tubsAreAsPlanned()
	w.catchChangesTheRecipe()
	w.mixAndUndo()
	w.dayIsEntered()

	w.loadLog()
	w.issueInvoice()
	w.farmerChecksInvoice()
	w.seasonIsOver()
	obeysItsLaws(t, folder)
}
