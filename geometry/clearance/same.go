package clearance

import (
	"axleloft/geometry/alike"
)

// Matches finds, for every pair, a pair of another model whose gap is the same to the last bit at every position and whose proof is: the same shapes, carried alike. -1 where there is none. Names and
// what gap is wanted may differ. Both mechanisms must have the same motion (motion.SameMotion); the points a shape hangs on are compared here.
func (c *Model) Matches(o *Model) []int {
	match := make([]int, len(c.Pairs))
	if c == o {
		for i := range match {
			match[i] = i
		}
		return match
	}
	mine, its := c.counted(), o.counted()
	to := make([]int, len(mine))
	for n := range mine {
		to[n] = -1
		if n < len(its) && alike.Same(&mine[n], &its[n], asideOfShape...) {
			to[n] = n
			continue
		}
		for k := range its {
			if alike.Same(&mine[n], &its[k], asideOfShape...) {
				to[n] = k
				break
			}
		}
	}
	at := map[[2]int]int{}
	for k := len(o.Pairs) - 1; k >= 0; k-- {
		at[o.sides[k]] = k
	}
	for i := range match {
		match[i] = -1
		if k, ok := at[[2]int{to[c.sides[i][0]], to[c.sides[i][1]]}]; ok {
			match[i] = k
		}
	}
	return match
}

var asideOfShape = []string{"rests", "Name", "Ref"}

// counted is a solid as gaps are measured against it, and what carries it.
type counted struct {
	body   Body
	pieces any // of what frame and axle carry: the pieces
	bars   []counts
}

// counts is a bar, or what of it counts, in a solid.
type counts struct {
	bar   *bar
	first int
	cut   [2]float64
}

func (c *Model) counted() []counted {
	list := make([]counted, len(c.fixed))
	for n := range list {
		k := &list[n]
		k.body = Between // of what lies beyond own brackets
		if n < len(c.Parts) {
			k.body = c.Parts[n].Body
		}
		if k.body != Between {
			k.pieces = c.fixed[n].Pieces
		}
	}
	for i := range c.bars {
		b := &c.bars[i]
		for _, r := range b.rests {
			list[r.solid].bars = append(list[r.solid].bars, counts{b, r.first, r.cut})
		}
	}
	return list
}
