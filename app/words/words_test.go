package words

import (
	"errors"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// use chooses a language for one test.
func use(t *testing.T, code string) {
	t.Helper()
	require.NoError(t, Use(code))
	t.Cleanup(func() { require.NoError(t, Use(English)) })
}

func TestEnglishIsTheSource(t *testing.T) {
	assert.Equal(t, English, Language())
	assert.Equal(t, "Undo", T("Undo"))
	assert.Equal(t, "1.5 mm", F("%.1f mm", 1.5))
}

func TestGerman(t *testing.T) {
	assert.Contains(t, Languages(), "de")
	assert.Equal(t, English, Languages()[0])
	assert.Equal(t, "Deutsch", Name("de"))
	use(t, "de")
	assert.Equal(t, "de", Language())
	assert.Equal(t, "Rückgängig", T("Undo"))
	assert.Equal(t, "nowhere translated", T("nowhere translated"), "what has no translation stays English")
	assert.Equal(t, "1.5 | -12 |  2.50", F("%.1f | %d | %5.2f", 1.5, -12, 2.5), "figures are written alike in every language")
	assert.True(t, NounsCapital())
	assert.Equal(t, "Rückgängig", Sentence("Undo").Error())
	inner := errors.New("inner")
	assert.ErrorIs(t, Errorf("outer: %w", inner), inner)
}

func TestUnknownLanguageChangesNothing(t *testing.T) {
	use(t, "de")
	require.ErrorContains(t, Use("xx"), "no words in the language")
	assert.Equal(t, "de", Language())
}
