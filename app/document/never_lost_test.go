package document

import (
	"fmt"
	"reflect"
	"testing"

	"axleloft/app/start"
	"axleloft/geometry/job"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// Over random runs of edits, trials kept, chosen, renamed, removed, taken over and begun from layouts, with undo and redo in between: a trial changes only by an
// edit while it is chosen, goes only where it is removed, every step can be undone and done again to the last number, and what is kept aside has them all.
func TestTrialsAreNeverLost(t *testing.T) {
	first := demo(t, "rescue-tender")
	layout, err := start.Another(first, 0, 0, start.ThreeLink)
	require.NoError(t, err)
	rapid.Check(t, func(rt *rapid.T) {
		o := Options{StateDir: t.TempDir(), Autosave: true}
		d := New(first.Clone(), false, o)
		defer d.Discard()
		trials := func() map[string]job.Trial {
			out := map[string]job.Trial{}
			for _, k := range d.Job().Clone().Trials {
				out[k.Name] = k
			}
			return out
		}
		began := d.Job().Clone()
		for range rapid.IntRange(1, 12).Draw(rt, "steps") {
			before, chosen := trials(), d.Trial()
			any := func() string {
				if list := d.Trials(); len(list) > 0 {
					return rapid.SampledFrom(list).Draw(rt, "trial")
				}
				return ""
			}
			touched, gone := map[string]bool{}, ""
			undone := false
			switch rapid.IntRange(0, 8).Draw(rt, "what") {
			case 0:
				by := float64(rapid.IntRange(-9, 9).Draw(rt, "by"))
				_ = d.NudgePivot(Pivot{List: Links, End: FrameEnd, Side: job.Left}, r3.Vec{Z: by})
				touched[chosen] = true
			case 1:
				_ = d.KeepTrial("")
			case 2:
				_ = d.SetTrial(any())
			case 3:
				_ = d.SetTrial("")
			case 4:
				if n := any(); n != "" {
					require.NoError(rt, d.RemoveTrial(n))
					gone = n
				}
			case 5:
				if n := any(); n != "" {
					now := fmt.Sprint("named ", rapid.IntRange(0, 99).Draw(rt, "name"))
					if d.RenameTrial(n, now) == nil && n != now {
						k := trials()[now]
						k.Name = n
						require.True(rt, reflect.DeepEqual(before[n], k), "another name, the same trial")
						gone = n
					}
				}
			case 6:
				if n := any(); n != "" {
					require.NoError(rt, d.TakeOver(n))
				}
			case 7:
				require.NoError(rt, d.AddLayout(layout))
			default:
				undone = true
				now := d.Job()
				if _, ok := d.Undo(); ok {
					_, _ = d.Redo()
				}
				require.Same(rt, now, d.Job())
				if rapid.Bool().Draw(rt, "stay undone") {
					d.Undo()
				}
			}
			if undone {
				continue
			}
			after := trials()
			for name, was := range before {
				if name == gone || touched[name] {
					continue
				}
				now, ok := after[name]
				require.True(rt, ok, "%s is lost", name)
				require.True(rt, reflect.DeepEqual(was, now), "%s changed", name)
			}
		}
		end := d.Job()
		n := 0
		for {
			if _, ok := d.Undo(); !ok {
				break
			}
			n++
		}
		require.True(rt, reflect.DeepEqual(began, d.Job()), "all undone it is as it began")
		for range n {
			_, ok := d.Redo()
			require.True(rt, ok)
		}
		require.Same(rt, end, d.Job())
		d.Close()
		lost := FindLost(o.StateDir, nil)
		require.Len(rt, lost, 1)
		k, err := Recover(lost[0], o)
		require.NoError(rt, err)
		defer k.Discard()
		require.True(rt, reflect.DeepEqual(end.Trials, k.Job().Trials), "what was kept aside has them all")
	})
}
