package study

import (
	"math"

	"axleloft/app/words"
	"axleloft/geometry/clearance"
	"axleloft/geometry/shape"
)

// BoltOut is whether a joint's bolt can be drawn out, by its ways.
type BoltOut struct {
	Joint int    // of the mechanism
	Name  string // "Lower left, frame end"
	Ways  []BoltWay
}

// BoltWay is one way out, where the axle stands at ride height, at full bump and at full droop.
type BoltWay struct {
	Way string // "left", "right", "forward", "back", "up", "down"
	At  [3]BoltAt

	out clearance.BoltOut
}

// BoltAt is a way out at one place of the axle: how far the nearest part is, mm, negative where it is in the way; NaN where the axle cannot stand there.
type BoltAt struct {
	Travel float64 // of both wheels, bump +
	Gap    float64
	Part   string // the nearest
}

// Free reports whether a bolt comes out there.
func (a *BoltAt) Free() bool { return a.Gap >= 0 }

// BoltPlaces are the three places a bolt's way out is looked at, in words.
func BoltPlaces() [3]string {
	return [3]string{words.T("at ride height"), words.T("at full bump"), words.T("at full droop")}
}

// Free reports whether the bolt comes out that way in one of the places.
func (w *BoltWay) Free() bool {
	for i := range w.At {
		if w.At[i].Free() {
			return true
		}
	}
	return false
}

// Bar is the room the bolt takes that way with the axle at a position, body axes.
func (w *BoltWay) Bar(p *Position) shape.Piece { return w.out.Bar(&p.Pose) }

// BoltsOut looks at the way out of every bolt whose job says what it needs, in the order of the joints.
func (s *Study) BoltsOut() []BoltOut {
	if s.Gaps == nil || s.Mech == nil {
		return nil
	}
	ways := s.Gaps.BoltsOut(s.Job)
	if len(ways) == 0 {
		return nil
	}
	travels := [3]float64{0, math.NaN(), math.NaN()}
	if s.Bounded() {
		travels[1], travels[2] = s.Range.Bump, -s.Range.Droop
	}
	var out []BoltOut
	for _, w := range ways {
		if n := len(out); n == 0 || out[n-1].Joint != w.Joint {
			out = append(out, BoltOut{Joint: w.Joint, Name: s.Mech.Joints[w.Joint].Name})
		}
		b := &out[len(out)-1]
		b.Ways = append(b.Ways, BoltWay{Way: w.Way, out: w})
	}
	sc := s.Gaps.NewScratch()
	for i, t := range travels {
		p := &Position{Err: words.T("not known")}
		if !math.IsNaN(t) {
			p = s.At(t, t)
		}
		if p.Err == "" {
			sc.Place(&p.Pose, p.Values[0].Links)
		}
		for k := range out {
			for n := range out[k].Ways {
				w := &out[k].Ways[n]
				w.At[i] = BoltAt{Travel: t, Gap: math.NaN()}
				if p.Err != "" {
					continue
				}
				gap, part := sc.Blocked(&w.out, &p.Pose)
				if w.At[i].Gap = gap; part >= 0 {
					w.At[i].Part = s.Gaps.Parts[part].Name
				}
			}
		}
	}
	return out
}

// boltsOut: bolts that come out no way they may, wherever the axle stands.
func (f *finder) boltsOut() {
	for _, b := range f.s.BoltsOut() {
		best, where := math.Inf(-1), 0
		var list []string
		free := false
		for i := range b.Ways {
			w := &b.Ways[i]
			free = free || w.Free()
			at := 0
			for k := range w.At {
				if w.At[k].Gap > w.At[at].Gap || math.IsNaN(w.At[at].Gap) {
					at = k
				}
			}
			if w.At[at].Gap > best {
				best, where = w.At[at].Gap, at
			}
			list = append(list, words.F("%s the %s is %s in the way (%s)", BoltWord(w.Way), Lower(w.At[at].Part), f.w.length(-w.At[at].Gap), BoltPlaces()[at]))
		}
		if free || len(list) == 0 {
			continue
		}
		j := &f.s.Mech.Joints[b.Joint]
		said := list[0]
		if len(list) > 1 {
			said += "; " + list[1]
		}
		x := Finding{Kind: Tight, Key: "bolt out/" + jointKey(j), What: words.F("Bolt of %s", Lower(b.Name)), Number: words.F("%s short", f.w.length(-best)), Where: words.T("it cannot be drawn out"),
			Sentence: words.F("%s: its bolt cannot be drawn out, at ride height, full bump or full droop: %s. It shows when it is built, or when it has to come out on the road.", b.Name, said), Pair: -1, Value: best, weight: -1}
		if t := b.Ways[0].At[where].Travel; !math.IsNaN(t) {
			x = x.at(t, t)
		}
		f.add(x)
	}
}

// BoltWord is a way out in words.
func BoltWord(way string) string {
	switch way {
	case "left":
		return words.T("to the left")
	case "right":
		return words.T("to the right")
	case "forward":
		return words.T("forward")
	case "back":
		return words.T("to the back")
	case "up":
		return words.T("upward")
	}
	return words.T("downward")
}
