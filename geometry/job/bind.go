package job

import (
	"errors"
	"io"
	"math"
	"os"
	"reflect"
	"sort"
	"strconv"
	"strings"
)

// Read reads a job; it refuses with *Error, all complaints together. At most MaxSize bytes are read.
func Read(r io.Reader) (*Job, error) {
	data, err := io.ReadAll(io.LimitReader(r, MaxSize+1))
	if err != nil {
		return nil, &Error{Complaints: []Complaint{{Text: "The file could not be read to its end: " + machineWords(err) + "."}}, Err: err}
	}
	if len(data) > MaxSize {
		return nil, &Error{Complaints: []Complaint{{Text: "The file is larger than " + strconv.Itoa(MaxSize>>20) + " MB; no job is. Check that it is a job file."}}}
	}
	return decode(string(data))
}

// ReadFile reads the job of a file; the error says the file's name and that nothing was loaded.
func ReadFile(name string) (*Job, error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, &Error{File: name, Err: err, Complaints: []Complaint{{Text: "The file could not be opened: " + machineWords(err) + "."}}}
	}
	defer f.Close()
	j, err := Read(f)
	var e *Error
	if errors.As(err, &e) {
		e.File = name
	}
	return j, err
}

// decode turns the bytes of a file into a job, or tells everything wrong with them.
func decode(data string) (*Job, error) {
	root, err := parseJSON(data)
	var s *syntaxError
	if errors.As(err, &s) {
		return nil, &Error{Complaints: []Complaint{{Line: s.line, Text: s.text}}}
	}
	b := &binder{}
	if root.kind != objectNode {
		b.add("", root.line, "The file holds %s where a job was expected. A job file begins with {\"format\": %q, ...}.", root.kind, Format)
		return nil, &Error{Complaints: b.list}
	}
	if b.header(&root); len(b.list) > 0 {
		return nil, &Error{Complaints: b.list}
	}
	j := &Job{}
	b.value(&root, reflect.ValueOf(j).Elem(), "", field{})
	for _, c := range check(j, b.list) {
		if !b.touched(c.Place) {
			c.Line = lineOf(&root, c.Place)
			b.add(c.Place, c.Line, "%s", c.Text)
		}
	}
	if len(b.list) > 0 {
		sort.SliceStable(b.list, func(i, k int) bool { return b.list[i].Line < b.list[k].Line })
		return nil, &Error{Complaints: b.list}
	}
	return j, nil
}

// binder puts JSON values into the job's types.
type binder struct{ complaints }

// header looks at format and version before anything else, so that another kind of file, or a newer one, gets one sentence and not many.
func (b *binder) header(root *node) {
	format, version := root.member("format"), root.member("version")
	switch {
	case format == nil:
		b.add("format", root.line, "The key \"format\" is missing, so this is not known to be a job. A job file begins with {\"format\": %q, \"version\": %d, ...}.", Format, Version)
	case format.kind != stringNode || format.text != Format:
		b.add("format", format.line, "The format is %s; %q is expected. This is another kind of file.", format.shown(), Format)
	case version == nil:
		b.add("version", root.line, "The key \"version\" is missing. Add \"version\": %d.", Version)
	case version.kind == numberNode:
		v, err := strconv.ParseFloat(version.text, 64)
		if v > Version && v == math.Trunc(v) && !math.IsInf(v, 0) {
			b.add("version", version.line, "This file has version %s and this program reads version %d. A newer Axleloft wrote it: open it with that one.", version.text, Version)
		} else if err != nil || v != math.Trunc(v) || v < 1 {
			b.add("version", version.line, "The version is %s; %d is expected.", version.text, Version)
		}
	default:
		b.add("version", version.line, "The version is %s; the number %d is expected.", version.shown(), Version)
	}
}

// member returns the first member of that name, nil where there is none.
func (n *node) member(key string) *node {
	for i, k := range n.keys {
		if k == key {
			return &n.list[i]
		}
	}
	return nil
}

// shown is the value as a complaint quotes it.
func (n *node) shown() string {
	switch n.kind {
	case numberNode, wordNode:
		return clip(n.text)
	case stringNode:
		return strconv.Quote(clip(n.text))
	case boolNode:
		return strconv.FormatBool(n.yes)
	}
	return n.kind.String()
}

func join(place, key string) string {
	if place == "" {
		return key
	}
	return place + "." + key
}

func item(place string, i int) string { return place + "[" + strconv.Itoa(i) + "]" }

// value binds n to v; f is what is said about the key it stands under.
func (b *binder) value(n *node, v reflect.Value, place string, f field) {
	if b.full() {
		return
	}
	switch v.Kind() {
	case reflect.Pointer:
		v.Set(reflect.New(v.Type().Elem()))
		b.value(n, v.Elem(), place, f)
	case reflect.Struct:
		b.object(n, v, place)
	case reflect.Map:
		b.table(n, v, place, f)
	case reflect.Slice:
		if n.kind != listNode {
			b.wrongKind(n, place, "a list in square brackets")
			return
		}
		v.Set(reflect.MakeSlice(v.Type(), len(n.list), len(n.list)))
		for i := range n.list {
			b.value(&n.list[i], v.Index(i), item(place, i), f)
		}
	case reflect.Array:
		want := "a list of " + strconv.Itoa(v.Len()) + " numbers in square brackets"
		if n.kind != listNode {
			b.wrongKind(n, place, want)
			return
		}
		if len(n.list) != v.Len() {
			b.add(place, n.line, "%d values are given; %s is expected.", len(n.list), want)
			return
		}
		for i := range n.list {
			b.value(&n.list[i], v.Index(i), item(place, i), f)
		}
	case reflect.Float64:
		if x, ok := b.float(n, place, f); ok {
			v.SetFloat(x)
		}
	case reflect.Int:
		if x, ok := b.float(n, place, f); ok {
			v.SetInt(int64(x)) // the header saw to it that it is whole and small
		}
	case reflect.String:
		if n.kind != stringNode {
			b.wrongKind(n, place, "a text in double quotes")
			return
		}
		v.SetString(n.text)
	case reflect.Bool:
		if n.kind != boolNode {
			b.wrongKind(n, place, "true or false")
			return
		}
		v.SetBool(n.yes)
	}
}

func (b *binder) wrongKind(n *node, place, want string) {
	if n.kind == nullNode {
		b.add(place, n.line, "null is given; %s is expected. Leave the key out where there is nothing to say.", want)
		return
	}
	b.add(place, n.line, "%s is given; %s is expected. Correct it.", n.shown(), want)
}

func (b *binder) float(n *node, place string, f field) (float64, bool) {
	want := "a number"
	if f.num != nil {
		want = f.num.wanted()
	}
	switch n.kind {
	case numberNode:
		x, err := strconv.ParseFloat(n.text, 64)
		if err != nil {
			b.add(place, n.line, "%s is too large a number; %s is expected. Check the digits.", clip(n.text), want)
			return 0, false
		}
		return x + 0, true // no -0
	case wordNode:
		b.add(place, n.line, "%s is not a number a job can hold; %s is expected. Correct it.", n.text, want)
		return 0, false
	}
	b.wrongKind(n, place, want)
	return 0, false
}

// object binds the members of a group by the type's own keys, case and all.
func (b *binder) object(n *node, v reflect.Value, place string) {
	if n.kind != objectNode {
		b.wrongKind(n, place, "a group in braces")
		return
	}
	members := layouts[v.Type()]
	seen := make([]bool, len(members))
	var meant []string
	for i, key := range n.keys {
		m := -1
		for k := range members {
			if members[k].key == key {
				m = k
				break
			}
		}
		switch {
		case m < 0:
			meant = append(meant, b.unknown(key, n.at[i], place, members))
		case seen[m]:
			b.add(join(place, key), n.at[i], "%q is given twice. Keep one of them.", key)
		default:
			seen[m] = true
			b.value(&n.list[i], v.Field(members[m].index), join(place, key), members[m].field)
		}
	}
	for k := range members {
		if members[k].field.need && !seen[k] && !contains(meant, members[k].key) {
			b.add(join(place, members[k].key), n.line, "%q is missing. %s", members[k].key, members[k].field.wanted())
		}
	}
}

// unknown tells of a key nobody knows, and returns the key it was taken for.
func (b *binder) unknown(key string, line int, place string, members []member) string {
	where := ""
	if place != "" {
		where = " It stands in " + place + "."
	}
	known := make([]string, len(members))
	for i := range members {
		known[i] = members[i].key
	}
	near := nearest(key, known)
	if near == "" {
		b.add(join(place, clip(key)), line, "%q is not known. Take it out.%s", clip(key), where)
		return ""
	}
	b.add(join(place, clip(key)), line, "%q is not known. Did you mean %q?%s", clip(key), near, where)
	return near
}

// table binds a group whose keys are free.
func (b *binder) table(n *node, v reflect.Value, place string, f field) {
	if n.kind != objectNode {
		b.wrongKind(n, place, "a group in braces")
		return
	}
	v.Set(reflect.MakeMapWithSize(v.Type(), len(n.keys)))
	for i, key := range n.keys {
		k := reflect.ValueOf(key)
		if v.MapIndex(k).IsValid() {
			b.add(place, n.at[i], "%q is given twice. Keep one of them.", clip(key))
			continue
		}
		e := reflect.New(v.Type().Elem()).Elem()
		b.value(&n.list[i], e, join(place, clip(key)), f)
		v.SetMapIndex(k, e)
	}
}

// touched reports whether a complaint stands already at the place, in it, or round it: one mistake, one complaint.
func (b *binder) touched(place string) bool {
	for _, c := range b.list {
		if c.Place == "" || place == "" {
			continue
		}
		if within(c.Place, place) || within(place, c.Place) {
			return true
		}
	}
	return false
}

// within reports whether place is outer or lies in it.
func within(place, outer string) bool {
	return strings.HasPrefix(place, outer) && (len(place) == len(outer) || place[len(outer)] == '.' || place[len(outer)] == '[')
}

// lineOf finds the line of a place, or of the nearest thing round it.
func lineOf(root *node, place string) int {
	n, line := root, root.line
	for place != "" {
		place = strings.TrimPrefix(place, ".")
		if strings.HasPrefix(place, "[") {
			digits, rest, _ := strings.Cut(place[1:], "]")
			i, err := strconv.Atoi(digits)
			if err != nil || n.kind != listNode || i < 0 || i >= len(n.list) {
				return line
			}
			n, place = &n.list[i], rest
			line = n.line
			continue
		}
		// The longest key that fits: keys of tables hold dots and brackets themselves.
		at, size := -1, -1
		for i, k := range n.keys {
			if len(k) > size && within(place, k) {
				at, size = i, len(k)
			}
		}
		if at < 0 {
			return line
		}
		line, place = n.at[at], place[size:]
		n = &n.list[at]
	}
	return line
}
