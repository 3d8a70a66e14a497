// Package words gives the texts of the screen in the language chosen. English is the language of the source: a text is looked up by its English
// words, a sentence with figures in it by its format, and what has no translation stays English. The job file, the sheets and the command know no language.
// Figures are written alike in every one, with a point, as the files and sheets have them; a comma is understood wherever a number is typed.
package words

import (
	"encoding/json"
	"errors"
	"fmt"
	"path"
	"slices"
	"strings"
	"sync/atomic"

	"axleloft/assets"
)

// English is the language of the source.
const English = "en"

// A catalogue is one language: English words or format -> its own.
type catalogue struct {
	name  string
	texts map[string]string
	nouns bool // it writes nouns with a capital letter
}

var chosen atomic.Pointer[catalogue]

const folder = "translations"

// Languages lists the languages there are by their code, English first.
func Languages() []string {
	out := []string{English}
	entries, err := assets.Translations.ReadDir(folder)
	if err != nil {
		return out
	}
	for _, e := range entries {
		if code := strings.TrimSuffix(e.Name(), ".json"); code != e.Name() && code != English {
			out = append(out, code)
		}
	}
	slices.Sort(out[1:])
	return out
}

// file is how a language is written down.
type file struct {
	Name         string            `json:"name"`
	NounsCapital bool              `json:"nounsCapital"`
	Texts        map[string]string `json:"texts"`
}

func read(code string) (*file, error) {
	data, err := assets.Translations.ReadFile(path.Join(folder, code+".json"))
	if err != nil {
		return nil, fmt.Errorf("There are no words in the language %q.", code)
	}
	var f file
	if err := json.Unmarshal(data, &f); err != nil {
		return nil, fmt.Errorf("The words of the language %q cannot be read: %w", code, err)
	}
	return &f, nil
}

// Name is what a language calls itself: "Deutsch".
func Name(code string) string {
	if code == English {
		return "English"
	}
	if f, err := read(code); err == nil && f.Name != "" {
		return f.Name
	}
	return code
}

// Use chooses the language all later texts are in; an error leaves it as it was. Texts made before stay as they are.
func Use(code string) error {
	if code == English || code == "" {
		chosen.Store(nil)
		return nil
	}
	f, err := read(code)
	if err != nil {
		return err
	}
	chosen.Store(&catalogue{name: code, texts: f.Texts, nouns: f.NounsCapital})
	return nil
}

// Language is the code of the language in use.
func Language() string {
	if c := chosen.Load(); c != nil {
		return c.name
	}
	return English
}

// T is a text in the language in use.
func T(english string) string {
	if c := chosen.Load(); c != nil {
		if t, ok := c.texts[english]; ok {
			return t
		}
	}
	return english
}

// Mark is a text that is looked up later, by T, where it is shown: what a table holds before any language is chosen. It is returned as it is.
func Mark(english string) string { return english }

// Sentence is an error that says its English words in the language in use when it is shown. Two of the same words are the same error.
type Sentence string

func (s Sentence) Error() string { return T(string(s)) }

// F is a text with figures in it: the format is looked up, then filled in as fmt.Sprintf does.
// A translation may take its arguments in another order by fmt's indexes: "%[2]s %[1]s".
func F(format string, args ...any) string {
	if chosen.Load() == nil {
		return fmt.Sprintf(format, args...)
	}
	return fmt.Sprintf(T(format), args...)
}

// Errorf is F as an error, a whole sentence for the user; %w wraps as fmt.Errorf does.
func Errorf(format string, args ...any) error {
	if chosen.Load() == nil {
		return fmt.Errorf(format, args...)
	}
	return fmt.Errorf(T(format), args...)
}

// Error is T as an error.
func Error(english string) error { return errors.New(T(english)) }

// NounsCapital reports whether the language in use writes nouns with a capital letter wherever they stand.
func NounsCapital() bool {
	c := chosen.Load()
	return c != nil && c.nouns
}
