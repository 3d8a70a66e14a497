package study

import (
	"math"

	"axleloft/app/words"
)

// heightsBeyond: heights the driver can choose at which, under some load, the axle cannot stand, since its travel ends before.
func (f *finder) heightsBeyond() {
	s := f.s
	for _, h := range s.heightSpots() {
		over, at := 0.0, 0.0 // the farthest
		var loads []string
		for l := range s.Loads {
			travel := h.travel + s.Loads[l].Heave
			by := math.Max(travel-s.Range.Bump, -s.Range.Droop-travel)
			if !(by > rideTol) {
				continue
			}
			loads = append(loads, s.Loads[l].Name)
			if by > over {
				over, at = by, travel
			}
		}
		if over == 0 {
			continue
		}
		who := Upper(h.name)
		if len(loads) < len(s.Loads) {
			who += words.F(" with %s", List(loads))
		}
		goes := words.F("%s up", f.w.length(s.Range.Bump))
		if at < 0 {
			goes = words.F("%s down", f.w.length(s.Range.Droop))
		}
		f.add(Finding{Kind: RunsOut, Key: "height/" + h.name, What: words.F("%s, out of travel", Upper(h.name)), Number: words.F("%s too far", f.w.length(over)), Where: place(at, at),
			Sentence: words.F("%s asks for %s, and the axle goes %s: it cannot stand there.", who, f.w.travels(at, at), goes), Pair: -1, Value: over, weight: 85})
	}
}
