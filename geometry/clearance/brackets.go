package clearance

import (
	"math"
	"slices"
	"strconv"

	"axleloft/geometry/job"
	"axleloft/geometry/shape"
)

// extra is what counts of a part against what it is mounted on.
type extra struct {
	part, solid int
	cuts        [][2]float64 // per bar of the part: what is not counted at either end, mm; infinite where nothing of the bar counts
}

// pair lists the pairs: every mover against every part that another body carries.
func (c *compiler) pair() {
	for a := range c.Parts {
		pa := &c.Parts[a]
		if pa.Body == OnFrame {
			break // envelopes come last
		}
		for b := a + 1; b < len(c.Parts); b++ {
			pb := &c.Parts[b]
			if pa.Body == OnAxle && pb.Body == OnAxle {
				continue
			}
			if c.halfHousing != "" && (pa.Kind == HousingPart || pb.Kind == HousingPart) {
				c.LeftOut = append(c.LeftOut, LeftOut{pa.Name, pb.Name, "of the housing only the other shapes: " + c.halfHousing})
			}
			sideA, okA := c.against(a, b)
			sideB, okB := c.against(b, a)
			if !okA || !okB {
				continue
			}
			c.Pairs = append(c.Pairs, Pair{A: a, B: b, Required: math.Max(pa.Required, pb.Required)})
			c.sides = append(c.sides, [2]int{sideA, sideB})
		}
	}
	for i, why := range c.skins {
		if why != "" {
			c.without(c.Parts[i].Name, why)
		}
	}
}

// against returns the solid that part a is against part b: a itself or, where b is what a is mounted on, what lies beyond the reach of its bracket. ok is false where nothing
// is left. What is left out is listed.
func (c *compiler) against(a, b int) (solid int, ok bool) {
	var cuts [][2]float64
	var reaches []float64 // that count, each once
	whole, left, still := true, false, false
	for _, n := range c.members[a] {
		var cut [2]float64
		for end, k := range c.own[n] {
			if k.reach > 0 && c.mounted(a, b, k) {
				cut[end] = k.reach
				whole = false
				if !slices.Contains(reaches, k.reach) {
					reaches = append(reaches, k.reach)
				}
			}
		}
		switch {
		case c.still[n] && c.Parts[b].Body == OnFrame:
			whole, still = false, true
			cut[0] = math.Inf(1)
		case c.bars[n].centreLine() <= cut[0]+cut[1]:
			cut[0] = math.Inf(1)
		default:
			left = true
		}
		cuts = append(cuts, cut)
	}
	if whole {
		return a, true
	}
	bracket := "its own bracket"
	if len(reaches) > 1 {
		bracket = "its own brackets"
	}
	why := ""
	switch {
	case !left:
		why = "all of it lies within " + list(reaches) + " mm of " + bracket
	case len(reaches) > 0:
		why = "only beyond " + list(reaches) + " mm from " + bracket
	}
	if still {
		if why != "" {
			why = ", and of that " + why
		}
		why = "only its rear piece, since the front one stands still" + why
	}
	c.LeftOut = append(c.LeftOut, LeftOut{c.Parts[a].Name, c.Parts[b].Name, why})
	if !left {
		return 0, false
	}
	return c.shorten(a, cuts), true
}

// list writes lengths in words: "80", "80 and 60".
func list(mm []float64) string {
	s := ""
	for i, v := range mm {
		switch {
		case i > 0 && i == len(mm)-1:
			s += " and "
		case i > 0:
			s += ", "
		}
		s += strconv.FormatFloat(v, 'f', -1, 64)
	}
	return s
}

// mounted reports whether part b is what an end of part a is mounted on: at an axle end axle tube and housings, never the tyre; at a frame end the
// envelopes whose carries names the part (a rod answers to its rocker's name too); of the driveshaft the housing at its pinion joint; of a strut on a link or arm that one.
func (c *compiler) mounted(a, b int, k mount) bool {
	pb := &c.Parts[b]
	switch k.on {
	case theFrame:
		return pb.Kind == EnvelopePart && (job.Carried(c.carries[b], c.Parts[a].Name) || c.also[a] != "" && job.Carried(c.carries[b], c.also[a]))
	case theAxle:
		return pb.Kind == TubePart || pb.Kind == HousingPart
	case theHousing:
		return pb.Kind == HousingPart
	case another:
		return b == k.part
	}
	return false
}

// shorten returns the solid that is part a less the cuts, adding it if it is new.
func (c *compiler) shorten(a int, cuts [][2]float64) int {
	for _, e := range c.extras {
		if e.part == a && slices.Equal(e.cuts, cuts) {
			return e.solid
		}
	}
	n := len(c.fixed)
	var s shape.Solid
	for i, k := range c.members[a] {
		if math.IsInf(cuts[i][0], 1) {
			continue
		}
		b := &c.bars[k]
		b.rests = append(b.rests, rest{solid: n, first: len(s.Pieces), cut: cuts[i]})
		s.Pieces = append(s.Pieces, b.solid()...)
	}
	c.fixed = append(c.fixed, s)
	c.extras = append(c.extras, extra{a, n, cuts})
	return n
}
