package paper

import (
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
)

// letters returns the outlines of words whose foot begins at a point.
func letters(f font.Face, at vg.Point, words string) vg.Path {
	var buf sfnt.Buffer
	em := f.Face.UnitsPerEm()
	size := fixed.I(int(em))
	k := f.Font.Size / vg.Length(em)
	var path vg.Path
	x := at.X
	point := func(p fixed.Point26_6) vg.Point {
		return vg.Point{X: x + k*vg.Length(p.X)/64, Y: at.Y - k*vg.Length(p.Y)/64}
	}
	for _, r := range words {
		g, err := f.Face.GlyphIndex(&buf, r)
		if err != nil {
			continue
		}
		segments, err := f.Face.LoadGlyph(&buf, g, size, nil)
		if err == nil {
			var last vg.Point
			open := false
			for _, s := range segments {
				switch s.Op {
				case sfnt.SegmentOpMoveTo:
					if open {
						path.Close()
					}
					last = point(s.Args[0])
					path.Move(last)
					open = true
				case sfnt.SegmentOpLineTo:
					last = point(s.Args[0])
					path.Line(last)
				case sfnt.SegmentOpQuadTo:
					last = point(s.Args[1])
					path.QuadTo(point(s.Args[0]), last)
				case sfnt.SegmentOpCubeTo:
					last = point(s.Args[2])
					path.CubeTo(point(s.Args[0]), point(s.Args[1]), last)
				}
			}
			if open {
				path.Close()
			}
		}
		if a, err := f.Face.GlyphAdvance(&buf, g, size, 0); err == nil {
			x += k * vg.Length(a) / 64
		}
	}
	return path
}
