package words

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// constant is what a string expression of literals and of constants of its own package comes to.
func constant(e ast.Expr, consts map[string]string) (string, bool) {
	switch x := e.(type) {
	case *ast.Ident:
		s, ok := consts[x.Name]
		return s, ok
	case *ast.SelectorExpr: // of another room
		s, ok := consts["."+x.Sel.Name]
		return s, ok
	case *ast.BasicLit:
		if x.Kind == token.STRING {
			s, err := strconv.Unquote(x.Value)
			return s, err == nil
		}
	case *ast.ParenExpr:
		return constant(x.X, consts)
	case *ast.BinaryExpr:
		a, ok := constant(x.X, consts)
		b, also := constant(x.Y, consts)
		return a + b, ok && also && x.Op == token.ADD
	}
	return "", false
}

// source calls f with every file of the rooms that is no test.
func source(t *testing.T, f func(name string, fset *token.FileSet, file *ast.File)) {
	t.Helper()
	require.NoError(t, filepath.WalkDir("..", func(name string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() || !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go") {
			return err
		}
		fset := token.NewFileSet()
		file, err := parser.ParseFile(fset, name, nil, 0)
		if err == nil {
			f(name, fset, file)
		}
		return err
	}))
}

// looked are the texts that are looked up, each with a place where.
func looked(t *testing.T) map[string]string {
	consts := map[string]map[string]string{}
	out := map[string]string{}
	exported := map[string]string{}
	source(t, func(name string, _ *token.FileSet, file *ast.File) {
		dir := filepath.Dir(name)
		if consts[dir] == nil {
			consts[dir] = map[string]string{}
		}
		for _, d := range file.Decls {
			g, ok := d.(*ast.GenDecl)
			if !ok || g.Tok != token.CONST {
				continue
			}
			for _, spec := range g.Specs {
				v := spec.(*ast.ValueSpec)
				for i, id := range v.Names {
					if i < len(v.Values) {
						if s, ok := constant(v.Values[i], nil); ok {
							consts[dir][id.Name] = s
							if id.IsExported() {
								exported["."+id.Name] = s
							}
						}
					}
				}
			}
		}
	})
	for _, c := range consts {
		maps.Copy(c, exported)
	}
	source(t, func(name string, fset *token.FileSet, file *ast.File) {
		ast.Inspect(file, func(n ast.Node) bool {
			call, ok := n.(*ast.CallExpr)
			if !ok || len(call.Args) == 0 {
				return true
			}
			fun, ok := call.Fun.(*ast.SelectorExpr)
			if !ok {
				return true
			}
			if pkg, ok := fun.X.(*ast.Ident); !ok || pkg.Name != "words" || !slices.Contains([]string{"T", "F", "Errorf", "Error", "Mark", "Sentence"}, fun.Sel.Name) {
				return true
			}
			if s, ok := constant(call.Args[0], consts[filepath.Dir(name)]); ok && s != "" {
				out[s] = fset.Position(call.Pos()).String()
			}
			return true
		})
	})
	require.Greater(t, len(out), 1000)
	return out
}

var verb = regexp.MustCompile(`%(\[\d+\])?[-+#0]*(\*|\d+)?(\.(\*|\d+))?(\[\d+\])?[a-zA-Z%]`)

// verbs are a format's verbs in the order of their arguments, with what each asks for.
func verbs(format string) []string {
	var out []string
	at := 0
	for _, m := range verb.FindAllString(format, -1) {
		if m == "%%" {
			continue
		}
		if i := strings.Index(m, "["); i >= 0 {
			end := strings.Index(m, "]")
			n, _ := strconv.Atoi(m[i+1 : end])
			at, m = n-1, m[:i]+m[end+1:]
		}
		for len(out) <= at {
			out = append(out, "")
		}
		out[at] = m
		at++
	}
	return out
}

// Every language has every text that is looked up, none that is not, and in each the same figures as the English has.
func TestCatalogues(t *testing.T) {
	used := looked(t)
	if name := os.Getenv("AXLELOFT_TEXTS"); name != "" { // for whoever writes a language: the English of all of it, a line each
		var list []string
		for s := range used {
			list = append(list, strconv.Quote(s))
		}
		slices.Sort(list)
		require.NoError(t, os.WriteFile(name, []byte(strings.Join(list, "\n")+"\n"), 0o644))
	}
	for _, code := range Languages()[1:] {
		f, err := read(code)
		require.NoError(t, err)
		for english, where := range used {
			said, ok := f.Texts[english]
			if !assert.True(t, ok, "%s has no words for %q (%s)", code, english, where) {
				continue
			}
			assert.Equal(t, verbs(english), verbs(said), "%s: the figures of %q", code, english)
			assert.Equal(t, space(english), space(said), "%s: the spaces around %q", code, english)
		}
		for english := range f.Texts {
			assert.Contains(t, used, english, "%s: nothing looks this up any more", code)
		}
	}
}

// space tells what white space begins and ends a text.
func space(s string) [2]string {
	return [2]string{s[:len(s)-len(strings.TrimLeft(s, " \n"))], s[len(strings.TrimRight(s, " \n")):]}
}

// unread are keys of findings, sources as the file keeps them, and what the window's clock and whoever drives it from outside go by.
var unread = []string{"slip left in", "slip left out", "before a frame", "ride place of ", "from the floor", "as it hung"}

// A sentence on the screen is one that is looked up: no literal of three words or more stands bare in the rooms of the window.
func TestNoBareSentence(t *testing.T) {
	three := regexp.MustCompile(`\p{L}{2,}[,.;:]? \p{L}+[,.;:]? \p{L}{2,}`)
	source(t, func(name string, fset *token.FileSet, file *ast.File) {
		room := filepath.Base(filepath.Dir(name))
		if slices.Contains([]string{"headless", "sheets", "words", "display"}, room) || strings.HasPrefix(filepath.Base(name), "probe") {
			return // the command and the sheets are English
		}
		var inside []ast.Node
		ast.Inspect(file, func(n ast.Node) bool {
			if n == nil {
				inside = inside[:len(inside)-1]
				return true
			}
			if lit, ok := n.(*ast.BasicLit); ok && lit.Kind == token.STRING {
				s, _ := strconv.Unquote(lit.Value)
				bare := three.MatchString(s) && !slices.Contains(unread, s)
				for _, p := range inside {
					switch x := p.(type) {
					case *ast.CallExpr:
						if f, ok := x.Fun.(*ast.SelectorExpr); ok {
							if pkg, ok := f.X.(*ast.Ident); ok && (pkg.Name == "words" || pkg.Name == "regexp") {
								bare = false
							}
						}
						if f, ok := x.Fun.(*ast.Ident); ok && f.Name == "panic" {
							bare = false
						}
					case *ast.KeyValueExpr:
						bare = bare && x.Key != ast.Expr(lit)
					case *ast.GenDecl:
						bare = bare && x.Tok != token.CONST // constants are looked up where they are shown
					case *ast.CaseClause:
						bare = bare && !slices.Contains(x.List, ast.Expr(lit))
					}
				}
				assert.False(t, bare, "%s: %q", fset.Position(lit.Pos()), s)
			}
			inside = append(inside, n)
			return true
		})
	})
}
