package cell

import "axleloft/geometry/motion"

// Cover is what is known of where the axle stands over its range: everywhere, or everywhere but near the end of what the links let it do, next to the range's edge. Read-only.
type Cover struct {
	*Tree
	Last  float64       // mm from the edge of the range within which nothing is proved there; 0: proved everywhere
	Tried []motion.Pose // positions there
}

// Clone returns a copy whose cells can be split on their own; nil of nil.
func (c *Cover) Clone() *Cover {
	if c == nil {
		return nil
	}
	return &Cover{c.Tree.Clone(), c.Last, c.Tried}
}
