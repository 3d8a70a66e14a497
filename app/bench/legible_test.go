package bench

import (
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"axleloft/app/look"
	"axleloft/app/pad"
	"axleloft/app/sight"

	"fyne.io/fyne/v2"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestTextSizeIsKeptWhereThereIsRoom(t *testing.T) {
	t.Setenv(scaleVariable, "1")
	b := open(t, Options{})
	b.win.Resize(fyne.NewSize(1366, 688))
	require.Equal(t, float32(1), b.textSize())
	b.run("smaller")
	assert.Equal(t, float32(1), b.textSize(), "the usual is the smallest")
	b.run("larger")
	assert.Equal(t, float32(1.2), b.textSize())
	assert.Equal(t, "1.20", os.Getenv(scaleVariable), "the toolkit is told")
	assert.InDelta(t, 1366/1.2, b.win.Canvas().Size().Width, 1, "the window stays as large on the screen")
	b.run("larger")
	assert.Equal(t, float32(1.4), b.textSize())
	b.run("larger")
	assert.Equal(t, float32(1.4), b.textSize(), "no room")
	require.Len(t, b.boxes, 1)
	assert.Equal(t, "No room for larger text", b.boxes[0].title)
	b.escape()
	for _, m := range b.textMenu().ChildMenu.Items {
		if m.Label == "1.7 times" || m.Label == "2 times" {
			assert.True(t, m.Disabled, m.Label)
		}
	}
	b.run("smaller")
	b.run("smaller")
	assert.Equal(t, float32(1), b.textSize())
}

// Every action with keys is in the list with them, and every list of keys is in it whole.
func TestTheListOfKeysIsTheTableOfActions(t *testing.T) {
	b := open(t, Options{})
	b.win.Canvas().OnTypedKey()(&fyne.KeyEvent{Name: fyne.KeyF1})
	require.Len(t, b.boxes, 1, "F1 opens it")
	words := b.boxes[0].words
	for _, a := range b.actions {
		if len(a.keys) > 0 {
			keys := look.ShortcutWords(a.keys[0])
			assert.NotEmpty(t, keys, a.id)
			assert.Contains(t, words, keys+": "+a.label)
		}
	}
	for _, g := range b.keyGroups() {
		assert.Contains(t, words, g.where)
		assert.NotEmpty(t, g.keys)
	}
	page := b.boxes[0].page
	require.NotNil(t, page, "more than fits scrolls")
	for _, k := range []fyne.KeyName{fyne.KeyDown, fyne.KeyPageDown} {
		before := page.Offset.Y
		b.win.Canvas().OnTypedKey()(&fyne.KeyEvent{Name: k})
		assert.Greater(t, page.Offset.Y, before, "by the keys too")
	}
	b.win.Canvas().OnTypedKey()(&fyne.KeyEvent{Name: fyne.KeyHome})
	assert.Zero(t, page.Offset.Y)
	b.escape()
	assert.Empty(t, b.boxes)
	// From wherever the keys are.
	for _, w := range []fyne.Focusable{b.views[0], b.views[1], b.views[2], b.pad, b.top.Job, b.top.Heights, b.layout.dividers[0]} {
		b.win.Canvas().Focus(w)
		w.TypedKey(&fyne.KeyEvent{Name: fyne.KeyF1})
		require.Len(t, b.boxes, 1, "%T", w)
		b.escape()
	}
}

func TestShortcutsAreWrittenAsOnTheKeys(t *testing.T) {
	b := open(t, Options{})
	for id, want := range map[string]string{"saveas": "Ctrl+Shift+S", "keys": "F1", "larger": "Ctrl+=", "undo": "Ctrl+Z"} {
		for _, a := range b.actions {
			if a.id == id {
				assert.Equal(t, want, strings.ReplaceAll(look.ShortcutWords(a.keys[0]), "Cmd", "Ctrl"))
			}
		}
	}
}

// keysIn are the keys and letters that cases of the switches in a file's functions of these names ask for.
func keysIn(t *testing.T, file string, functions ...string) map[string]bool {
	t.Helper()
	f, err := parser.ParseFile(token.NewFileSet(), file, nil, 0)
	require.NoError(t, err)
	out := map[string]bool{}
	for _, d := range f.Decls {
		fn, ok := d.(*ast.FuncDecl)
		if !ok || !slices.Contains(functions, fn.Name.Name) {
			continue
		}
		ast.Inspect(fn, func(n ast.Node) bool {
			c, ok := n.(*ast.CaseClause)
			if !ok {
				return true
			}
			for _, e := range c.List {
				switch x := e.(type) {
				case *ast.SelectorExpr:
					if name, is := strings.CutPrefix(x.Sel.Name, "Key"); is {
						out[name] = true
					}
				case *ast.BasicLit:
					if r, err := strconv.Unquote(x.Value); err == nil && x.Kind == token.CHAR {
						out[strings.ToUpper(r)] = true
					}
				}
			}
			return true
		})
	}
	return out
}

// The lists of the views' and the pad's keys name every key that their code asks for, and no other.
func TestEveryKeyOfTheViewsAndThePadIsListed(t *testing.T) {
	named := map[fyne.KeyName]string{fyne.KeyPageUp: "PageUp", fyne.KeyPageDown: "PageDown", fyne.KeyEnter: "Enter", fyne.KeyReturn: "Return", fyne.KeyEscape: "Escape", fyne.KeyBackspace: "Backspace"}
	for file, list := range map[string][]look.Key{"../sight/keys.go": sight.Keys, "../pad/pad.go": pad.Keys} {
		got := map[string]bool{}
		for _, k := range list {
			assert.NotEmpty(t, k.Does, file)
			for _, n := range k.Keys {
				if w, ok := named[n]; ok {
					got[w] = true
				} else {
					got[string(n)] = true
				}
			}
			for _, r := range strings.ToUpper(k.Runes) {
				got[string(r)] = true
			}
		}
		want := keysIn(t, file, "TypedKey", "TypedRune", "arrow")
		require.Greater(t, len(want), 8, file)
		assert.Equal(t, want, got, file)
	}
}
