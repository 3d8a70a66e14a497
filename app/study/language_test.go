package study

import (
	"context"
	"os"
	"path/filepath"
	"testing"

	"axleloft/app/words"
	"axleloft/geometry/job"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What the file and the command know findings, readings and charts by is the same whatever the language they are said in; what is said is not.
func TestKeysKnowNoLanguage(t *testing.T) {
	t.Cleanup(func() { require.NoError(t, words.Use(words.English)) })
	files, err := filepath.Glob("../../testdata/layouts/*.axleloft")
	require.NoError(t, err)
	demos, err := filepath.Glob("../../assets/jobs/*.axleloft")
	require.NoError(t, err)
	said, other := 0, 0
	for _, name := range append(files, demos...) {
		keys := map[string][]string{}
		sentences := map[string][]string{}
		for _, language := range []string{words.English, "de"} {
			require.NoError(t, words.Use(language))
			f, err := os.Open(name)
			require.NoError(t, err)
			j, err := job.Read(f)
			f.Close()
			require.NoError(t, err, name)
			s := New(context.Background(), j, Full)
			for i := range s.Findings {
				keys[language] = append(keys[language], s.Findings[i].Key)
				sentences[language] = append(sentences[language], s.Findings[i].Sentence)
			}
			for _, r := range Readings() {
				keys[language] = append(keys[language], r.Key)
			}
			for _, c := range Charts() {
				keys[language] = append(keys[language], c.Key)
			}
			for _, row := range s.HeightTable().Rows {
				keys[language] = append(keys[language], row.Key)
			}
		}
		assert.Equal(t, keys[words.English], keys["de"], name)
		for i := range sentences["de"] {
			said++
			if i < len(sentences[words.English]) && sentences["de"][i] != sentences[words.English][i] {
				other++
			}
		}
	}
	assert.Greater(t, said, 50)
	assert.Greater(t, other, said*9/10, "%d of %d sentences", other, said)
}
