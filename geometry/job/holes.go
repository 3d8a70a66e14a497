package job

import (
	"math"
	"strings"
)

// MostHoles is how many holes a pivot may have.
const MostHoles = 40

// leastStep is how near two holes of a row may lie, mm.
const leastStep = 0.5

// Places are the holes, the first being number 1; nil where they are not all there.
func (h *Holes) Places() []Point {
	if len(h.At) > 0 {
		return h.At
	}
	if h.First == nil || h.Step == nil {
		return nil
	}
	out := make([]Point, 0, h.Count)
	for i := range h.Count {
		k := float64(i)
		out = append(out, Point{h.First[0] + k*h.Step[0], h.First[1] + k*h.Step[1], h.First[2] + k*h.Step[2]})
	}
	return out
}

// Hole is the number of the hole a place lies in, 0 where it is in none; near is how far off it may be, mm.
func (h *Holes) Hole(at Point, near float64) int {
	best, least := 0, near
	for i, p := range h.Places() {
		if d := math.Sqrt((p[0]-at[0])*(p[0]-at[0]) + (p[1]-at[1])*(p[1]-at[1]) + (p[2]-at[2])*(p[2]-at[2])); d <= least {
			best, least = i+1, d
		}
	}
	return best
}

// whose checks that something says which part's pivot it is of, and which one; what words it: "these holes are for".
func (c *checker) whose(p, of, end, what string) bool {
	switch {
	case strings.TrimSpace(of) == "":
		c.add(join(p, "of"), 0, "It does not say which part's pivot %s. Name it.", what)
	case strings.TrimSpace(end) == "":
		c.add(join(p, "end"), 0, "It does not say which pivot of %q %s. Give \"frame\", \"axle\" or such.", clip(of), what)
	default:
		return true
	}
	return false
}

// holes checks rows of holes: that they say whose they are, that a row is whole, and that a pivot has one row. A part may be missing: another layout may not have it.
func (c *checker) holes(j *Job) {
	taken := map[[2]string]bool{}
	for i := range j.Holes {
		h, p := &j.Holes[i], item("holes", i)
		if c.whose(p, h.Of, h.End, "these holes are for") && taken[[2]string{h.Of, h.End}] {
			c.add(p, 0, "%q has two rows of holes at %q. Put all its holes into one.", clip(h.Of), clip(h.End))
		}
		taken[[2]string{h.Of, h.End}] = true
		row := h.First != nil || h.Step != nil || h.Count != 0
		switch {
		case row && len(h.At) > 0:
			c.add(p, 0, "A row and single holes are given. Keep one of them.")
		case !row && len(h.At) < 2:
			c.add(p, 0, "At least two holes are expected: a row by \"first\", \"step\" and \"count\", or each in \"at\".")
		case row && (h.First == nil || h.Step == nil || h.Count < 2):
			c.add(p, 0, "A row of holes needs \"first\", \"step\" and \"count\", the last at least 2.")
		}
		list := h.Places()
		for a := range list {
			for b := range a {
				if d := (&Holes{At: []Point{list[b]}}).Hole(list[a], leastStep); d != 0 {
					c.add(p, 0, "Holes %d and %d lie in one place. Correct the step, or take one out.", b+1, a+1)
					return
				}
			}
		}
		c.given(h.Given, h, p)
	}
}
