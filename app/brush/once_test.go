package brush

import (
	"testing"

	"fyne.io/fyne/v2/test"
	"github.com/stretchr/testify/assert"
)

func TestWhatIsAskedForIsDoneOnceAndTheHandFirst(t *testing.T) {
	var done []string
	var shown *Once
	note := func(s string) func() { return func() { done = append(done, s) } }
	hand := NewLead(func() {
		done = append(done, "hand")
		if !shown.asked {
			shown.wait()
		}
	})
	shown = NewOnce(note("view"))
	dropped, late := NewOnce(note("dropped")), NewOnce(note("late"))
	shown.wait()
	dropped.wait()
	late.wait()
	hand.wait()
	dropped.Drop()
	CatchUp()
	assert.Equal(t, []string{"hand", "view", "late"}, done)
	CatchUp()
	assert.Len(t, done, 3, "nothing is done that nobody asked for")

	done = nil
	late.wait()
	late.Now() // as at the end of a drag
	late.Now()
	CatchUp()
	assert.Equal(t, []string{"late"}, done)

	done = nil
	hand.wait() // what shows it is asked for by it
	CatchUp()
	assert.Equal(t, []string{"hand", "view"}, done)
}

func TestWhereNoFramesArePaintedItIsDoneAtOnce(t *testing.T) {
	test.NewTempApp(t)
	n := 0
	o := NewOnce(func() { n++ })
	o.Ask()
	o.Ask()
	assert.Equal(t, 2, n)
	CatchUp()
	assert.Equal(t, 2, n)
}
