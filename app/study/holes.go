package study

import (
	"context"
	"math"
	"strings"

	"axleloft/app/edit"
	"axleloft/app/words"
	"axleloft/geometry/job"

	"gonum.org/v1/gonum/spatial/r3"
)

// MostChoices is how many combinations of holes are worked out at most.
const MostChoices = 2000

// HoleTable is every combination of the holes that pivots may be bolted in, each looked at over the whole range.
type HoleTable struct {
	Pivots []edit.Pivot
	Names  []string // of the pivots
	Load   string   // that anti-squat and roll steer are of, at ride height; "" where the job gives none
	Links  []string // whose length some combination changes
	Kept   bool     // the links keep their length and the axle moves; else they are re-set and it stays
	Within float64  // mm between the smallest gap found and the one proved
	Rows   []HoleChoice
	Now    int // of Rows: as the pivots stand; -1 where one stands in no hole
}

// HoleChoice is one combination. Figures that cannot be had are NaN; Why says why there are none at all.
type HoleChoice struct {
	Holes                []int     // by pivot, the first hole being 1
	AntiSquat, RollSteer float64   // %, of the load at ride height
	Pinion               float64   // deg, how far it goes over the whole range
	Gap, Spare           float64   // mm: of the pair with least to spare, and what it has over the gap wanted
	Pair                 string    // that pair
	Proved               bool      // of that pair's gap, to Within
	Use                  float64   // the closest joint's, of its limit
	Joint                string    // which
	Bump, Droop          float64   // mm, of the range
	Lengths              []float64 // of Links, mm
	// With links kept: what has moved at ride height.
	PinionRide, SideShift, Squareness float64 // deg, mm, mm
	Why                               string
}

// Holes works every combination out. kept: links keep the length they have and the axle moves; else they are re-set to reach. tell is told how many are done; it may be nil. The error is the
// context's, or a plain sentence.
func (s *Study) Holes(ctx context.Context, kept bool, tell func(done, all int)) (*HoleTable, error) {
	if s.Mech == nil {
		return nil, words.Errorf("%s", s.Refusal)
	}
	t := &HoleTable{Kept: kept, Within: liveWithin, Now: -1}
	var places [][]r3.Vec
	all := 1
	for _, p := range edit.Pivots(s.Job) {
		list := edit.Holes(s.Job, p)
		if len(list) == 0 {
			continue
		}
		t.Pivots, t.Names, places = append(t.Pivots, p), append(t.Names, edit.Name(s.Job, p)), append(places, list)
		if all *= len(list); all > MostChoices {
			return nil, words.Errorf("The holes make more than %d combinations. Take some holes out, or look at fewer pivots at a time.", MostChoices)
		}
	}
	if len(t.Pivots) == 0 {
		return nil, words.Errorf("No pivot has holes. Hold a pivot and give it a row of holes.")
	}
	load := s.Laden()
	if s.Loads[load].Has {
		t.Load = s.Loads[load].Name
	}
	moved := s.holeLinks(t)
	choice := make([]int, len(t.Pivots))
	for n := range all {
		rest := n
		now := true
		row := HoleChoice{Holes: make([]int, len(choice))}
		for i := len(choice) - 1; i >= 0; i-- {
			row.Holes[i] = rest%len(places[i]) + 1
			rest /= len(places[i])
			now = now && edit.HoleOf(s.Job, t.Pivots[i]) == row.Holes[i]
		}
		s.holeChoice(ctx, t, &row, moved, load)
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		if now {
			t.Now = len(t.Rows)
		}
		t.Rows = append(t.Rows, row)
		if tell != nil {
			tell(n+1, all)
		}
	}
	return t, nil
}

// holeLinks are the links, by their index in the mechanism, that a combination changes: those with a pivot among the pivots; of a pair the left one stands for both in t.Links.
func (s *Study) holeLinks(t *HoleTable) (moved []int) {
	for i := range s.Mech.Links {
		ref := s.Mech.Links[i].Ref
		for _, p := range t.Pivots {
			if p.List == edit.Links && p.Index == ref.Index {
				moved = append(moved, i)
				if ref.Side != job.Right {
					t.Links = append(t.Links, strings.TrimSuffix(s.Mech.Links[i].Name, " left"))
				}
				break
			}
		}
	}
	return moved
}

// holeChoice works one combination out.
func (s *Study) holeChoice(ctx context.Context, t *HoleTable, row *HoleChoice, moved []int, load int) {
	nan := math.NaN()
	row.AntiSquat, row.RollSteer, row.Pinion, row.Gap, row.Spare, row.Use, row.Bump, row.Droop = nan, nan, nan, nan, nan, nan, nan, nan
	row.PinionRide, row.SideShift, row.Squareness = nan, nan, nan
	for range t.Links {
		row.Lengths = append(row.Lengths, nan)
	}
	j := s.Job.Clone()
	j.Keep = nil // what is kept while a hand drags does not hold bolts
	for i, p := range t.Pivots {
		measured := edit.IsMeasured(j, p)
		if measured { // the bracket is there, and so are its holes
			if row.Why = refused(edit.SetMeasured(j, p, false)); row.Why != "" {
				return
			}
		}
		if row.Why = refused(edit.TakeHole(j, p, row.Holes[i])); row.Why != "" {
			return
		}
	}
	var lengths map[int]float64
	if t.Kept {
		lengths = map[int]float64{}
		for _, i := range moved {
			lengths[i] = s.Mech.Links[i].Length
		}
	}
	n := compile(j, lengths)
	n.Depth, n.workers, n.within = Live, s.workers, liveWithin
	if n.Mech == nil {
		row.Why = n.Refusal
		return
	}
	k := 0
	for _, i := range moved {
		if n.Mech.Links[i].Ref.Side != job.Right {
			row.Lengths[k] = n.Mech.Links[i].Length
			k++
		}
	}
	n.travel(ctx)
	if ctx.Err() != nil {
		return
	}
	at := n.At(n.Loads[load].Heave, n.Loads[load].Heave)
	if at.Err == "" {
		v := &at.Values[load]
		row.RollSteer = v.RollSteerPct
		if n.Loads[load].Has {
			row.AntiSquat = v.AntiSquatPct
		}
	}
	if ride := n.At(0, 0); ride.Err == "" {
		v := &ride.Values[load]
		row.PinionRide, row.SideShift, row.Squareness = v.PinionDeg, v.Y, v.Squareness
	}
	if !n.Bounded() {
		row.Why = n.RangeNote
		return
	}
	row.Bump, row.Droop = n.Range.Bump, n.Range.Droop
	if n.Extents.Pinion.Known() {
		row.Pinion = n.Extents.Pinion.Max - n.Extents.Pinion.Min
	}
	for i := range n.Extents.Joints {
		if e := &n.Extents.Joints[i]; e.Known() && !(row.Use >= e.Max) {
			row.Use, row.Joint = e.Max, JointName(&n.Mech.Joints[i])
		}
	}
	n.gapsOver(ctx)
	if ctx.Err() != nil || n.Smallest == nil {
		return
	}
	if list := n.Order(); len(list) > 0 {
		i := list[0]
		a, b := n.PairNames(i)
		g := &n.Smallest[i]
		row.Gap, row.Spare, row.Pair, row.Proved = g.Gap.Gap, g.Gap.Gap-n.Gaps.Pairs[i].Required, a+" / "+Lower(b), g.Why == ""
	}
}

func refused(err error) string {
	if err != nil {
		return err.Error()
	}
	return ""
}
