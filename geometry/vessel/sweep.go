package vessel

import (
	"axleloft/geometry/cell"
	"axleloft/geometry/clearance"
	"axleloft/geometry/motion"
)

// Movers lists what comes near a part of the frame over the range where the axle stands as over says; nil: nothing is proved of that. inside tells of a pose whether it is within every limit; tried gives positions of the
// range for what cannot be proved, and is asked only then.
func Movers(c *clearance.Model, part int, over *cell.Cover, inside func(*motion.Pose) bool, tried func() []motion.Pose) *clearance.Sweep {
	over = over.Clone()
	if w := c.NewSweep(part, over, inside, nil); w.Proved() {
		return w
	}
	return c.NewSweep(part, over, inside, tried())
}
