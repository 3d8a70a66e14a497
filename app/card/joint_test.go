package card

import (
	"math"
	"strings"
	"testing"

	"axleloft/app/document"
	"axleloft/app/edit"
	"axleloft/geometry/job"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// settled works everything out and lets the card's own work run at once.
func settled(d *document.Document, c *Card) {
	c.post, c.start = func(f func()) { f() }, func(f func()) { f() }
	d.Settle()
	c.Refresh()
}

func lower(d *document.Document, e document.End) document.Pivot {
	for i := range d.Current().Links {
		if d.Current().Links[i].Name == "Lower" {
			return document.Pivot{List: document.Links, Index: i, End: e, Side: job.Left}
		}
	}
	return document.Pivot{Index: -1}
}

func TestJointPageSaysBoltLimitsAndClock(t *testing.T) {
	d, c, _ := open(t)
	settled(d, c)
	d.Hold(lower(d, document.AxleEnd))
	assert.Contains(t, c.turn.Text(), "across")
	c.turn.Tapped(nil)
	all := strings.Join(wordsOn(c), "|")
	assert.Contains(t, all, "Bolt|across|rod end")
	assert.Contains(t, all, "tilts 22 deg by its maker")
	require.NotNil(t, c.clocked)
	assert.True(t, c.clocked.known)
	assert.Equal(t, 0, c.clock.Lit(), "the demo is clocked at ride")
	assert.Regexp(t, `^At ride: \d+ %$`, c.clock.Names()[0])
	assert.Regexp(t, `^Midway: \d+ %$`, c.clock.Names()[1])
	c.turn.Tapped(nil)
	assert.Contains(t, wordsOn(c), "X")
}

func TestClockingIsOnePressAndOneStep(t *testing.T) {
	d, c, _ := open(t)
	settled(d, c)
	p := lower(d, document.AxleEnd)
	d.Hold(p)
	c.turn.Tapped(nil)
	want := c.clocked.Midway.Deg
	require.Greater(t, math.Abs(want), 0.1)
	c.setClock(1)
	require.NotNil(t, d.Current().Links[p.Index].Clock)
	assert.InDelta(t, want, *d.Current().Links[p.Index].Clock, 0.05)
	d.Settle()
	c.Refresh()
	assert.Equal(t, 1, c.clock.Lit())
	assert.InDelta(t, c.clocked.Midway.Use, c.clocked.Now.Use, 0.01)
	c.setClock(0)
	assert.Nil(t, d.Current().Links[p.Index].Clock)
	d.Undo()
	assert.NotNil(t, d.Current().Links[p.Index].Clock)
}

func TestCheeksGiveTheLimitAsMounted(t *testing.T) {
	d, c, _ := open(t)
	settled(d, c)
	p := lower(d, document.AxleEnd)
	d.Hold(p)
	c.turn.Tapped(nil)
	var asked []string
	c.AskMany = func(_ string, labels, now []string, f func([]string) error) {
		asked = labels
		require.Equal(t, make([]string, len(labels)), now)
		assert.ErrorContains(t, f([]string{"30", "", "", "", ""}), "the ball's width")
		require.NoError(t, f([]string{"30", "12", "16", "", ""}))
	}
	c.clevis.Tapped(nil)
	require.Len(t, asked, len(clevisKeys))
	k := d.Current().Links[p.Index].AxleEnd.Clevis
	require.NotNil(t, k)
	// asin(16/hypot(30, 12)) - atan(12/30)
	assert.InDelta(t, math.Asin(16/math.Hypot(30, 12))*180/math.Pi-math.Atan2(12, 30)*180/math.Pi, k.Limit(), 1e-9)
	assert.Contains(t, wordsOn(c), "mounted 7.9 deg: it counts")
	require.NoError(t, c.setClevis(p, []string{"", "", "", "", ""}))
	assert.Nil(t, d.Current().Links[p.Index].AxleEnd.Clevis)
}

func TestTheJointOfAPivotIsTheMechanisms(t *testing.T) {
	d, c, _ := open(t)
	settled(d, c)
	m := d.Now().Mech
	for _, side := range []job.Side{job.Left, job.Right} {
		p := lower(d, document.AxleEnd)
		p.Side = side
		i := jointOf(m, p)
		require.GreaterOrEqual(t, i, 0)
		want := "Lower left, axle end"
		if side == job.Right {
			want = "Lower right, axle end"
		}
		assert.Equal(t, want, m.Joints[i].Name)
	}
	assert.Equal(t, -1, jointOf(m, document.Pivot{List: document.Struts}))
	_, ok := edit.EndAt(d.Current(), document.Pivot{List: document.Struts})
	assert.False(t, ok)
}
