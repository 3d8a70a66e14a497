package shape

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"
)

// Bounds of what ReadSTL takes.
const (
	// MaxTriangles is how many triangles a mesh may have.
	MaxTriangles = 300_000
	// meshReach is how far from the origin a corner may lie, mm.
	meshReach = 1e5
	// stlHead and stlTriangle are the sizes of a binary file's head (80 bytes of text, a count) and of a triangle (normal, three corners, two bytes), bytes.
	stlHead, stlTriangle = 84, 50
	// stlMost is the largest file that is read, bytes: MaxTriangles in text, a triangle in some 300 bytes.
	stlMost = 300 * MaxTriangles
)

// ReadSTL reads a mesh from an STL file, binary or text, in mm, whole. Normals are not read: a triangle's corners run anticlockwise seen from outside.
// The error is a plain sentence, which says where in the file and what to do, without the file's name.
func ReadSTL(r io.Reader) (*Mesh, error) {
	data, err := io.ReadAll(io.LimitReader(r, stlMost+1))
	if err != nil {
		return nil, fmt.Errorf("It could not be read to its end: %w.", err)
	}
	if len(data) > stlMost {
		return nil, tooMany(0)
	}
	if len(data) == 0 {
		return nil, errors.New("It is empty. Write it again from the program that drew it.")
	}
	var corners []r3.Vec
	// A binary file may begin with the word of a text file: its size tells.
	if n, is := stlCount(data); is || !textSTL(data) {
		corners, err = binarySTL(data, n)
	} else {
		corners, err = readText(data)
	}
	if err != nil {
		return nil, err
	}
	return NewMesh(corners)
}

func tooMany(n int) error {
	if n == 0 {
		return fmt.Errorf("It is larger than any mesh of %d triangles, the most that are read. Write it coarser.", MaxTriangles)
	}
	return fmt.Errorf("It has %d triangles; at most %d are read. Write it coarser.", n, MaxTriangles)
}

// stlCount is how many triangles the head of a binary file tells, and whether the file has exactly their size.
func stlCount(data []byte) (n int, whole bool) {
	if len(data) < stlHead {
		return 0, false
	}
	n = int(binary.LittleEndian.Uint32(data[stlHead-4:]))
	return n, len(data) == stlHead+stlTriangle*n
}

// textSTL reports whether the file begins as text does.
func textSTL(data []byte) bool {
	start := bytes.TrimLeft(data[:min(len(data), 512)], "\ufeff \t\r\n")
	return len(start) >= 5 && strings.EqualFold(string(start[:5]), "solid") && !bytes.ContainsRune(data[:min(len(data), 512)], 0)
}

func binarySTL(data []byte, n int) ([]r3.Vec, error) {
	if len(data) < stlHead {
		return nil, errors.New("It is no STL file, or was cut short. Write it again as STL, binary or text.")
	}
	switch has := (len(data) - stlHead) / stlTriangle; {
	case n > MaxTriangles && has > MaxTriangles:
		return nil, tooMany(n)
	case len(data) < stlHead+stlTriangle*n:
		return nil, fmt.Errorf("Its head tells of %d triangles and %d are there: it was cut short, or is no STL file. Use a whole copy of it.", n, has)
	case len(data) > stlHead+stlTriangle*n:
		return nil, fmt.Errorf("Its head tells of %d triangles and there is more after them: it is no whole STL file. Write it again.", n)
	}
	corners := make([]r3.Vec, 0, 3*n)
	for i := range n {
		at := data[stlHead+stlTriangle*i+12:]
		for range 3 {
			var v [3]float64
			for k := range v {
				v[k] = float64(math.Float32frombits(binary.LittleEndian.Uint32(at[4*k:])))
			}
			at = at[12:]
			corners = append(corners, r3.Vec{X: v[0], Y: v[1], Z: v[2]})
		}
	}
	return corners, nil
}

// words hands out the words of a text, each with its line.
type words struct {
	rest []byte
	line int
}

func (w *words) next() string {
	for len(w.rest) > 0 && w.rest[0] <= ' ' {
		if w.rest[0] == '\n' {
			w.line++
		}
		w.rest = w.rest[1:]
	}
	n := 0
	for n < len(w.rest) && w.rest[n] > ' ' {
		n++
	}
	s := w.rest[:n]
	w.rest = w.rest[n:]
	return string(s)
}

// skipLine goes to the line's end: what follows solid and endsolid is a name.
func (w *words) skipLine() {
	if n := bytes.IndexByte(w.rest, '\n'); n >= 0 {
		w.rest = w.rest[n:]
		return
	}
	w.rest = nil
}

func (w *words) want(word string) error {
	got := w.next()
	switch {
	case strings.EqualFold(got, word):
		return nil
	case got == "":
		return fmt.Errorf("It ends in line %d where %q was expected: it was cut short. Use a whole copy of it.", w.line, word)
	}
	return fmt.Errorf("Line %d has %q where %q was expected. Write the file again as STL.", w.line, clipWord(got), word)
}

func clipWord(s string) string {
	s = strings.ToValidUTF8(s, "\ufffd")
	if r := []rune(s); len(r) > 24 {
		s = string(r[:24])
	}
	return s
}

func (w *words) numbers(dst *[3]float64, any bool) error {
	for k := range dst {
		got := w.next()
		x, err := strconv.ParseFloat(got, 64)
		switch {
		case got == "":
			return fmt.Errorf("It ends in line %d where a number was expected: it was cut short. Use a whole copy of it.", w.line)
		case err != nil && !any && !errors.Is(err, strconv.ErrRange):
			return fmt.Errorf("Line %d has %q where a number was expected. Write the file again as STL.", w.line, clipWord(got))
		}
		dst[k] = x
	}
	return nil
}

// readText reads a text file: one solid or several.
func readText(data []byte) ([]r3.Vec, error) {
	w := &words{rest: bytes.TrimPrefix(data, []byte("\ufeff")), line: 1}
	if err := w.want("solid"); err != nil {
		return nil, err
	}
	w.skipLine()
	var corners []r3.Vec
	inside := true
	for {
		var v [3]float64
		switch word := w.next(); {
		case word == "" && inside:
			return nil, fmt.Errorf("It ends in line %d without \"endsolid\": it was cut short. Use a whole copy of it.", w.line)
		case word == "":
			return corners, nil
		case strings.EqualFold(word, "endsolid") && inside:
			inside = false
			w.skipLine()
			continue
		case strings.EqualFold(word, "solid") && !inside:
			inside = true
			w.skipLine()
			continue
		case !strings.EqualFold(word, "facet") || !inside:
			return nil, fmt.Errorf("Line %d has %q where \"facet\" or \"endsolid\" was expected. Write the file again as STL.", w.line, clipWord(word))
		}
		if err := w.want("normal"); err != nil {
			return nil, err
		}
		if err := w.numbers(&v, true); err != nil {
			return nil, err
		}
		for _, k := range []string{"outer", "loop"} {
			if err := w.want(k); err != nil {
				return nil, err
			}
		}
		for range 3 {
			if err := w.want("vertex"); err != nil {
				return nil, err
			}
			if err := w.numbers(&v, false); err != nil {
				return nil, err
			}
			corners = append(corners, r3.Vec{X: v[0], Y: v[1], Z: v[2]})
		}
		for _, k := range []string{"endloop", "endfacet"} {
			if err := w.want(k); err != nil {
				return nil, err
			}
		}
		if len(corners) > 3*MaxTriangles {
			return nil, tooMany(0)
		}
	}
}
