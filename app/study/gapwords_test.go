package study_test

import (
	"context"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"axleloft/app/study"
	"axleloft/assets"
	"axleloft/geometry/job"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// loose is a tender whose links lie so nearly in line that they hold the axle poorly: no proof can be had.
func loose(t testing.TB) *job.Job {
	t.Helper()
	j := demo(t, "rescue-tender", "")
	j.Links[0].Frame[1] = j.Links[0].Axle[1]
	j.Links[1].Frame[1] = j.Links[1].Axle[1] + 2
	return j
}

// No position thrown at random into the range has a gap below what is proved of it, whatever locates the axle and however much is worked out.
func TestNoPositionIsBelowWhatIsProved(t *testing.T) {
	jobs := map[string]*job.Job{}
	for _, n := range assets.Demos() {
		jobs[n] = demo(t, n, "")
	}
	for _, n := range []string{"radius-arms-panhard", "bent-lowers", "watts-pair"} {
		jobs[n] = layouts(t)[n]
		require.NotNil(t, jobs[n], n)
	}
	for name, j := range jobs {
		for _, depth := range []study.Depth{study.Live, study.Full} {
			s := study.NewWith(context.Background(), j, depth, 2)
			p := s.Proving()
			if depth == study.Live && name == "radius-arms-panhard" { // takes longer than a hand waits for
				assert.Equal(t, p.Pairs, p.Sampled, name)
				continue
			}
			require.Zero(t, p.Sampled, "%s: %s", name, p.Why)
			want := 0.5
			if depth == study.Live {
				want = 5
			}
			assert.Equal(t, want, math.Round(p.Within*1e5)/1e5, name)
			rnd := rand.New(rand.NewPCG(1, 1))
			lo, hi := s.Range.Box()
			looked := 0
			for range 400 {
				l, r := lo.Left+rnd.Float64()*(hi.Left-lo.Left), lo.Right+rnd.Float64()*(hi.Right-lo.Right)
				if !s.Range.Contains(l, r) {
					continue
				}
				at := s.At(l, r)
				require.Empty(t, at.Err)
				looked++
				for i := range at.Gaps {
					require.GreaterOrEqual(t, at.Gaps[i].Gap, s.Smallest[i].NotLess, "%s: pair %d at %v, %v", name, i, l, r)
				}
			}
			assert.Greater(t, looked, 50, name)
		}
	}
}

// Where the links end the travel the proof goes as far as the last of it: while a hand moves something it is not tried.
func TestProofWhereTheLinksEndTheTravel(t *testing.T) {
	j := demo(t, "orchard-sprayer", "")
	j.Links[0].Axle[0] = j.Links[0].Frame[0] - 170
	j.Links[1].Frame[2] -= 248
	j.Links[1].Axle[2] -= 208
	s := study.New(context.Background(), j, study.Live)
	require.True(t, s.Bounded(), s.RangeNote)
	p := s.Proving()
	assert.Positive(t, p.Pairs)
	assert.Equal(t, p.Pairs, p.Sampled)
	assert.Equal(t, "Gaps are found at the positions tried, not proved: it is worked out when nothing moves.", s.ProvedWords())

	s = study.New(context.Background(), j, study.Full)
	p = s.Proving()
	assert.Zero(t, p.Sampled)
	assert.Greater(t, p.Rest, 0.5)
	assert.Less(t, p.Rest, 5.0)
	assert.Regexp(t, `^Gaps are proved over the whole travel but for the last [\d.]+ mm before the links end it \(only tried at positions\), between positions too: nowhere less than the one found by more than 0\.5 mm\.$`, s.ProvedWords())
	assert.Regexp(t, `; gaps proved to 0\.5 mm but for the last [\d.]+ mm before the links end$`, s.CheckedWords())
	told := false
	for i := range s.Findings {
		if f := &s.Findings[i]; f.Kind == study.Tight && f.Pair >= 0 {
			assert.Regexp(t, ` Not less than [\d.]+ mm but for the last [\d.]+ mm of travel before the links end it\.`, f.Sentence)
			told = true
		}
	}
	assert.True(t, told)
}

// A gap that is proved is told with what it is not less than, rounded down; one that is only looked for, with that.
func TestProvedAndTriedInWords(t *testing.T) {
	s := study.New(context.Background(), demo(t, "rescue-tender", ""), study.Full)
	f := find(s, "gap/Upper left/Side tank")
	require.NotNil(t, f)
	assert.Regexp(t, `^Upper left comes within 10 mm of the side tank, both wheels down \(119 mm of droop\); 15 mm short of the 25 mm you asked for\. Not less than (9\.[789]|10) mm anywhere in the travel\.`, f.Sentence)
	assert.Regexp(t, `^10 mm, not less than (9\.[789]|10) mm$`, s.GapWords(f.Pair))
	f = find(s, "gap/Tyre left/Wheel arch left") // 39.59 of 40: not told as 40
	require.NotNil(t, f)
	assert.Equal(t, "39.6 mm", f.Number)
	assert.Contains(t, f.Sentence, "comes within 39.6 mm of the wheel arch left, ")
	assert.True(t, strings.HasSuffix(s.CheckedWords(), "pairs left out; gaps proved to 0.5 mm"), s.CheckedWords())
	assert.Contains(t, s.ProvedWords(), "nowhere less than the one found by more than 0.5 mm.")
	far := 0
	for i := range s.Smallest {
		if s.GapFar(i) {
			far++
			assert.Equal(t, "over 150 mm", s.GapWords(i))
			assert.GreaterOrEqual(t, s.Smallest[i].NotLess, 150.0)
		}
	}
	assert.Positive(t, far)

	assert.Equal(t, "1.1 mm in", s.GapWords(s.Order()[0]))
	assert.Regexp(t, `^1\.[2-6] mm in$`, s.BoundWords(s.Order()[0]))

	live := study.New(context.Background(), demo(t, "rescue-tender", ""), study.Live)
	assert.Contains(t, live.CheckedWords(), "; gaps proved to 5 mm")

	j := demo(t, "rescue-tender", "")
	j.Shown = &job.Shown{Length: "in"}
	in := study.New(context.Background(), j, study.Full)
	assert.Contains(t, in.CheckedWords(), "; gaps proved to 0.02 in")
	f = find(in, "gap/Upper left/Side tank")
	require.NotNil(t, f)
	assert.Regexp(t, `Not less than 0\.(38|39|40) in anywhere in the travel\.`, f.Sentence)

	s = study.New(context.Background(), loose(t), study.Full)
	f = nil
	for i := range s.Findings {
		if s.Findings[i].Kind == study.Tight && s.Findings[i].Pair >= 0 {
			f = &s.Findings[i]
		}
	}
	require.NotNil(t, f)
	assert.Regexp(t, ` comes within about [\d.]+ mm of the .*, at the positions tried, `, f.Sentence)
	assert.NotContains(t, f.Sentence, "ot less than")
	assert.Regexp(t, `^about [\d.]+ mm, at the positions tried$`, s.GapWords(f.Pair))
	assert.Equal(t, "Gaps are found at the positions tried, not proved: the links hold the axle poorly somewhere in the travel, or come near the end of their reach.", s.ProvedWords())
	assert.Contains(t, s.CheckedWords(), "; gaps at the positions tried")
	for i := range s.Smallest {
		assert.NotEmpty(t, s.Smallest[i].Why)
	}
}
