package study

import (
	"fmt"
	"math"

	"axleloft/app/words"
	"axleloft/geometry/swept"
	"axleloft/plotting/drawing"
	"axleloft/plotting/ink"
	"axleloft/plotting/paper"

	"gonum.org/v1/gonum/spatial/r3"
)

// A page has 96 units an inch.
const unitsPerMM = 96 / 25.4

// MostSheet is how wide and high a sheet of sections may be, units.
const MostSheet = 19_000.0

// axisWords name the axes, and where their positive side is.
var axisWords = [3]string{words.Mark("X, forward"), words.Mark("Y, left"), words.Mark("Z, up")}

// SectionName says where a section lies: "X 120 mm". length writes mm with their unit.
func SectionName(axis int, at float64, length func(mm float64) string) string {
	return axisWords[axis][:1] + " " + length(at)
}

// flat takes a place to the view that sees a section face-on: across X seen from behind, across Y from the vehicle's right, across Z from above with the nose to the right.
func flat(axis int, p r3.Vec) (right, up float64) {
	switch axis {
	case 0:
		return -p.Y, p.Z
	case 1:
		return p.X, p.Z
	}
	return p.X, p.Y
}

// acrossWords say how a section is seen.
var acrossWords = [3]string{words.Mark("seen from behind"), words.Mark("seen from the right, nose to the right"), words.Mark("seen from above, nose to the right")}

// RoomSheet draws the sections of a room at one scale, each with its outline to scale in long dashes with two dots, the lines of its axes in the middle, and its extents in words. scale is mm on paper for each mm: 1 for
// full size. length writes mm with their unit. The error is a plain sentence.
func RoomSheet(r *Room, scale float64, inch bool, head paper.Head, length func(mm float64) string) (drawing.Sheet, error) {
	const (
		pad     = 44.0
		beside  = 100.0 // for words right of the outline
		indent  = 8.0
		gap     = 30.0
		leading = 19.0
		size    = 15.0
	)
	k := unitsPerMM * scale
	head.Title = words.F("Room taken: %s", r.Title(length))
	head.Notes = words.F("%s Brackets included. Body axes: X forward, Y left, Z up, from the ground under the axle at ride height; lengths in %s; drawn %s.", r.HowWords(), unitName(inch), ScaleWords(scale))
	out := drawing.Sheet{Head: head, Scale: k, Inch: inch}
	y := 0.0
	for _, c := range r.Sections {
		phrase := []string{words.F("Section at %s, %s", SectionName(c.Axis, c.At, length), words.T(acrossWords[c.Axis]))}
		lo, hi, ok := SectionBox(c)
		w, h := 0.0, 0.0
		var x0, y1 float64
		if ok {
			phrase = append(phrase, extentWords(c, lo, hi, length), fmt.Sprintf("%s; %s", AreaWords(c.Area, inch), r.LargerWords(c.Larger, length)))
			ax, ay := flat(c.Axis, lo)
			bx, by := flat(c.Axis, hi)
			x0, y1 = math.Min(ax, bx), math.Max(ay, by)
			w, h = math.Abs(bx-ax)*k, math.Abs(by-ay)*k
		} else {
			phrase = append(phrase, words.T("It does not come there."))
		}
		pic := drawing.Picture{Width: w + 2*pad + beside, Height: float64(len(phrase))*leading + 12}
		if ok {
			pic.Height += h + 2*pad
		}
		at := 4.0
		for i, line := range phrase {
			tw, th := paper.Measure(line, size, i == 0)
			role := ink.Text
			if i > 0 {
				role = ink.Second
			}
			pic.Width = math.Max(pic.Width, tw+2*indent)
			pic.Items = append(pic.Items, drawing.Item{Kind: drawing.Text, Layer: drawing.Names, Stroke: role, Fill: ink.None, Size: size, Bold: i == 0, Words: line, Points: []drawing.Point{{X: indent, Y: at}, {X: tw, Y: th}}})
			at += leading
		}
		if ok {
			top := at + 8 + pad
			place := func(p r3.Vec) drawing.Point {
				u, v := flat(c.Axis, p)
				return drawing.Point{X: pad + (u-x0)*k, Y: top + (y1-v)*k}
			}
			for _, l := range c.Loops {
				pts := make([]drawing.Point, 0, len(l)+1)
				for _, p := range l {
					pts = append(pts, place(p))
				}
				pic.Items = append(pic.Items, drawing.Item{Kind: drawing.Dashed, Layer: drawing.Pencil, Stroke: ink.Text, Fill: ink.None, Width: 1.5, Points: append(pts, pts[0])})
			}
			pic.Items = append(pic.Items, cross(c, lo, hi, place, length)...)
		}
		if pic.Width > MostSheet || y+pic.Height > MostSheet {
			return out, words.Errorf("At that scale the sheet is larger than 5 m. Give a smaller scale, such as 1:10.")
		}
		out.Views = append(out.Views, drawing.Placed{Picture: pic, Y: y})
		y += pic.Height + gap
	}
	return out, nil
}

// cross are the two lines through the middle of a section's box, along the body axes, with where they lie.
func cross(c *swept.Section, lo, hi r3.Vec, place func(r3.Vec) drawing.Point, length func(mm float64) string) []drawing.Item {
	mid := r3.Scale(0.5, r3.Add(lo, hi))
	round := func(v float64) float64 { return math.Round(v/10) * 10 }
	mid = r3.Vec{X: round(mid.X), Y: round(mid.Y), Z: round(mid.Z)}
	at := func(v r3.Vec, axis int, to float64) r3.Vec {
		x := [3]float64{v.X, v.Y, v.Z}
		x[c.Axis], x[axis] = c.At, to
		return r3.Vec{X: x[0], Y: x[1], Z: x[2]}
	}
	from, to, m := [3]float64{lo.X, lo.Y, lo.Z}, [3]float64{hi.X, hi.Y, hi.Z}, [3]float64{mid.X, mid.Y, mid.Z}
	var out []drawing.Item
	for _, axis := range [2]int{(c.Axis + 1) % 3, (c.Axis + 2) % 3} {
		a, b := place(at(mid, axis, from[axis])), place(at(mid, axis, to[axis]))
		other := 3 - c.Axis - axis
		phrase := axisWords[other][:1] + " " + length(m[other])
		w, h := paper.Measure(phrase, 15, false)
		// beyond the outline, the words at the line's upper or right end
		const over = 12.0
		p := drawing.Point{}
		if math.Abs(b.X-a.X) > math.Abs(b.Y-a.Y) {
			a.X, b.X = math.Min(a.X, b.X)-over, math.Max(a.X, b.X)+over
			p.X, p.Y = b.X+4, a.Y-h/2
		} else {
			a.Y, b.Y = math.Max(a.Y, b.Y)+over, math.Min(a.Y, b.Y)-over
			p.X, p.Y = a.X-w/2, b.Y-h-2
		}
		out = append(out, drawing.Item{Kind: drawing.Line, Layer: drawing.PartLines, Stroke: ink.PartLine, Fill: ink.None, Width: 1, Points: []drawing.Point{a, b}},
			drawing.Item{Kind: drawing.Text, Layer: drawing.Names, Stroke: ink.Second, Fill: ink.None, Size: 15, Words: phrase, Points: []drawing.Point{p, {X: w, Y: h}}})
	}
	return out
}

// extentWords say from where to where a section reaches.
func extentWords(c *swept.Section, lo, hi r3.Vec, length func(mm float64) string) string {
	from, to := [3]float64{lo.X, lo.Y, lo.Z}, [3]float64{hi.X, hi.Y, hi.Z}
	phrase := ""
	for axis := range 3 {
		if axis == c.Axis {
			continue
		}
		if phrase != "" {
			phrase += ", "
		}
		phrase += words.F("%s %s to %s", axisWords[axis][:1], length(from[axis]), length(to[axis]))
	}
	return phrase
}

// ExtentWords say from where to where a section reaches; "" where there is nothing.
func ExtentWords(c *swept.Section, length func(mm float64) string) string {
	lo, hi, ok := SectionBox(c)
	if !ok {
		return ""
	}
	return extentWords(c, lo, hi, length)
}

// AreaWords write an area in square centimetres or inches.
func AreaWords(mm2 float64, inch bool) string {
	if inch {
		return words.F("%.1f square inches", mm2/25.4/25.4)
	}
	return words.F("%.1f cm²", mm2/100)
}

// ScaleWords write a scale: 1:10.
func ScaleWords(scale float64) string {
	if scale > 1 {
		return fmt.Sprintf("%.4g:1", scale)
	}
	return fmt.Sprintf("1:%.4g", 1/scale)
}

func unitName(inch bool) string {
	if inch {
		return "inch"
	}
	return "mm"
}
