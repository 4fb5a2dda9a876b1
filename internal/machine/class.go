package machine

import (
	"strings"

	"rowtally/internal/fault"
)

// class is one class of machines with the factors that a table prints for it.
type class[T any] struct {
	name    string
	factors T
}

// namesOf lists the classes as the tables print them.
func namesOf[T any](classes []class[T]) []string {
	var names []string
	for _, c := range classes {
		names = append(names, c.name)
	}
	return names
}

// factorsOf finds a class by its name, or by the first words of the name where no other
// class begins so ("Tractor 2WD"). Capitals do not matter. Anything else is refused with
// the names that there are.
func factorsOf[T any](classes []class[T], name string) (T, error) {
	var found []T
	for _, c := range classes {
		if strings.EqualFold(c.name, name) {
			return c.factors, nil
		}
		if beginsWith(c.name, name) {
			found = append(found, c.factors)
		}
	}
	if len(found) == 1 {
		return found[0], nil
	}
	var none T
	return none, fault.Refuse("machine_class", "there is no machine class %q, enter one of: %s", name, strings.Join(namesOf(classes), "; "))
}

// beginsWith tells whether whole words of the name are all that was given.
func beginsWith(name, given string) bool {
	return given != "" && len(given) < len(name) && name[len(given)] == ' ' && strings.EqualFold(name[:len(given)], given)
}
