package view

import (
	"math"

	"axleloft/app/study"
	"axleloft/geometry/clearance"
	"axleloft/geometry/job"
	"axleloft/plotting/drawing"
	"axleloft/plotting/ink"

	"gonum.org/v1/gonum/spatial/r3"
)

// Pencil is something else drawn grey behind the live picture, in long dashes with two dots: a kept trial, or the same axle at another position. Only what
// lies in another place is drawn.
type Pencil struct {
	Study *study.Study
	At    *study.Position // where its axle stands; nil: at ride height
	Words string          // what it is called, worded on it
	Place int             // 0 to 3: those of different places are dashed out of step
	Axle  bool            // the axle itself is drawn too, its housing and its tyres
}

const (
	differs      = 0.5 // mm two places must lie apart for a pencil line to be drawn
	pencilWeight = 6   // of its name among the other words: before the names of parts
)

// addPencil draws what a pencil line has in another place, and names it once in the view.
func (s *Scene) addPencil(p *Pencil) {
	if p.Study == nil || p.Study.Parts == nil {
		return
	}
	at := p.At
	if !s.there {
		at = nil
	}
	other := newStage(p.Study, at)
	k := pencilled{s, p}
	now := map[string][]r3.Vec{}
	for _, r := range s.runs() {
		now[r.name] = r.pts
	}
	for _, r := range other.runs() {
		if was, ok := now[r.name]; !ok || apart(was, r.pts) {
			k.line(r.name, s.flats(r.pts...), true)
		}
	}
	if p.Axle && apart([]r3.Vec{s.carry(r3.Vec{X: 1e3}), s.carry(r3.Vec{Y: 1e3}), s.carry(r3.Vec{})}, []r3.Vec{other.carry(r3.Vec{X: 1e3}), other.carry(r3.Vec{Y: 1e3}), other.carry(r3.Vec{})}) {
		k.axle(&other)
	}
	k.parts(other.job)
}

// pencilled draws one pencil line into a scene.
type pencilled struct {
	s *Scene
	p *Pencil
}

// line draws a line or an outline; named says that the pencil line's name may stand at it.
func (k pencilled) line(name string, pts []point, named bool) {
	k.s.add(figure{kind: drawing.Dashed, layer: drawing.Pencil, stroke: ink.Pencil, width: light, shift: drawing.PencilShift(k.p.Place), pts: pts, name: name})
	if k.p.Words == "" || !named {
		return
	}
	long := 0.0
	for i := 1; i < len(pts); i++ {
		long = math.Max(long, math.Hypot(pts[i].X-pts[i-1].X, pts[i].Y-pts[i-1].Y))
	}
	k.s.words = append(k.s.words, word{words: k.p.Words, role: ink.Second, area: pts, bar: true, beside: true, name: name, ground: ink.Ground, layer: drawing.Pencil,
		weight: pencilWeight + long/1e5}) // at the longest line that has room
}

// tagPencils names with a leader the pencil lines whose names found no clear place at them.
func (s *Scene) tagPencils(d *drafter, done map[string]bool, memory *Memory) {
	for i := range s.words {
		w := &s.words[i]
		if w.layer != drawing.Pencil || done[w.words] {
			continue
		}
		var best []point
		long := 0.0
		for _, o := range s.words {
			if o.layer != drawing.Pencil || o.words != w.words {
				continue
			}
			for _, run := range clipLines(d.room.grown(-8), s.screen(d.t, o.area), false) {
				for k := 1; k < len(run); k++ {
					if l := math.Hypot(run[k].X-run[k-1].X, run[k].Y-run[k-1].Y); l > long {
						long, best = l, run[k-1:k+1]
					}
				}
			}
		}
		done[w.words] = true
		if len(best) == 0 {
			continue
		}
		m := point{(best[0].X + best[1].X) / 2, (best[0].Y + best[1].Y) / 2}
		d.placeTag(&tag{words: w.words, area: []point{{m.X - 1, m.Y - 1}, {m.X + 1, m.Y - 1}, {m.X + 1, m.Y + 1}, {m.X - 1, m.Y + 1}}, name: w.words, pencil: true}, memory)
	}
}

// axle draws the axle itself where the pencil line has it: tube, housing and tyres as outlines.
func (k pencilled) axle(other *stage) {
	at := Scene{stage: *other, in: Input{Now: k.p.Study}, plane: k.s.plane}
	for _, side := range []job.Side{job.Left, job.Right} {
		at.addTyre(side)
	}
	at.addTube()
	at.addHousing()
	for i := range at.figures {
		f := &at.figures[i]
		switch f.kind {
		case drawing.Circle:
			f.pts = arc(f.pts[0], f.radius)
			f.closed = true
		case drawing.Bar:
			pts := f.pts
			f.pts = nil
			for j := 1; j < len(pts); j++ {
				f.pts = drawing.Capsule(pts[j-1], pts[j], f.radius)
				f.closed = true
				if j+1 < len(pts) {
					k.line(f.name, append(f.pts, f.pts[0]), false)
				}
			}
		}
		pts := f.pts
		if f.closed && len(pts) > 0 {
			pts = append(pts[:len(pts):len(pts)], pts[0])
		}
		if len(pts) > 1 {
			k.line(f.name, pts, f.name == job.AxleTubeName)
		}
	}
}

// apart reports whether two runs lie in different places.
func apart(a, b []r3.Vec) bool {
	if len(a) != len(b) {
		return true
	}
	for i := range a {
		if r3.Norm(r3.Sub(a[i], b[i])) > differs {
			return true
		}
	}
	return false
}

// parts draws the parts in the way that are in another place.
func (k pencilled) parts(other *job.Job) {
	s := k.s
	outlines := func(j *job.Job) map[string][]point {
		m := map[string][]point{}
		for i := range j.Envelopes {
			e := &j.Envelopes[i]
			solid, err := clearance.EnvelopeSolid(e)
			if err != nil {
				continue
			}
			pts, ok := outlineOf(s.plane, e, &solid)
			switch {
			case ok:
				pts = append(pts, pts[0])
			case e.Kind == "tube":
				for _, p := range e.Path {
					pts = append(pts, s.flat(p.Vec()))
				}
			default:
				c := silhouette(s.plane, &solid.Pieces[0])
				pts = append(c, c[0])
			}
			m[e.Name] = pts
		}
		return m
	}
	if other == s.job {
		return
	}
	now := outlines(s.job)
	was := outlines(other)
	for i := range other.Envelopes {
		name := other.Envelopes[i].Name
		if pts := was[name]; len(pts) > 0 && !alike(now[name], pts) {
			k.line(name, pts, true)
		}
	}
}

func alike(a, b []point) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if math.Hypot(a[i].X-b[i].X, a[i].Y-b[i].Y) > differs {
			return false
		}
	}
	return true
}
