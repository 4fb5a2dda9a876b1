package site

import "testing"

const cornersTyped = "-36.41, 140.1\n-36.41, 140.11\n-36.4, 140.11\n-36.4, 140.1\n"

func TestABoundaryIsTypedByCornersOrByARound(t *testing.T) {
	w := newTown(t)
	w.contractor.post("/farms/new", farmForm...).mustLead(t, "/farms/1")
	w.contractor.post("/farms/1/paddocks/new", "name", "Bore", "boundary_text", cornersTyped).mustLead(t, "/paddocks/1")
	w.contractor.get("/paddocks/1").mustShow(t, 200, ">99.5</b> ha gross", "read 1 polygon, 4 corners") // Planimeter: 995 374.4 m²

	sides := "90, 400\n0, 300\n270, 400\n180, 300"
	w.contractor.post("/farms/1/paddocks/new", "name", "Round", "round", sides).mustShow(t, 422, "that the round begins at", "90, 400")
	w.contractor.post("/farms/1/paddocks/new", "name", "Round", "round", sides, "round_start", "-36.4, 140.1").mustLead(t, "/paddocks/2")
	w.contractor.get("/paddocks/2").mustShow(t, 200, ">12.0</b> ha gross", "4 sides of 1400 m in all, missing the start by 0.0 m")
	w.contractor.post("/paddocks/2/boundary", "round", "90, 400\n0, 300\n270, 400", "round_start", "-36.4, 140.1").mustShow(t, 422, "300 m from the start", "tick “close it for me”")
	w.contractor.post("/paddocks/2/boundary", "round", "90, 400\n0, 300\n270, 400", "round_start", "-36.4, 140.1", "close_ring", "on").mustLead(t, "/paddocks/2?done=kept")
	w.contractor.get("/paddocks/2").mustShow(t, 200, ">12.0</b> ha gross", "closed as asked")
}

func TestRepairsAreOfferedByTheFormAndDoneOnATick(t *testing.T) {
	w := newTown(t)
	w.contractor.post("/farms/new", farmForm...).mustLead(t, "/farms/1")
	const page = "/farms/1/paddocks/new"
	w.contractor.get(page).mustShow(t, 200, `type="checkbox" id="close_ring"`, "Nothing is mended unasked.")
	const swapped = "140.1, -36.41\n140.11, -36.41\n140.11, -36.4\n140.1, -36.4"
	w.contractor.post(page, "name", "Bore", "boundary_text", swapped).mustShow(t, 422, "look swapped", "tick “swap them for me”", "140.1, -36.41")
	w.contractor.post(page, "name", "Bore", "boundary_text", swapped, "swap_axes", "on", "close_ring", "").mustLead(t, "/paddocks/1")
	w.contractor.get("/paddocks/1").mustShow(t, 200, ">99.5</b> ha gross", "swapped latitude and longitude as asked")

	const open = `{"type":"Polygon","coordinates":[[[140.1,-36.41],[140.11,-36.41],[140.11,-36.4],[140.1,-36.4]]]}`
	w.contractor.post(page, "name", "Lane", "boundary_text", open).mustShow(t, 422, "the ring is open", "tick “close it for me”")
	w.contractor.post(page, "name", "Lane", "boundary_text", open, "close_ring", "on").mustLead(t, "/paddocks/2")
	w.contractor.get("/paddocks/2").mustShow(t, 200, ">99.5</b> ha gross", "closed 1 open ring as asked")
}
