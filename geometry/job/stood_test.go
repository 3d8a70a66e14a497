package job_test

import (
	"bytes"
	"strings"
	"testing"

	"axleloft/geometry/job"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// How axle and body stood, and what was typed of a place then, comes back from the file as it went in, and a copy holds its own.
func TestStoodRoundTrip(t *testing.T) {
	j, err := job.Read(strings.NewReader(fullJob))
	require.NoError(t, err)
	n := func(v float64) *float64 { return &v }
	j.Stood = &job.Stood{
		Stands:  &job.Stands{Pinion: n(14.5), Tilt: n(-0.5), Given: job.Given{"pinion": {Typed: "14.5 deg"}}},
		Hanging: &job.Hanging{Strut: "Strut", Left: n(655), LeftEnd: &job.TubeEnd{X: n(-12), Z: n(330)}, Given: job.Given{"left": {Typed: "655 mm"}, "leftEnd.x": {Typed: "-12 mm"}}},
		Floor:   &job.Floor{Height: n(610), RakeRear: n(700), RakeFront: n(712), RakeOver: n(1800), FallForward: n(-5), FallForwardOver: n(500)},
	}
	off := 2.2
	j.Links[0].Given = job.Given{}
	for _, a := range []string{"x", "y", "z"} {
		j.Links[0].Given["axle."+a] = job.GivenValue{PlusMinus: &off, Source: "on stands", Taken: &job.Taken{How: "stands", Typed: []string{"60 mm", `22 1/16"`, "-52 mm"}, PlusMinus: "2 mm", Side: "right"}}
	}
	require.Empty(t, job.Check(j))
	var out bytes.Buffer
	require.NoError(t, job.Write(&out, j))
	back, err := job.Read(bytes.NewReader(out.Bytes()))
	require.NoError(t, err)
	assert.Equal(t, j.Stood, back.Stood)
	assert.Equal(t, j.Links[0].Given, back.Links[0].Given)
	c := j.Clone()
	c.Links[0].Given["axle.x"].Taken.Typed[0] = "1 mm"
	*c.Stood.Stands.Pinion = 1
	assert.Equal(t, back.Stood, j.Stood)
	assert.Equal(t, back.Links[0].Given, j.Links[0].Given)
}

func TestStoodIsRefusedByPlace(t *testing.T) {
	bare, _, found := strings.Cut(fullJob, ",\n  \"stood\": {") // it comes last
	require.True(t, found)
	for text, place := range map[string]string{
		`{"stands": {"pinion": 91}}`:                         "stood.stands.pinion",
		`{"stands": {"tilt": -46}}`:                          "stood.stands.tilt",
		`{"hanging": {"left": 0}}`:                           "stood.hanging.left",
		`{"floor": {"fallForwardOver": 0}}`:                  "stood.floor.fallForwardOver",
		`{"stands": {"given": {"leftEnd": {"typed": "1"}}}}`: "stood.stands.given.leftEnd",
		`{"bench": {}}`:                                      "bench",
	} {
		_, err := job.Read(strings.NewReader(bare + ",\n  \"stood\": " + text + "\n}\n"))
		assert.ErrorContains(t, err, place, text)
	}
	for _, taken := range []string{`{"how": "bench", "typed": ["1", "2", "3"]}`, `{"how": "stands", "typed": ["1", "2"]}`, `{"how": "stands"}`, `{"how": "stands", "typed": ["1", "2", "3"], "side": "left"}`} {
		text := strings.Replace(fullJob, `{"typed": "1152"}`, `{"typed": "1152", "taken": `+taken+`}`, 1)
		require.NotEqual(t, fullJob, text)
		_, err := job.Read(strings.NewReader(text))
		assert.ErrorContains(t, err, "taken", taken)
	}
}
