package brush

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
)

// Once is work that is put off till just before the next frame is painted, and then done once however often it was asked for: a pointer that
// moves ten times between two frames moves what hangs on it once, and the last place wins. Where no frames are painted (tests) it is done at
// once. All methods are called from the window's goroutine.
type Once struct {
	do    func()
	lead  bool
	asked bool
}

// NewOnce returns work that may be asked for.
func NewOnce(do func()) *Once { return &Once{do: do} }

// NewLead returns work that comes before all that is no lead: what a hand does, before what shows it.
func NewLead(do func()) *Once { return &Once{do: do, lead: true} }

// Ask asks for the work.
func (o *Once) Ask() {
	if o.asked {
		return
	}
	if _, painted := fyne.CurrentApp().Driver().(desktop.Driver); !painted {
		o.do()
		return
	}
	o.wait()
	if waiting.beat == nil {
		// Animations are ticked after the events and before the frame that shows them. It runs on: a turn with nothing asked costs nothing.
		waiting.beat = &fyne.Animation{RepeatCount: fyne.AnimationRepeatForever, Curve: fyne.AnimationLinear, Tick: func(float32) { CatchUp() }}
		waiting.beat.Start()
	}
}

// wait puts the work among what is asked for.
func (o *Once) wait() {
	o.asked = true
	if o.lead {
		waiting.lead = append(waiting.lead, o)
	} else {
		waiting.rest = append(waiting.rest, o)
	}
}

// Now does the work if it was asked for.
func (o *Once) Now() {
	if o.asked {
		o.asked = false
		o.do()
	}
}

// Drop takes back what was asked for.
func (o *Once) Drop() { o.asked = false }

// waiting is what was asked for, in its order.
var waiting struct {
	lead, rest []*Once
	beat       *fyne.Animation
}

// Clock takes the time of what is done before a frame: it is called at its beginning, what it returns at its end. nil: nobody asks.
var Clock func() (end func())

// CatchUp does all that was asked for, and what that asks for in turn.
func CatchUp() {
	if len(waiting.lead)+len(waiting.rest) == 0 {
		return
	}
	if Clock != nil {
		defer Clock()()
	}
	for {
		list := &waiting.lead
		if len(*list) == 0 {
			list = &waiting.rest
		}
		if len(*list) == 0 {
			return
		}
		o := (*list)[0]
		*list = append((*list)[:0], (*list)[1:]...)
		o.Now()
	}
}
