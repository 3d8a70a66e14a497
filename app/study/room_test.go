package study_test

import (
	"bytes"
	"context"
	"math"
	"testing"

	"axleloft/app/study"
	"axleloft/geometry/vessel"
	"axleloft/plotting/drawing"
	"axleloft/plotting/paper"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The room of a part on paper: its outlines are to scale, and everything stands within the sheet's pictures.
func TestRoomOnPaper(t *testing.T) {
	s := study.WithRange(demo(t, "orchard-sprayer", ""))
	all, err := s.Rooms(context.Background())
	require.NoError(t, err)
	for _, i := range s.Movers() {
		if s.Gaps.Parts[i].Name != "Panhard rod" {
			continue
		}
		r := all.Of(i, 25)
		for axis, at := range r.Middle() {
			require.NoError(t, r.Section(context.Background(), axis, at, 5, nil))
		}
		require.NoError(t, r.Section(context.Background(), 0, 3000, 5, nil))
		sheet, err := study.RoomSheet(r, 0.1, false, paper.Head{Job: "job", Date: "2026-01-01"}, s.Length)
		require.NoError(t, err)
		require.Len(t, sheet.Views, 4)
		assert.Equal(t, "Room taken: Panhard rod and 25 mm round it", sheet.Head.Title)
		assert.Contains(t, sheet.Head.Notes, "drawn 1:10")
		for n, v := range sheet.Views[:3] {
			lo, hi, ok := study.SectionBox(r.Sections[n])
			require.True(t, ok)
			across, up := [3]float64{hi.Y - lo.Y, hi.X - lo.X, hi.X - lo.X}[n], [3]float64{hi.Z - lo.Z, hi.Z - lo.Z, hi.Y - lo.Y}[n]
			x0, x1, y0, y1 := math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
			for _, it := range v.Picture.Items {
				for _, p := range it.Points[:1] {
					assert.True(t, p.X >= 0 && p.X <= v.Picture.Width && p.Y >= 0 && p.Y <= v.Picture.Height, "%+v", it)
				}
				if it.Kind != drawing.Dashed {
					continue
				}
				for _, p := range it.Points {
					x0, x1, y0, y1 = math.Min(x0, p.X), math.Max(x1, p.X), math.Min(y0, p.Y), math.Max(y1, p.Y)
				}
			}
			assert.InDelta(t, across*9.6/25.4, x1-x0, 1e-6)
			assert.InDelta(t, up*9.6/25.4, y1-y0, 1e-6)
		}
		for _, format := range []string{"svg", "pdf"} {
			var b bytes.Buffer
			require.NoError(t, drawing.Write(&b, sheet, format))
			assert.NotEmpty(t, b.Bytes())
		}
		_, err = study.RoomSheet(r, 6, false, paper.Head{}, s.Length)
		assert.ErrorContains(t, err, "Give a smaller scale")
	}
	// no travel, no room
	j := demo(t, "orchard-sprayer", "")
	j.Struts, j.Stops, j.Straps, j.Travel = nil, nil, nil, nil
	_, err = study.WithRange(j).Rooms(context.Background())
	assert.ErrorContains(t, err, "Nothing bounds the travel")
}

// Where the links end the travel the room a part takes, and what is taken of a tank, are proved but for the last of it.
func TestRoomAndTankWhereTheLinksEndTheTravel(t *testing.T) {
	j := demo(t, "orchard-sprayer", "")
	j.Links[0].Axle[0] = j.Links[0].Frame[0] - 170
	j.Links[1].Frame[2] -= 248
	j.Links[1].Axle[2] -= 208
	s := study.WithRange(j)
	all, err := s.Rooms(context.Background())
	require.NoError(t, err)
	r := all.Of(s.Movers()[0], 0)
	require.True(t, r.Proved)
	assert.Regexp(t, `^It comes nowhere outside, proved over the whole travel but for the last [\d.]+ mm before the links end it \(only tried at positions\), between positions too\.$`, r.HowWords())
	k, err := s.Tank(context.Background(), s.Tanks()[0], vessel.Fine{Side: 32, Most: 10_000}, nil)
	require.NoError(t, err)
	require.True(t, k.Keep.Proved)
	assert.Regexp(t, `, proved over the whole range but for the last [\d.]+ mm before the links end it \(only tried at positions\), between positions too\.$`, k.TakenWords()[0])
}
