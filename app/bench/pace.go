package bench

import (
	"os"
	"runtime/pprof"
	"time"

	"axleloft/app/brush"

	"fyne.io/fyne/v2"
)

// slow is work that is felt: more than this on the window's goroutine at one go is listed.
const slow = 8 * time.Millisecond

// pace counts what the window's goroutine does between two questions of the probe: what is done before a frame (the hand's move, the
// views drawn, the panels refreshed: the refresh also by itself) and what comes from other goroutines. Painting is the rest of a turn.
type pace struct {
	since  time.Time
	turns  int // of the window's loop: sixty a second where it has time
	frames int // of these, with something new to paint
	last   time.Time
	worst  time.Duration // between two turns
	shown  int
	work   map[string]*spent
	beat   *fyne.Animation
}

// spent is what one kind of work took of a processor, ms.
type spent struct {
	Count   int       `json:"count"`
	Total   float64   `json:"total"`
	Longest float64   `json:"longest"`
	Slow    []float64 `json:"slow,omitempty"` // each over slow
	Wall    float64   `json:"wall"`           // the longest by the clock, other work on the machine included
}

// paced is what the probe tells of it.
type paced struct {
	Seconds float64           `json:"seconds"`
	Turns   int               `json:"turns"`
	Frames  int               `json:"frames"`
	Worst   float64           `json:"worst"` // longest between two turns, ms
	Work    map[string]*spent `json:"work"`
}

// paceSoFar tells what was counted since the question before, and starts anew; the first question only starts.
func (b *Bench) paceSoFar() paced {
	p := b.pace
	var out paced
	if p == nil {
		p = &pace{}
		b.pace = p
		p.beat = &fyne.Animation{Duration: time.Second, RepeatCount: fyne.AnimationRepeatForever, Curve: fyne.AnimationLinear, Tick: func(float32) { b.turn() }}
		p.beat.Start()
		brush.Clock = func() func() { return b.timed("before a frame") }
	} else {
		out = paced{Seconds: time.Since(p.since).Seconds(), Turns: p.turns, Frames: p.frames, Worst: millis(p.worst), Work: p.work}
	}
	p.since, p.last = time.Now(), time.Time{}
	p.turns, p.frames, p.worst, p.work = 0, 0, 0, map[string]*spent{}
	p.shown = b.shown()
	return out
}

// turn is one turn of the window's loop: events are done, painting comes next if there is anything new.
func (b *Bench) turn() {
	p := b.pace
	now := time.Now()
	if !p.last.IsZero() {
		p.worst = max(p.worst, now.Sub(p.last))
	}
	p.last = now
	p.turns++
	if n := b.shown(); n != p.shown {
		p.shown = n
		p.frames++
	}
}

// shown counts what was drawn anew so far.
func (b *Bench) shown() int {
	n := b.frames
	for _, v := range b.views {
		n += v.Frames()
	}
	return n
}

// timed takes the time of some work on the window's goroutine, if it is asked for: call what it returns at its end.
func (b *Bench) timed(what string) func() {
	if b.pace == nil {
		return func() {}
	}
	from, at := busy(), time.Now()
	return func() {
		took := busy() - from
		s := b.pace.work[what]
		if s == nil {
			s = &spent{}
			b.pace.work[what] = s
		}
		s.Count++
		s.Total += millis(took)
		s.Longest = max(s.Longest, millis(took))
		s.Wall = max(s.Wall, millis(time.Since(at)))
		if took > slow {
			s.Slow = append(s.Slow, millis(took))
		}
	}
}

func millis(d time.Duration) float64 { return float64(d) / float64(time.Millisecond) }

// profile begins a CPU profile into a file, or ends the one that runs where no file is named.
func profile(file string) error {
	pprof.StopCPUProfile()
	if file == "" {
		return nil
	}
	f, err := os.Create(file)
	if err != nil {
		return err
	}
	return pprof.StartCPUProfile(f)
}
