package job

import (
	"fmt"
	"strings"
	"unicode/utf16"
	"unicode/utf8"
)

// Bounds of what a reader takes. A real job is under 100 kB, under 10 000 values and 8 deep.
const (
	// MaxSize is the size of the largest file that is read, bytes.
	MaxSize   = 16 << 20
	maxValues = 500_000
	maxDepth  = 40
)

type nodeKind uint8

const (
	nullNode nodeKind = iota
	boolNode
	numberNode
	stringNode
	listNode
	objectNode
	wordNode // NaN, Infinity and the like: no JSON, but worth a complaint with its place
)

func (k nodeKind) String() string {
	return [...]string{"null", "true or false", "a number", "a text", "a list", "a group in braces", "a word"}[k]
}

// node is one JSON value with its line.
type node struct {
	kind nodeKind
	yes  bool
	line int
	text string   // the number as written, the decoded string, or the word
	list []node   // elements, or member values
	keys []string // member names, in file order, duplicates included
	at   []int    // lines of the member names
}

// syntaxError is where the text stops being JSON.
type syntaxError struct {
	line int
	text string
}

func (e *syntaxError) Error() string { return e.text }

type parser struct {
	s      string
	i      int
	line   int
	values int
}

// parseJSON reads one JSON value (RFC 8259) and nothing after it. A byte order mark at the start is taken and forgotten.
func parseJSON(data string) (node, error) {
	p := &parser{s: strings.TrimPrefix(data, "\ufeff"), line: 1}
	p.space()
	if p.i == len(p.s) {
		return node{}, p.wrong("The file is empty. A job file begins with {\"format\": \"axleloft-job\", ...}.")
	}
	n, err := p.value(0)
	if err != nil {
		return n, err
	}
	p.space()
	if p.i < len(p.s) {
		return n, p.wrong("There is more after the end of the job: %s. A job file holds one job; take out what follows the last brace.", p.here())
	}
	return n, nil
}

func (p *parser) wrong(format string, args ...any) error {
	return &syntaxError{p.line, fmt.Sprintf(format, args...)}
}

// here describes the text at the reading point, for a complaint.
func (p *parser) here() string {
	if p.i >= len(p.s) {
		return "the end of the file"
	}
	r, size := utf8.DecodeRuneInString(p.s[p.i:])
	switch {
	case r == utf8.RuneError && size == 1:
		return fmt.Sprintf("a byte that is no UTF-8 text (0x%02X)", p.s[p.i])
	case r < ' ':
		return fmt.Sprintf("a control character (0x%02X)", r)
	}
	rest := p.s[p.i:]
	end := 0
	for end < len(rest) && end < 16 && rest[end] != '\n' && rest[end] != '\r' {
		_, n := utf8.DecodeRuneInString(rest[end:])
		end += n
	}
	return strings.ToValidUTF8(strings.TrimSpace(rest[:end]), "\ufffd")
}

func (p *parser) cutShort() error {
	return p.wrong("The file ends too early: it was cut short. Use a whole copy of it.")
}

func (p *parser) space() {
	for ; p.i < len(p.s); p.i++ {
		switch p.s[p.i] {
		case '\n':
			p.line++
		case ' ', '\t', '\r':
		default:
			return
		}
	}
}

func (p *parser) value(depth int) (node, error) {
	n := node{line: p.line}
	if p.values++; p.values > maxValues {
		return n, p.wrong("The file holds more than %d values; no job needs that many. Check that it is a job file.", maxValues)
	}
	if depth > maxDepth {
		return n, p.wrong("Brackets are nested more than %d deep; a job file is never that deep. Check that it is a job file.", maxDepth)
	}
	if p.i >= len(p.s) {
		return n, p.cutShort()
	}
	var err error
	switch c := p.s[p.i]; {
	case c == '{':
		return p.object(depth)
	case c == '[':
		return p.array(depth)
	case c == '"':
		n.kind = stringNode
		n.text, err = p.str()
		return n, err
	case c == '-' || c == '+' || c == '.' || c >= '0' && c <= '9':
		return p.number()
	case c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z':
		word := p.word()
		switch word {
		case "null":
			n.kind = nullNode
		case "true", "false":
			n.kind, n.yes = boolNode, word == "true"
		case "NaN", "nan", "Inf", "inf", "Infinity", "infinity":
			n.kind, n.text = wordNode, word
		default:
			if p.i == len(p.s) && depth > 0 {
				return n, p.cutShort()
			}
			return n, p.wrong("%q stands where a value was expected. Texts stand in double quotes; the only bare words are true, false and null.", clip(word))
		}
		return n, nil
	case c == ']' || c == '}':
		return n, p.wrong("There is a comma or colon with nothing after it, before %q. Take the comma out or give the value.", string(c))
	}
	return n, p.wrong("A value was expected but %s was found. This is not a job file, or it was damaged.", p.here())
}

func (p *parser) word() string {
	from := p.i
	for p.i < len(p.s) && (p.s[p.i] >= 'a' && p.s[p.i] <= 'z' || p.s[p.i] >= 'A' && p.s[p.i] <= 'Z') {
		p.i++
	}
	return p.s[from:p.i]
}

// number takes a number by RFC 8259; -Infinity comes back as a word.
func (p *parser) number() (node, error) {
	n := node{kind: numberNode, line: p.line}
	from := p.i
	digits := func() int {
		at := p.i
		for p.i < len(p.s) && p.s[p.i] >= '0' && p.s[p.i] <= '9' {
			p.i++
		}
		return p.i - at
	}
	ok := true
	if p.s[p.i] == '-' || p.s[p.i] == '+' {
		ok = p.s[p.i] == '-'
		p.i++
		if p.i < len(p.s) && (p.s[p.i] == 'I' || p.s[p.i] == 'i' || p.s[p.i] == 'N' || p.s[p.i] == 'n') {
			p.word()
			n.kind, n.text = wordNode, p.s[from:p.i]
			return n, nil
		}
	}
	zero := p.i < len(p.s) && p.s[p.i] == '0'
	if d := digits(); d == 0 || zero && d > 1 {
		ok = false
	}
	if p.i < len(p.s) && p.s[p.i] == '.' {
		p.i++
		ok = digits() > 0 && ok
	}
	if p.i < len(p.s) && (p.s[p.i] == 'e' || p.s[p.i] == 'E') {
		p.i++
		if p.i < len(p.s) && (p.s[p.i] == '-' || p.s[p.i] == '+') {
			p.i++
		}
		ok = digits() > 0 && ok
	}
	if p.i < len(p.s) && !strings.ContainsRune(" \t\r\n,]}", rune(p.s[p.i])) {
		for p.i < len(p.s) && !strings.ContainsRune(" \t\r\n,]}", rune(p.s[p.i])) {
			p.i++
		}
		ok = false
	}
	n.text = p.s[from:p.i]
	if !ok {
		if p.i == len(p.s) {
			return n, p.cutShort()
		}
		return n, p.wrong("%q is not a number as a job file writes it. Write plain digits with a decimal point, such as 12.5 or -30.", clip(n.text))
	}
	return n, nil
}

// str takes a string and decodes its escapes.
func (p *parser) str() (string, error) {
	p.i++ // the opening quote
	from := p.i
	var b strings.Builder
	plain := true
	for p.i < len(p.s) {
		c := p.s[p.i]
		switch {
		case c == '"':
			if plain {
				s := p.s[from:p.i]
				p.i++
				return s, nil
			}
			p.i++
			return b.String(), nil
		case c == '\\':
			if plain {
				b.WriteString(p.s[from:p.i])
				plain = false
			}
			if err := p.escape(&b); err != nil {
				return "", err
			}
		case c < ' ':
			return "", p.wrong("A text is not closed by a double quote on its line, or holds %s. Close it, or write \\n for a new line.", p.here())
		case c < utf8.RuneSelf:
			if !plain {
				b.WriteByte(c)
			}
			p.i++
		default:
			r, size := utf8.DecodeRuneInString(p.s[p.i:])
			if r == utf8.RuneError && size == 1 {
				if !utf8.FullRuneInString(p.s[p.i:]) {
					return "", p.cutShort()
				}
				return "", p.wrong("A text holds %s. Save the file as UTF-8.", p.here())
			}
			if !plain {
				b.WriteRune(r)
			}
			p.i += size
		}
	}
	return "", p.cutShort()
}

func (p *parser) escape(b *strings.Builder) error {
	p.i++ // the backslash
	if p.i >= len(p.s) {
		return p.cutShort()
	}
	c := p.s[p.i]
	p.i++
	if k := strings.IndexByte(`"\/bfnrt`, c); k >= 0 {
		b.WriteByte("\"\\/\b\f\n\r\t"[k])
		return nil
	}
	if c != 'u' {
		return p.wrong("A text holds \\%c, which means nothing. A backslash itself is written \\\\.", rune(c))
	}
	r, ok := p.hex4()
	if !ok {
		return p.wrong("A text holds \\u without four digits after it. Write the letter itself.")
	}
	if utf16.IsSurrogate(r) {
		low := rune(-1)
		if strings.HasPrefix(p.s[p.i:], `\u`) {
			p.i += 2
			low, _ = p.hex4()
		}
		if r = utf16.DecodeRune(r, low); r == utf8.RuneError {
			return p.wrong("A text holds half a character (a lone \\ud8 to \\udf). Write the letter itself.")
		}
	}
	b.WriteRune(r)
	return nil
}

func (p *parser) hex4() (rune, bool) {
	if p.i+4 > len(p.s) {
		return 0, false
	}
	var r rune
	for _, c := range []byte(p.s[p.i : p.i+4]) {
		d := strings.IndexByte("0123456789abcdef", c|0x20)
		if d < 0 || c < '0' {
			return 0, false
		}
		r = r<<4 | rune(d)
	}
	p.i += 4
	return r, true
}

func (p *parser) array(depth int) (node, error) {
	n := node{kind: listNode, line: p.line}
	p.i++
	p.space()
	if p.i < len(p.s) && p.s[p.i] == ']' {
		p.i++
		return n, nil
	}
	for {
		p.space()
		v, err := p.value(depth + 1)
		if err != nil {
			return n, err
		}
		n.list = append(n.list, v)
		more, err := p.next(']')
		if err != nil || !more {
			return n, err
		}
	}
}

func (p *parser) object(depth int) (node, error) {
	n := node{kind: objectNode, line: p.line}
	p.i++
	p.space()
	if p.i < len(p.s) && p.s[p.i] == '}' {
		p.i++
		return n, nil
	}
	for {
		p.space()
		if p.i >= len(p.s) {
			return n, p.cutShort()
		}
		if p.s[p.i] != '"' {
			return n, p.wrong("A key in double quotes was expected but %s was found. Check the commas and quotes about this line.", p.here())
		}
		line := p.line
		key, err := p.str()
		if err != nil {
			return n, err
		}
		p.space()
		if p.i >= len(p.s) {
			return n, p.cutShort()
		}
		if p.s[p.i] != ':' {
			return n, p.wrong("After the key %q a colon was expected but %s was found.", clip(key), p.here())
		}
		p.i++
		p.space()
		v, err := p.value(depth + 1)
		if err != nil {
			return n, err
		}
		n.keys, n.at, n.list = append(n.keys, key), append(n.at, line), append(n.list, v)
		more, err := p.next('}')
		if err != nil || !more {
			return n, err
		}
	}
}

// next takes the comma before another element, or the closing bracket.
func (p *parser) next(closing byte) (more bool, err error) {
	p.space()
	if p.i >= len(p.s) {
		return false, p.cutShort()
	}
	switch p.s[p.i] {
	case ',':
		p.i++
		return true, nil
	case closing:
		p.i++
		return false, nil
	}
	return false, p.wrong("A comma or %q was expected but %s was found. Check the commas and brackets about this line.", string(closing), p.here())
}

// clip shortens a text for a complaint.
func clip(s string) string {
	const most = 40
	if len(s) <= most {
		return s
	}
	r := []rune(s)
	if len(r) <= most {
		return s
	}
	return string(r[:most]) + "..."
}
