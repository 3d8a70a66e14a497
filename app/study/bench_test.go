package study_test

import (
	"context"
	"slices"
	"testing"

	"axleloft/app/study"
	"axleloft/assets"
	"axleloft/geometry/job"
)

// BenchmarkLive is what follows a hand, on one core: one whole refresh after a drag's move (range by 96 rays, two sweeps of 61 positions with every quantity of every load, extents, every
// pair's gap proved to 5 mm, findings), by itself and taking over what it can from the one before.
func BenchmarkLive(b *testing.B) { pass(b, study.Live) }

// BenchmarkFull is what settles after it: gaps proved to 0.5 mm and searched on, fine grid, ring.
func BenchmarkFull(b *testing.B) { pass(b, study.Full) }

func pass(b *testing.B, d study.Depth) {
	ctx := context.Background()
	for _, name := range append(assets.Demos(), "radius-arms-panhard") {
		kind := "exact"
		var j *job.Job
		if slices.Contains(assets.Demos(), name) {
			j = demo(b, name, "")
		} else {
			j = layouts(b)[name]
		}
		if study.Compile(j).Mech.OverLocated {
			kind = "least energy"
		}
		moved := j.Clone()
		for i := range moved.Envelopes {
			if e := &moved.Envelopes[i]; e.Min != nil {
				e.Min[0]--
				e.Max[0]--
				break
			}
		}
		pivot := j.Clone()
		pivot.Links[0].Frame[2]++
		line := j.Clone()
		line.Driveline.Output.Joint[2]++
		for _, c := range []struct {
			what string
			job  *job.Job
			from bool
		}{{"by itself", j, false}, {"after an envelope moved", moved, true}, {"after the driveline moved", line, true}, {"after a pivot moved", pivot, true}} {
			b.Run(name+", "+kind+"/"+c.what, func(b *testing.B) {
				from := study.From{Workers: 1}
				if c.from {
					from.Before = []*study.Study{study.NewWith(ctx, j, d, 2)}
				}
				for b.Loop() {
					study.NewFrom(ctx, c.job, d, from)
				}
			})
		}
	}
}

// BenchmarkAt is everything the window shows of one position, gaps included.
func BenchmarkAt(b *testing.B) {
	for _, name := range assets.Demos() {
		s := study.Compile(demo(b, name, ""))
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				s.At(40, -30)
			}
		})
	}
}
