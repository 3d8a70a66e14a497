package bench

import (
	"math"
	"strings"

	"axleloft/app/edit"
	"axleloft/app/sight"
	"axleloft/app/words"
	"axleloft/geometry/measure"
)

// landingKept is what dragged pivots land on as the preferences have it: everything, half a tube off a face, where nobody has chosen yet.
func (b *Bench) landingKept() sight.Landing {
	p := b.app.Preferences()
	l := sight.Landing{On: edit.Lands(p.IntWithFallback(keyLands, int(edit.LandAll))) & edit.LandAll, Off: p.FloatWithFallback(keyOffFace, -1)}
	if !(l.Off >= 0) {
		l.Off = math.NaN()
	}
	return l
}

// keepLanding keeps what the hand has chosen.
func (b *Bench) keepLanding(l sight.Landing) {
	p := b.app.Preferences()
	p.SetInt(keyLands, int(l.On))
	if math.IsNaN(l.Off) {
		l.Off = -1
	}
	p.SetFloat(keyOffFace, l.Off)
}

// mostOffFace is the most a pivot can be asked to stand off a face, mm.
const mostOffFace = 1000

// askOffFace asks how far a dragged pivot stands off the face it lands on; f takes mm, NaN for half its member's tube.
func (b *Bench) askOffFace(now float64, f func(float64)) {
	unit := measure.UnitOf(b.doc.Unit())
	text := ""
	if !math.IsNaN(now) {
		text = measure.Typed(now, unit)
	}
	b.ask(words.T("How far off a face a pivot lands"), words.F("From the face to the middle of the bolt, %s; empty: half the tube", b.doc.Unit()), text, func(text string) error {
		if strings.TrimSpace(text) == "" {
			f(math.NaN())
			return nil
		}
		off, err := measure.Parse(text, unit)
		if err != nil {
			return err
		}
		if off < 0 || off > mostOffFace {
			return words.Error("A pivot can land 0 to 1000 mm off a face. Type less, or nothing for half the tube.")
		}
		f(off)
		return nil
	})
}
