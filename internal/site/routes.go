package site

import (
	"github.com/gofiber/fiber/v2"

	"rowtally/internal/job"
)

// openness tells who may use a route beside the roles it names.
type openness int

const (
	closed   openness = iota // the roles named, signed in
	anyone                   // whoever knows the address: sign-in, and farmers by their link
	firstRun                 // only while there is no business yet
	alive                    // probes, before anything else is looked at
)

// route is one line of the table: what may be asked, and by whom.
type route struct {
	method, path string
	open         openness
	roles        []job.Role
	answer       handler
}

const get, post = fiber.MethodGet, fiber.MethodPost

// routes is every address that the site answers. A test tries each line as every role.
func (s *site) routes() []route {
	var table []route
	for _, part := range [][]route{
		s.doorRoutes(), s.businessRoutes(), s.taxRoutes(), s.seasonRoutes(), s.farmRoutes(), s.readingRoutes(), s.jobRoutes(), s.mixingRoutes(), s.shedRoutes(),
		s.machineRoutes(), s.truckRoutes(), s.sownRoutes(), s.paperRoutes(), s.farmerRoutes(),
		s.accountRoutes(), s.costRoutes(),
		s.quoteRoutes(), s.alternativeRoutes(),
		s.questionRoutes(),
		s.countRoutes(), s.recordRoutes(),
	} {
		table = append(table, part...)
	}
	return table
}

// contractors and crew are the two sets of roles that routes name.
var (
	contractors = []job.Role{job.Contractor}
	crew        = []job.Role{job.Contractor, job.Operator}
)

// office is a route for the contractor alone.
func office(method, path string, answer handler) route {
	return route{method: method, path: path, roles: contractors, answer: answer}
}

// field is a route for the contractor and the operator.
func field(method, path string, answer handler) route {
	return route{method: method, path: path, roles: crew, answer: answer}
}
