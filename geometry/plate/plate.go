// Package plate unfolds brackets: the flat outlines of the plates a bracket is made of, their holes and folds, exact, full size.
//
// Places are mm; y is up, away from the mounting face; the pivot's hole of an upright plate is the origin, the middle of a folded one.
package plate

import (
	"fmt"
	"math"

	"axleloft/geometry/job"
)

// Point is a corner; Bulge is the tangent of a quarter of the angle that the edge beginning there turns through, + anticlockwise, 0 for a straight one.
type Point struct{ X, Y, Bulge float64 }

// Hole is round.
type Hole struct {
	X, Y, Diameter float64
	Pivot          bool // the bolt of the pivot goes through it
}

// Line is straight.
type Line struct{ X1, Y1, X2, Y2 float64 }

// Plate is one flat piece.
type Plate struct {
	Name      string
	Count     int  // how many there are of it
	Handed    bool // the other side of the vehicle has it turned over: it is not the same turned round
	Thickness float64
	Outline   []Point // closed, anticlockwise
	Holes     []Hole
	Folds     []Line  // middle lines of the folds, each by 90 deg upward
	Bend      float64 // inside radius of the folds
	Face      *Line   // the mounting face, where it lies within the plate or is its edge
	Notes     []string
}

// Of are the plates of a checked bracket, those that stand upright first. The error is a plain sentence: a shape that cannot be.
func Of(b *job.Bracket) ([]Plate, error) {
	cheek, err := upright(b)
	if err != nil {
		return nil, err
	}
	switch b.Kind {
	case "pair":
		cheek.Count = 2
		cheek.Name = "Plate of the pair"
	case "saddle":
		cheek.Count = 2
		cheek.Name = "Plate on the saddle"
		s, err := saddle(b)
		if err != nil {
			return nil, err
		}
		return []Plate{cheek, s}, nil
	}
	return []Plate{cheek}, nil
}

// upright is the plate round the pivot's hole: a half round end whose sides run tangent to the mounting face's two corners, and past that face straight
// on where it is bolted.
func upright(b *job.Bracket) (Plate, error) {
	p := Plate{Name: "Plate", Count: 1, Thickness: b.Thickness, Handed: b.OffsetOr0() != 0}
	half, off, r := b.WidthOrUsual()/2, b.OffsetOr0(), b.Edge
	left, right := Point{X: off - half, Y: -b.Base}, Point{X: off + half, Y: -b.Base}
	// The tangent from an outer corner (cx, cy) touches the circle of radius r about the origin where the angle at the middle from the corner's direction is acos(r/d).
	touch := func(c Point, side float64) (Point, error) {
		d := math.Hypot(c.X, c.Y)
		if d <= r {
			return Point{}, fmt.Errorf("the plate is so narrow at the mounting face that the round end round the hole is wider. Make it wider, or the edge smaller")
		}
		a := math.Atan2(c.Y, c.X) + side*math.Acos(r/d)
		sn, cs := math.Sincos(a)
		return Point{X: r * cs, Y: r * sn}, nil
	}
	tr, err := touch(right, 1)
	if err != nil {
		return p, err
	}
	tl, err := touch(left, -1)
	if err != nil {
		return p, err
	}
	turn := math.Mod(math.Atan2(tl.Y, tl.X)-math.Atan2(tr.Y, tr.X)+4*math.Pi, 2*math.Pi)
	tr.Bulge = math.Tan(turn / 4)
	p.Holes = []Hole{{Diameter: b.Hole, Pivot: true}}
	p.Face = &Line{left.X, left.Y, right.X, right.Y}
	n := b.Pattern
	if n == nil || b.Kind == "saddle" {
		p.Outline = []Point{left, right, tr, tl}
		p.Notes = append(p.Notes, "The mounting face is this plate's straight edge: it is welded there, allow for the gap of the weld.")
		return p, nil
	}
	end := -b.Base - n.In - n.EdgeOrUsual()
	p.Outline = []Point{{X: left.X, Y: end}, {X: right.X, Y: end}, right, tr, tl, left}
	p.row(n, off, -b.Base-n.In)
	p.Notes = append(p.Notes, "The dashed line is where the mounting face begins; past it the plate lies on it and is bolted.")
	return p, nil
}

// row adds a row of holes about a middle.
func (p *Plate) row(n *job.Pattern, x, y float64) {
	for i := range n.Count {
		at := x - n.Span()/2
		if n.Pitch != nil {
			at += float64(i) * *n.Pitch
		}
		p.Holes = append(p.Holes, Hole{X: at, Y: y, Diameter: n.Hole})
	}
}

// Neutral is how far into a sheet, as a share of half its thickness, the line lies that keeps its length when it is folded: k = 0.65 + 0.5 log10(r/s), at
// most 1 (DIN 6935:2011, cold bending of flat steel; from memory). r is the inside radius and s the thickness, mm.
func Neutral(r, s float64) float64 {
	return math.Max(0, math.Min(1, 0.65+0.5*math.Log10(r/s)))
}

// Arc is the length of a fold by 90 deg along that line, mm: pi/2 (r + k s/2).
func Arc(r, s float64) float64 { return math.Pi / 2 * (r + Neutral(r, s)*s/2) }

// saddle is the folded plate, flat: two legs and the web, x along the rail, y across it.
func saddle(b *job.Bracket) (Plate, error) {
	s, r := b.Sheet()
	leg, web := b.Rail.Leg-r, b.Rail.Width-2*r // straight parts, inside the folds
	if leg <= 0 || web <= 0 {
		return Plate{}, fmt.Errorf("the folds of %.1f mm inside radius leave nothing straight of the rail's %.1f mm or of the legs' %.1f mm. Make the radius smaller", r, b.Rail.Width, b.Rail.Leg)
	}
	arc, long := Arc(r, s), b.Along()
	half := web/2 + arc + leg
	p := Plate{Name: "Folded plate of the saddle", Count: 1, Thickness: s, Bend: r,
		Outline: []Point{{X: -long / 2, Y: -half}, {X: long / 2, Y: -half}, {X: long / 2, Y: half}, {X: -long / 2, Y: half}}}
	for _, side := range []float64{1, -1} {
		y := side * (web/2 + arc/2)
		p.Folds = append(p.Folds, Line{-long / 2, y, long / 2, y})
		if n := b.Pattern; n != nil {
			p.row(n, 0, side*(half-n.In))
		}
	}
	p.Notes = append(p.Notes,
		fmt.Sprintf("Flat %.1f mm across: web %.1f, two folds of %.1f each, legs %.1f, straight parts; folds 90 deg, inside radius %.1f, k %.2f by DIN 6935 (from memory). Fold a strip of the same plate first and measure it. Measure the rail's corners too: folds of a larger inside radius than theirs do not lie on it.", 2*half, web, arc, leg, r, Neutral(r, s)),
		fmt.Sprintf("The two plates stand on the web, %.1f mm clear between them, along the rail or across it as the bolt lies.", *b.Gap))
	return p, nil
}

// Bounds is the smallest upright box round a plate.
func (p *Plate) Bounds() (x0, y0, x1, y1 float64) {
	x0, y0, x1, y1 = math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, c := range p.Path(64) {
		x0, y0, x1, y1 = math.Min(x0, c.X), math.Min(y0, c.Y), math.Max(x1, c.X), math.Max(y1, c.Y)
	}
	return x0, y0, x1, y1
}

// Path is the outline in straight lines, arcs in so many each.
func (p *Plate) Path(steps int) []Point {
	var out []Point
	for i, a := range p.Outline {
		out = append(out, Point{X: a.X, Y: a.Y})
		if a.Bulge == 0 {
			continue
		}
		b := p.Outline[(i+1)%len(p.Outline)]
		turn := 4 * math.Atan(a.Bulge)
		chord := math.Hypot(b.X-a.X, b.Y-a.Y)
		if chord == 0 {
			continue
		}
		h := chord / 2 / math.Tan(turn/2)
		cx, cy := (a.X+b.X)/2-(b.Y-a.Y)/chord*h, (a.Y+b.Y)/2+(b.X-a.X)/chord*h
		for k := 1; k < steps; k++ {
			sn, cs := math.Sincos(turn * float64(k) / float64(steps))
			dx, dy := a.X-cx, a.Y-cy
			out = append(out, Point{X: cx + cs*dx - sn*dy, Y: cy + sn*dx + cs*dy})
		}
	}
	return out
}

// Area is what a plate covers, holes taken out, mm2: a polygon's by its corners, and the segments of its arcs.
func (p *Plate) Area() float64 {
	sum := 0.0
	for i, a := range p.Outline {
		b := p.Outline[(i+1)%len(p.Outline)]
		sum += (a.X*b.Y - b.X*a.Y) / 2
		if a.Bulge != 0 {
			turn := 4 * math.Atan(a.Bulge)
			r := math.Hypot(b.X-a.X, b.Y-a.Y) / 2 / math.Sin(turn/2)
			sum += r * r / 2 * (turn - math.Sin(turn))
		}
	}
	for _, h := range p.Holes {
		sum -= math.Pi / 4 * h.Diameter * h.Diameter
	}
	return sum
}
