package clearance

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
