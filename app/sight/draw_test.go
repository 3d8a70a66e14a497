package sight

import (
	"testing"

	"axleloft/plotting/drawing"
	"axleloft/plotting/ink"

	"github.com/stretchr/testify/assert"
)

func TestUprightAreasAreThoseAlongTheAxes(t *testing.T) {
	box := []drawing.Point{{X: 1, Y: 2}, {X: 9, Y: 2}, {X: 9, Y: 5}, {X: 1, Y: 5}}
	assert.True(t, upright(box))
	assert.True(t, upright([]drawing.Point{box[1], box[2], box[3], box[0]}))
	assert.True(t, upright([]drawing.Point{box[3], box[2], box[1], box[0]}))
	assert.False(t, upright([]drawing.Point{box[0], box[2], box[1], box[3]}), "crossed over")
	assert.False(t, upright([]drawing.Point{{X: 1.5, Y: 2}, box[1], box[2], box[3]}))
	assert.False(t, upright(box[:3]))
}

func TestOfTwinsThatCoverEachOtherTheLastIsDrawn(t *testing.T) {
	circle := func(x float64, fill ink.Role) drawing.Item {
		return drawing.Item{Kind: drawing.Circle, Stroke: ink.Text, Fill: fill, Width: 2, Radius: 5, Points: []drawing.Point{{X: x}}}
	}
	list := []drawing.Item{circle(1, ink.Ground), circle(2, ink.Ground), circle(1, ink.Ground), circle(1, ink.Press)}
	drawn := 0
	for i := range list {
		if !again(list[i+1:], &list[i]) {
			drawn++
		}
	}
	assert.Equal(t, 3, drawn)
	assert.True(t, again(list[1:], &list[0]))
	assert.False(t, again(list[3:], &list[2]), "another fill")
}
