package vessel

import (
	"context"
	"errors"

	"axleloft/geometry/cell"
	"axleloft/geometry/clearance"
	"axleloft/geometry/motion"
)

// Movers lists what comes near a part of the frame over the range, proved between positions where that can be had. inside tells of a pose whether it is within every limit; tried gives positions of the
// range for what cannot be proved, and is asked only then. An error is the context's.
func Movers(ctx context.Context, m *motion.Mechanism, c *clearance.Model, part int, inside func(*motion.Pose) bool, tried func() []motion.Pose) (*clearance.Sweep, error) {
	tree, err := cell.Build(ctx, m)
	switch {
	case ctx.Err() != nil:
		return nil, ctx.Err()
	case errors.Is(err, cell.ErrLayout), errors.Is(err, cell.ErrProof), errors.Is(err, cell.ErrUnbounded):
		return c.NewSweep(part, nil, inside, tried()), nil
	case err != nil:
		return nil, err
	}
	w := c.NewSweep(part, tree, inside, nil)
	for i := range w.Swept {
		if !w.Swept[i].Proved {
			return c.NewSweep(part, tree, inside, tried()), nil
		}
	}
	return w, nil
}
