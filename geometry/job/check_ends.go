package job

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// between is the angle of two directions taken as lines, deg, 0 to 90; false where one of them is too short to have a direction.
func between(a, b r3.Vec) (deg float64, ok bool) {
	if r3.Norm(a) < minDirection || r3.Norm(b) < minDirection {
		return 0, false
	}
	a, b = r3.Unit(a), r3.Unit(b)
	return math.Atan2(r3.Norm(r3.Cross(a, b)), math.Abs(r3.Dot(a, b))) * 180 / math.Pi, true
}

// end checks a link's end; along is the link's direction, zero where a bolt may lie as it likes.
func (c *checker) end(e *End, along r3.Vec, p string) {
	if e == nil {
		return
	}
	c.direction(e.Bolt, join(p, "bolt"))
	if e.Clevis != nil {
		c.clevis(e, join(p, "clevis"))
	}
	c.screws(e, p)
	if e.Bolt == nil || r3.Norm(along) < minSpan {
		return
	}
	if deg, ok := between(e.Bolt.Vec(), along); ok && deg < minBoltAngle {
		c.add(join(p, "bolt"), 0, "The bolt [%s] lies %.1f deg from the line between the pivots; at least %s deg is expected, and usually it is square to it. Turn the bolt.", triple(*e.Bolt), deg, figure(minBoltAngle))
	}
}

// screws checks what an end takes of its link and how it screws.
func (c *checker) screws(e *End, p string) {
	switch {
	case e.Adjust != nil && e.Takes != nil && *e.Adjust >= *e.Takes:
		c.add(join(p, "adjust"), 0, "The end screws %s mm in and takes only %s mm of the link; it would go through its own pivot. Correct one of them.", figure(*e.Adjust), figure(*e.Takes))
	case e.Adjust == nil && (e.Thread != nil || e.Hand != ""):
		c.add(join(p, "thread"), 0, "A thread is given and not how far it screws. Give \"adjust\", mm in and out from the middle, or take the thread out.")
	}
}

// clevis checks that a rod end's head and ball fit each other and the gap they sit in.
func (c *checker) clevis(e *End, p string) {
	v := e.Clevis
	if e.Kind == "bush" {
		c.add(p, 0, "A clevis is given for a bush; it belongs to a ball or a stud, whose head may touch its cheeks. Take it out, or correct the kind.")
		return
	}
	gap := or(v.Gap, v.BallWidth)
	switch {
	case v.HeadWidth >= v.BallWidth:
		c.add(join(p, "headWidth"), 0, "The head is %s and the ball %s mm wide; the ball is the wider one, and the cheeks clamp it. Correct one of them.", figure(v.HeadWidth), figure(v.BallWidth))
	case gap < v.BallWidth:
		c.add(join(p, "gap"), 0, "The gap is %s and the ball %s mm wide; the ball goes between the cheeks, so the gap is no smaller. Correct one of them.", figure(gap), figure(v.BallWidth))
	case v.Head <= gap:
		c.add(join(p, "head"), 0, "The head is %s mm across and the gap %s mm; the head is the larger, else it turns freely between the cheeks and there is nothing to work out. Correct one of them, or take \"clevis\" out.", figure(v.Head), figure(gap))
	case v.EdgeRadius != nil && *v.EdgeRadius > v.HeadWidth/2:
		c.add(join(p, "edgeRadius"), 0, "The edges are rounded by %s mm; that is at most half the head's width, %s mm. Correct it, or leave it out for square edges.", figure(*v.EdgeRadius), figure(v.HeadWidth/2))
	}
}
