package pad

import (
	"context"
	"fmt"
	"math"
	"strings"

	"axleloft/app/brush"
	"axleloft/app/look"
	"axleloft/app/study"
	"axleloft/app/words"
	"axleloft/geometry/clearance"
	"axleloft/geometry/limits"
	"axleloft/geometry/measure"
	"axleloft/plotting/ink"

	"fyne.io/fyne/v2"
)

// pairKey is the laying of one pair's gap.
const pairKey = "pair"

// pairLaid is what is laid of one pair beside its lines: where it touches and where it comes nearer than wanted.
type pairLaid struct {
	index         int            // in the study, -1: not compared there
	touch, tight  *limits.Region // below nothing, below the gap wanted; nil: nowhere
	begins        [][]place      // where it begins to touch
	least, wanted float64        // mm
	at            place          // of the least
	tried         bool           // nothing is proved
	far           bool           // only known to be further apart than is of interest
}

// LayPair lays the gap of two parts in the patch, by their names.
func (p *Pad) LayPair(a, b string) {
	p.layThis(laying{key: pairKey, name: words.Mark("gap"), least: 1, a: a, b: b})
}

// onPair reports whether the gap of one pair is laid.
func (p *Pad) onPair() bool { return p.laying.key == pairKey }

// back goes from the gap of one pair to what was laid before.
func (p *Pad) back() { p.layThis(p.before) }

// layPair works one pair out over a study's range. The field is nil where the two are not compared; all is nil where the context is cancelled.
func layPair(ctx context.Context, s *study.Study, which laying, edge []place) (*pairLaid, *study.Field) {
	k := &pairLaid{index: s.PairNamed(which.a, which.b)}
	if k.index < 0 || k.index >= len(s.Smallest) {
		k.index = -1
		return k, nil
	}
	f := s.PairField(ctx, k.index, fieldSize)
	if f == nil {
		return nil, nil
	}
	g := &s.Smallest[k.index]
	k.least, k.wanted, k.at = g.Gap.Gap, s.Gaps.Pairs[k.index].Required, place{g.Left, g.Right}
	k.tried, k.far = g.Why != "", s.GapFar(k.index)
	region := func(level float64) *limits.Region {
		if k.tried || g.NotLess >= level {
			return nil
		}
		r := s.RegionOf(ctx, k.index, level)
		if r == nil || r.Why != "" {
			k.tried = k.tried || r != nil
			return nil
		}
		return r
	}
	k.touch, k.tight = region(0), region(k.wanted)
	if ctx.Err() != nil {
		return nil, nil
	}
	if k.touch != nil {
		for _, loop := range k.touch.Loops {
			k.begins = append(k.begins, offEdge(edge, loop)...)
		}
	}
	return k, f
}

// nearOutline is how near to the outline a loop may lie to be running along it, mm.
const nearOutline = 0.8

// offEdge are the runs of a closed loop that do not lie on the outline.
func offEdge(edge []place, loop []limits.Corner) (runs [][]place) {
	n := len(loop)
	on := func(i int) bool {
		c := loop[i%n]
		_, _, t, _, ok := locate(edge, c.Left, c.Right)
		return ok && t > 0.5 && (1-t)*math.Hypot(c.Left, c.Right) < nearOutline
	}
	start := 0
	for start < n && !on(start) {
		start++
	}
	var run []place
	for i := start; i <= start+n; i++ { // once round, from a place on the outline if there is one
		c := loop[i%n]
		at := place{c.Left, c.Right}
		if on(i) && start < n {
			if len(run) > 0 {
				runs = append(runs, append(run, at))
			}
			run = nil
			if !on(i + 1) {
				run = []place{at}
			}
			continue
		}
		run = append(run, at)
	}
	if len(run) > 1 {
		runs = append(runs, run)
	}
	return runs
}

// levels are those of the lines that tell something beside where it touches and where it is nearer than wanted, and these.
func (k *pairLaid) levels(at []float64, step float64, inch bool) []float64 {
	wanted := k.shown(k.wanted, inch)
	out := []float64{}
	for _, v := range at {
		if math.Abs(v-wanted) > 0.3*step && !(k.touch != nil && math.Abs(v) < 1e-9) {
			out = append(out, v)
		}
	}
	return append(out, wanted)
}

func (k *pairLaid) shown(mm float64, inch bool) float64 {
	if inch {
		return mm / mmPerInch
	}
	return mm
}

// isWanted reports whether a line is that of the gap wanted.
func (k *pairLaid) isWanted(value float64, inch bool) bool { return value == k.shown(k.wanted, inch) }

// marked tells of a position whether the pair touches there and whether it is nearer than wanted: by what is proved or, where nothing is, by the figures of the grid.
func (l *laid) marked(left, right float64) (hits, tight bool) {
	k := l.pair
	below := func(r *limits.Region, level float64) bool {
		if r != nil {
			if zone := r.At(left, right); zone != clearance.Outside {
				return zone >= clearance.NearUnder
			} // near where the links end the travel nothing is proved
		} else if !k.tried {
			return false
		}
		v, ok := l.field.at(left, right)
		return ok && v < k.shown(level, l.inch)
	}
	return below(k.touch, 0), below(k.tight, k.wanted)
}

// pairTitle writes the pair's names into the room of the heading, as whole as they go.
func (p *Pad) pairTitle(room float32) {
	a, b := p.laying.a, study.Lower(p.laying.b)
	for i, phrase := range []string{a + " / " + b, a + " / " + short(b), study.Upper(short(a)) + " / " + short(b)} {
		if i < 2 && brush.Measure(phrase, title).Width > room {
			continue
		}
		p.pool.Text(look.Shorten(phrase, title.Size, title.Bold, room), 8, 8, title, look.Color(ink.Text))
		return
	}
}

// pairButtons puts Ride and the way back at the right of the heading and tells the room left of them.
func (p *Pad) pairButtons(size fyne.Size) (room float32) {
	x := size.Width - 8
	for _, b := range []*look.Button{p.backButton, p.rideButton} {
		m := b.MinSize()
		b.Resize(m)
		b.Move(fyne.NewPos(x-m.Width, 0))
		if len(p.edge) > 0 {
			p.pool.Put(b)
		}
		x -= m.Width + 8
	}
	return x - 8
}

// pairTag says how near the two come, at the place where they do.
func (p *Pad) pairTag() []brush.Box {
	if !p.laidCurrent() || p.laid.none || p.laid.pair.far {
		return nil
	}
	k := p.laid.pair
	phrase := words.F("least %s", p.gapLength(k.least))
	if k.least < 0 {
		phrase = p.deep(-k.least)
	}
	n := note{[]string{phrase}, k.at}
	s, _ := p.doc.Study()
	n.guessed(len(s.RestsOn(k.index)) > 0)
	return []brush.Box{p.tag(n)}
}

// gapLength writes a length in the unit shown.
func (p *Pad) gapLength(mm float64) string {
	if p.doc.Unit() == "in" {
		return fmt.Sprintf("%.2f in", mm/mmPerInch)
	}
	return measure.MM(mm)
}

// deep writes how far two parts overlap.
func (p *Pad) deep(mm float64) string {
	if p.doc.Unit() == "in" {
		return words.F("%s deep", p.gapLength(mm))
	}
	return words.F("%s in", p.gapLength(mm))
}

// pairSay is the sentence under the pad: how the two stand now, and what the marks and lines are.
func (p *Pad) pairSay(pos *study.Position) (head, more string) {
	at := p.travels()
	head = wheels(at.left, at.right, lengthWords(p.doc.Unit()))
	if l, r := math.Round(at.left), math.Round(at.right); l == 0 && r == 0 {
		head = words.T("At ride height")
	} else if l == r {
		head = words.F("Both %s", wheel(at.left, lengthWords(p.doc.Unit())))
	}
	now := p.doc.Now()
	if i := now.PairNamed(p.laying.a, p.laying.b); i >= 0 && i < len(pos.Gaps) {
		if g := pos.Gaps[i].Gap; g < 0 {
			head += ": " + p.deep(-g)
		} else if phrase := head + ": " + p.gapLength(g); brush.Measure(words.F("%s apart.", phrase), bold).Width <= p.Size().Width-16 {
			head = words.F("%s apart", phrase)
		} else {
			head = phrase
		}
	}
	head += "."
	if !p.laidCurrent() {
		return head, words.T("The gap over the travel: working out.")
	}
	return head, p.laid.pairCaption(p.gapLength, marginsOf(p.Size()).lines < 3)
}

// pairCaption says what the marks and lines of a pair are; brief where there is one line for it.
func (l *laid) pairCaption(length func(float64) string, brief bool) string {
	k := l.pair
	if l.none || k.index < 0 {
		if brief {
			return words.T("Not compared as the job stands.")
		}
		return words.T("These two parts are not compared as the job now stands.")
	}
	share := func(r *limits.Region) string {
		if r == nil {
			return ""
		}
		return words.F(" (%s of the travel)", study.ShareWords(r))
	}
	var phrase []string
	switch {
	case brief && k.touch != nil:
		return words.F("Touches in %s of the travel.", study.ShareWords(k.touch))
	case brief && k.tight != nil && k.least < k.wanted:
		return words.F("Under %s in %s of it.", length(k.wanted), study.ShareWords(k.tight))
	case k.least < 0:
		phrase = append(phrase, words.F("Stripes: touches%s.", share(k.touch)), words.F("Dots: under %s wanted.", length(k.wanted)))
	case k.least < k.wanted:
		phrase = append(phrase, words.F("Dots: under %s wanted%s.", length(k.wanted), share(k.tight)))
	default:
		phrase = append(phrase, words.F("Nowhere under %s wanted.", length(k.wanted)))
	}
	if k.tried {
		phrase = append(phrase, words.T("At the positions tried."))
	}
	if len(l.lines) > 0 && l.step > 0 {
		phrase = append(phrase, words.F("Lines each %s.", l.figure(l.step)))
	}
	return strings.Join(phrase, " ")
}
