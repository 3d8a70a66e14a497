package pad

import (
	"math"
	"time"

	"fyne.io/fyne/v2"
)

// walkTime is how long a walk round the edge takes.
const walkTime = 10 * time.Second

// Walk plays the axle once round the edge of the range, from full bump with the left wheel leading.
func (p *Pad) Walk() {
	p.StopWalk()
	edge := p.edge
	if len(edge) < 3 {
		return
	}
	first, most := 0, math.Inf(-1)
	for i, e := range edge {
		if up := e.left + e.right - math.Abs(e.left-e.right); up > most {
			first, most = i, up
		}
	}
	n := len(edge)
	lengths := make([]float64, n+1)
	for i := range n {
		a, b := edge[(first+2*n-i)%n], edge[(first+2*n-i-1)%n]
		lengths[i+1] = lengths[i] + math.Hypot(a.left-b.left, a.right-b.right)
	}
	p.walk = &fyne.Animation{Duration: walkTime, Curve: fyne.AnimationLinear, Tick: func(f float32) {
		at := float64(f) * lengths[n]
		i := 0
		for i < n-1 && lengths[i+1] < at {
			i++
		}
		t := (at - lengths[i]) / math.Max(lengths[i+1]-lengths[i], 1e-9)
		a, b := edge[(first+2*n-i)%n], edge[(first+2*n-i-1)%n]
		p.doc.MoveAxle(a.left+t*(b.left-a.left), a.right+t*(b.right-a.right))
	}}
	p.walk.Start()
}

// StopWalk ends a walk where it is.
func (p *Pad) StopWalk() {
	if p.walk != nil {
		p.walk.Stop()
		p.walk = nil
	}
}
