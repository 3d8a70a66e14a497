package job

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"unicode/utf8"
)

// lineWidth is how wide a line of the file may get before its group or list is broken over several, in letters.
const lineWidth = 152

// Write writes the job in the house layout: keys in the order of the types, two blanks a step, a group or list on one line where it
// fits, numbers in their shortest form. What is written reads back to the same bytes. A job that Read would refuse is refused here with
// *Error and nothing is written.
func Write(w io.Writer, j *Job) error {
	data, err := encode(j)
	if err != nil {
		return err
	}
	if _, err := io.WriteString(w, data); err != nil {
		return notSaved("", err)
	}
	return nil
}

// WriteFile writes the file whole or not at all: it goes to a temporary file beside it, which then takes its name. The old file, its
// permissions kept, stays on any failure, and the error is a plain sentence.
func WriteFile(name string, j *Job) error {
	data, err := encode(j)
	if err != nil {
		var e *Error
		if errors.As(err, &e) {
			e.File = name
		}
		return err
	}
	if real, err := filepath.EvalSymlinks(name); err == nil {
		name = real // write through a link, not over it
	}
	if info, err := os.Stat(name); err == nil {
		switch {
		case info.IsDir():
			return saveError(name, nil, "%s is a folder. Give a file name in it.", filepath.Base(name))
		case !info.Mode().IsRegular():
			return saveError(name, nil, "%s is no plain file, so it cannot be replaced. Give another name.", filepath.Base(name))
		case info.Mode().Perm()&0o200 == 0:
			return saveError(name, os.ErrPermission, "the file is read-only. Save it under another name, or make it writable.")
		}
	}
	if err := replace(name, []byte(data)); err != nil {
		return notSaved(name, err)
	}
	return nil
}

func notSaved(name string, err error) error {
	return saveError(name, err, "%s. Save it somewhere else.", machineWords(err))
}

func saveError(name string, err error, format string, args ...any) error {
	return &Error{File: name, Err: err, saving: true, Complaints: []Complaint{{Text: fmt.Sprintf(format, args...)}}}
}

// encode lays the job out and reads it back, so that nothing is ever written that cannot be opened.
func encode(j *Job) (string, error) {
	var e encoder
	e.value(reflect.ValueOf(j).Elem(), 0, 0, 0)
	e.b.WriteByte('\n')
	data := e.b.String()
	_, err := decode(data)
	if len(data) > MaxSize {
		return "", saveError("", nil, "the job is larger than %d MB, which could not be opened again. Take something out.", MaxSize>>20)
	}
	var refused *Error
	if errors.As(err, &refused) {
		for i := range refused.Complaints {
			refused.Complaints[i].Line = 0 // of a file nobody has seen
		}
		refused.saving = true
		return "", refused
	}
	return data, nil
}

type encoder struct{ b strings.Builder }

// value writes v, which starts at column col of a line indented by indent steps; after is how much must still fit behind it.
func (e *encoder) value(v reflect.Value, indent, col, after int) {
	for v.Kind() == reflect.Pointer && !v.IsNil() {
		v = v.Elem()
	}
	if _, root := v.Interface().(Job); !root {
		if one := compact(v); flat(v) || col+utf8.RuneCountInString(one)+after <= lineWidth {
			e.b.WriteString(one)
			return
		}
	}
	switch v.Kind() {
	case reflect.Struct:
		members := shownMembers(v)
		e.b.WriteString("{")
		for i, m := range members {
			e.line(indent + 1)
			head := quote(m.key) + ": "
			e.b.WriteString(head)
			e.value(v.Field(m.index), indent+1, 2*(indent+1)+utf8.RuneCountInString(head), 1)
			e.comma(i, len(members))
		}
		e.line(indent)
		e.b.WriteString("}")
	case reflect.Map:
		keys := sortedKeys(v)
		e.b.WriteString("{")
		for i, k := range keys {
			e.line(indent + 1)
			head := quote(k) + ": "
			e.b.WriteString(head)
			e.value(v.MapIndex(reflect.ValueOf(k)), indent+1, 2*(indent+1)+utf8.RuneCountInString(head), 1)
			e.comma(i, len(keys))
		}
		e.line(indent)
		e.b.WriteString("}")
	case reflect.Slice:
		e.b.WriteString("[")
		fill := flat(v.Index(0)) // places and words: as many on a line as fit
		at := lineWidth + 1
		for i := range v.Len() {
			if !fill {
				e.line(indent + 1)
				e.value(v.Index(i), indent+1, 2*(indent+1), 1)
				e.comma(i, v.Len())
				continue
			}
			one := compact(v.Index(i))
			size := utf8.RuneCountInString(one)
			if at+1+size+1 > lineWidth {
				e.line(indent + 1)
				at = 2 * (indent + 1)
			} else {
				e.b.WriteByte(' ')
				at++
			}
			e.b.WriteString(one)
			e.comma(i, v.Len())
			at += size + 1
		}
		e.line(indent)
		e.b.WriteString("]")
	}
}

func (e *encoder) line(indent int) {
	e.b.WriteByte('\n')
	for range indent {
		e.b.WriteString("  ")
	}
}

func (e *encoder) comma(i, n int) {
	if i < n-1 {
		e.b.WriteByte(',')
	}
}

// flat reports whether v is never broken over lines: a number, a word, a place, an empty list.
func flat(v reflect.Value) bool {
	switch v.Kind() {
	case reflect.Struct:
		return false
	case reflect.Slice, reflect.Map:
		return v.Len() == 0
	}
	return true
}

// shownMembers are the keys v has: all that must stand, and what is not left out.
func shownMembers(v reflect.Value) []member {
	var out []member
	for _, m := range layouts[v.Type()] {
		f := v.Field(m.index)
		if m.optional {
			switch f.Kind() {
			case reflect.Map:
				if f.Len() == 0 {
					continue
				}
			default: // an empty list is not the zero value: it says "none"
				if f.IsZero() {
					continue
				}
			}
		}
		out = append(out, m)
	}
	return out
}

// compact is v on one line.
func compact(v reflect.Value) string {
	var b strings.Builder
	compactTo(&b, v)
	return b.String()
}

func compactTo(b *strings.Builder, v reflect.Value) {
	switch v.Kind() {
	case reflect.Pointer:
		if v.IsNil() {
			b.WriteString("null")
			return
		}
		compactTo(b, v.Elem())
	case reflect.Struct:
		b.WriteByte('{')
		for i, m := range shownMembers(v) {
			if i > 0 {
				b.WriteString(", ")
			}
			b.WriteString(quote(m.key))
			b.WriteString(": ")
			compactTo(b, v.Field(m.index))
		}
		b.WriteByte('}')
	case reflect.Map:
		b.WriteByte('{')
		for i, k := range sortedKeys(v) {
			if i > 0 {
				b.WriteString(", ")
			}
			b.WriteString(quote(k))
			b.WriteString(": ")
			compactTo(b, v.MapIndex(reflect.ValueOf(k)))
		}
		b.WriteByte('}')
	case reflect.Slice, reflect.Array:
		b.WriteByte('[')
		for i := range v.Len() {
			if i > 0 {
				b.WriteString(", ")
			}
			compactTo(b, v.Index(i))
		}
		b.WriteByte(']')
	case reflect.Float64:
		b.WriteString(figure(v.Float() + 0))
	case reflect.Int:
		fmt.Fprint(b, v.Int())
	case reflect.String:
		b.WriteString(quote(v.String()))
	case reflect.Bool:
		fmt.Fprint(b, v.Bool())
	}
}

// quote writes a JSON text: letters of every script as they are, only quotes, backslashes and control characters escaped.
func quote(s string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, c := range []byte(s) {
		switch c {
		case '"', '\\':
			b.WriteByte('\\')
			b.WriteByte(c)
		case '\n':
			b.WriteString(`\n`)
		case '\r':
			b.WriteString(`\r`)
		case '\t':
			b.WriteString(`\t`)
		default:
			if c < ' ' {
				fmt.Fprintf(&b, `\u%04x`, c)
				continue
			}
			b.WriteByte(c)
		}
	}
	b.WriteByte('"')
	return b.String()
}
