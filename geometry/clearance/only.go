package clearance

import "axleloft/geometry/shape"

// Only is the model with some of its pairs; parts and their indices stay.
func (c *Model) Only(keep func(p *Pair) bool) *Model {
	out := *c
	out.Pairs, out.sides = nil, nil
	for i := range c.Pairs {
		if keep(&c.Pairs[i]) {
			out.Pairs, out.sides = append(out.Pairs, c.Pairs[i]), append(out.sides, c.sides[i])
		}
	}
	return &out
}

// Some is the model with the pairs of these numbers, in their order.
func (c *Model) Some(pairs []int) *Model {
	out := *c
	out.Pairs, out.sides = nil, nil
	for _, i := range pairs {
		out.Pairs, out.sides = append(out.Pairs, c.Pairs[i]), append(out.sides, c.sides[i])
	}
	return &out
}

// FromFile reports whether a part is a surface from a file, or has one.
func (c *Model) FromFile(part int) bool {
	for i := range c.fixed[part].Pieces {
		if c.fixed[part].Pieces[i].Kind == shape.Surface {
			return true
		}
	}
	return false
}
