package measure

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode"
)

// quantity is what is read: its name, an example, the factor of a bare number, the units it has.
type quantity struct {
	what, example string
	bare          float64
	fractions     bool // lengths: fractions are inches, feet take inches behind them
	units         map[string]float64
	most          float64
	unit          string // of the result
}

var (
	lengths = map[string]float64{
		"mm": 1, "cm": 10, "m": 1000,
		"in": Inch, "ins": Inch, "inch": Inch, "inches": Inch, `"`: Inch,
		"ft": Foot, "foot": Foot, "feet": Foot, "'": Foot,
	}
	angles  = map[string]float64{"deg": 1, "degree": 1, "degrees": 1, "°": 1}
	masses  = map[string]float64{"kg": 1, "t": 1000, "lb": Pound, "lbs": Pound, "pound": Pound, "pounds": Pound}
	volumes = map[string]float64{
		"l": 1, "litre": 1, "litres": 1, "liter": 1, "liters": 1, "ml": 0.001,
		"us gal": USGallon, "us gallon": USGallon, "us gallons": USGallon,
		"imp gal": ImperialGallon, "imp gallon": ImperialGallon, "imp gallons": ImperialGallon,
		"imperial gal": ImperialGallon, "imperial gallon": ImperialGallon, "imperial gallons": ImperialGallon,
		"uk gal": ImperialGallon, "uk gallon": ImperialGallon, "uk gallons": ImperialGallon,
	}
	gallons = map[string]bool{"gal": true, "gals": true, "gallon": true, "gallons": true}
)

// vulgar are the one-letter fractions of Unicode.
var vulgar = map[rune][2]float64{
	'½': {1, 2}, '⅓': {1, 3}, '⅔': {2, 3}, '¼': {1, 4}, '¾': {3, 4}, '⅕': {1, 5}, '⅖': {2, 5}, '⅗': {3, 5}, '⅘': {4, 5},
	'⅙': {1, 6}, '⅚': {5, 6}, '⅛': {1, 8}, '⅜': {3, 8}, '⅝': {5, 8}, '⅞': {7, 8}, '⅐': {1, 7}, '⅑': {1, 9}, '⅒': {1, 10},
}

// scanner walks over the letters of a text.
type scanner struct {
	text string
	r    []rune // with signs, marks and blanks made plain; as many letters as the text has
	i    int
	q    *quantity
}

// plain maps the many shapes of a sign to the one the scanner knows.
func plain(c rune) rune {
	switch c {
	case '\u2212', '\u2013', '\u2012', '\u2010', '\u2011', '\uff0d': // minus, dashes and hyphens
		return '-'
	case '\u2044', '\u2215', '\uff0f': // fraction and division slashes
		return '/'
	case '\u2032', '\u2019', '\u2018', '\u00b4', '`': // prime, quotes, accents used for feet
		return '\''
	case '\u2033', '\u201d', '\u201c': // double prime, quotes
		return '"'
	case '\u00ba': // ordinal sign typed for a degree
		return '°'
	case '\uff0b':
		return '+'
	}
	if unicode.IsSpace(c) || c == '\u2009' || c == '\u202f' || c == '\u200a' {
		return ' '
	}
	return c
}

func parse(text string, q *quantity) (float64, error) {
	s := &scanner{text: text, r: []rune(strings.ToValidUTF8(text, "\ufffd")), q: q}
	for i, c := range s.r {
		s.r[i] = plain(c)
	}
	if len(s.r) > maxText {
		return 0, s.wrong(0, "That is too long to be %s. Type one such as %s.", q.what, q.example)
	}
	s.blanks()
	if s.end() {
		return 0, s.wrong(0, "Nothing is typed. Type %s such as %s.", q.what, q.example)
	}
	var sum float64
	sign := s.sign()
	for {
		v, err := s.term()
		if err != nil {
			return 0, err
		}
		sum += sign * v
		s.blanks()
		if s.end() {
			break
		}
		from := s.i
		if s.r[s.i] != '+' && s.r[s.i] != '-' {
			return 0, s.follows(from)
		}
		sign = s.sign()
		s.blanks()
		if s.end() {
			return 0, s.wrong(from, "Nothing stands after the %q at the end. Type the number to add or take off, or take the sign out.", string(s.r[from]))
		}
		sign *= s.sign() // 1127 + -6
	}
	if math.Abs(sum) > q.most {
		return 0, s.wrong(0, "%s is %s %s; at most %s is taken. Check the digits and the unit.", s.quoted(), short(sum), q.unit, short(q.most))
	}
	return sum + 0, nil
}

func (s *scanner) wrong(at int, format string, args ...any) error {
	return &Error{Text: s.text, At: at, Words: fmt.Sprintf(format, args...)}
}

// quoted is the text as typed, in quotes that are not taken for inches.
func (s *scanner) quoted() string {
	return "“" + strings.TrimSpace(strings.ToValidUTF8(s.text, "\ufffd")) + "”"
}

// part is a piece of the text in such quotes.
func (s *scanner) part(from, to int) string {
	return "“" + strings.TrimSpace(string([]rune(strings.ToValidUTF8(s.text, "\ufffd"))[from:to])) + "”"
}

func (s *scanner) end() bool { return s.i >= len(s.r) }

func (s *scanner) at(i int) rune {
	if i < 0 || i >= len(s.r) {
		return 0
	}
	return s.r[i]
}

func (s *scanner) blanks() {
	for s.at(s.i) == ' ' {
		s.i++
	}
}

// sign takes a + or - and the blanks behind it.
func (s *scanner) sign() float64 {
	switch s.at(s.i) {
	case '-':
		s.i++
		s.blanks()
		return -1
	case '+':
		s.i++
		s.blanks()
	}
	return 1
}

// follows tells what stands where a sign was expected.
func (s *scanner) follows(at int) error {
	c := s.r[at]
	switch {
	case digit(c) || isVulgar(c):
		return s.wrong(at, "Two numbers follow one another in %s. Write + or - between them, or a fraction such as 44 3/8.", s.quoted())
	case strings.ContainsRune("*×·:÷()", c):
		return s.wrong(at, "%q is not worked out here. Only + and - are.", string(c))
	}
	return s.wrong(at, "%s is not understood from %s on. Type %s such as %s.", s.quoted(), s.part(at, len(s.r)), s.q.what, s.q.example)
}

func digit(c rune) bool { return c >= '0' && c <= '9' }

func isVulgar(c rune) bool { _, ok := vulgar[c]; return ok }

// term takes one number with its unit: "12mm", "44 3/8", "3' 8 3/8".
func (s *scanner) term() (float64, error) {
	from := s.i
	v, fraction, err := s.number()
	if err != nil {
		return 0, err
	}
	if !s.q.fractions && fraction {
		return 0, s.wrong(from, "A fraction is not taken for %s. Write %s with a decimal point.", s.q.what, s.part(from, s.i))
	}
	factor, named, err := s.unit()
	if err != nil {
		return 0, err
	}
	if !named {
		if fraction {
			return v * Inch, nil
		}
		return v * s.q.bare, nil
	}
	if !s.q.fractions || factor != Foot {
		return v * factor, nil
	}
	return s.inchesAfter(v * factor)
}

// inchesAfter takes the inches that may stand behind feet.
func (s *scanner) inchesAfter(feet float64) (float64, error) {
	mark := s.i
	if s.at(s.i) == '-' && (digit(s.at(s.i+1)) || isVulgar(s.at(s.i+1))) && s.at(s.i-1) != ' ' {
		return 0, s.wrong(mark, "%s can be read in two ways. For feet and inches write 3' 8 with a blank; to take off write 3' - 8 with blanks.", s.quoted())
	}
	s.blanks()
	if !digit(s.at(s.i)) && !isVulgar(s.at(s.i)) {
		s.i = mark
		return feet, nil
	}
	from := s.i
	v, _, err := s.number()
	if err != nil {
		return 0, err
	}
	factor, named, err := s.unit()
	if err != nil {
		return 0, err
	}
	if named && factor != Inch {
		return 0, s.wrong(from, "After feet come inches, but %s was typed. Write + or - before it.", s.part(from, s.i))
	}
	return feet + v*Inch, nil
}

// number takes digits with a decimal point or comma, and a fraction behind or alone.
func (s *scanner) number() (v float64, fraction bool, err error) {
	from := s.i
	if f, ok := vulgar[s.at(s.i)]; ok {
		s.i++
		return f[0] / f[1], true, nil
	}
	whole, decimals, err := s.digits()
	if err != nil {
		return 0, false, err
	}
	if s.at(s.i) == '/' {
		if decimals {
			return 0, false, s.wrong(from, "%s has a decimal point in a fraction. Write the one or the other.", s.quoted())
		}
		v, err = s.under(whole, from)
		return v, true, err
	}
	if f, ok := vulgar[s.at(s.i)]; ok && !decimals {
		s.i++
		return whole + f[0]/f[1], true, nil
	}
	// A fraction behind a blank: 44 3/8.
	end := s.i
	if s.at(s.i) == '-' && digit(s.at(s.i+1)) && s.fractionAt(s.i+1) && digit(s.at(s.i-1)) && s.q.fractions {
		return 0, false, s.wrong(s.i, "%s can be read in two ways. For a whole number and a fraction write 44 3/8 with a blank; to take off write 44 - 3/8 with blanks.", s.quoted())
	}
	s.blanks()
	if s.i == end || !s.fractionAt(s.i) {
		s.i = end
		return whole, false, nil
	}
	if decimals {
		return 0, false, s.wrong(from, "%s has a decimal point and a fraction. Write the one or the other.", s.quoted())
	}
	top := s.i
	if f, ok := vulgar[s.at(s.i)]; ok {
		s.i++
		return whole + f[0]/f[1], true, nil
	}
	n, _, err := s.digits()
	if err != nil {
		return 0, false, err
	}
	part, err := s.under(n, top)
	if err != nil {
		return 0, false, err
	}
	if part >= 1 {
		return 0, false, s.wrong(top, "The fraction %s behind a whole number is 1 or more. Check it.", s.part(top, s.i))
	}
	return whole + part, true, nil
}

// fractionAt reports whether digits and a slash, or a one-letter fraction, stand at i.
func (s *scanner) fractionAt(i int) bool {
	if isVulgar(s.at(i)) {
		return true
	}
	k := i
	for digit(s.at(k)) {
		k++
	}
	return k > i && s.at(k) == '/'
}

// under takes the slash and the lower part of a fraction.
func (s *scanner) under(top float64, from int) (float64, error) {
	s.i++ // the slash
	if !digit(s.at(s.i)) {
		return 0, s.wrong(from, "The fraction %s has nothing under it. Write it like 3/8.", s.part(from, s.i))
	}
	low, decimals, err := s.digits()
	switch {
	case err != nil:
		return 0, err
	case decimals:
		return 0, s.wrong(from, "%s has a decimal point in a fraction. Write the one or the other.", s.quoted())
	case low == 0:
		return 0, s.wrong(from, "The fraction %s has 0 under it. Write it like 3/8.", s.part(from, s.i))
	case s.at(s.i) == '/':
		return 0, s.wrong(from, "The fraction in %s has two slashes. Write it like 3/8.", s.quoted())
	}
	return top / low, nil
}

// digits takes a plain number; decimals tells of a point or comma.
func (s *scanner) digits() (v float64, decimals bool, err error) {
	const most = 15 // more digits than a double holds
	from := s.i
	seen := 0
	for ; digit(s.at(s.i)) || (s.at(s.i) == '.' || s.at(s.i) == ','); s.i++ {
		if digit(s.at(s.i)) {
			seen++
			continue
		}
		if decimals {
			s.i++
			for digit(s.at(s.i)) || s.at(s.i) == '.' || s.at(s.i) == ',' {
				s.i++
			}
			return 0, false, s.wrong(from, "%s has two points or commas. Write one, before the decimals, and none between thousands.", s.part(from, s.i))
		}
		decimals = true
	}
	switch {
	case seen == 0 && s.end():
		return 0, false, s.wrong(from, "A number is missing at the end of %s. Type %s such as %s.", s.quoted(), s.q.what, s.q.example)
	case seen == 0:
		return 0, false, s.wrong(from, "A number was expected at %s. Type %s such as %s.", s.part(from, len(s.r)), s.q.what, s.q.example)
	case seen > most:
		return 0, false, s.wrong(from, "%s has too many digits. Check it.", s.part(from, s.i))
	}
	v, err = strconv.ParseFloat(strings.Replace(string(s.r[from:s.i]), ",", ".", 1), 64)
	if err != nil {
		return 0, false, s.wrong(from, "%s is not a number. Check it.", s.part(from, s.i))
	}
	return v, decimals, nil
}

// unit takes a unit's name or mark, where one stands.
func (s *scanner) unit() (factor float64, named bool, err error) {
	mark := s.i
	s.blanks()
	from := s.i
	switch c := s.at(s.i); {
	case c == '\'' && s.at(s.i+1) == '\'': // two primes are an inch mark
		s.i += 2
		if f, ok := s.q.units[`"`]; ok {
			return f, true, nil
		}
	case c == '\'' || c == '"' || c == '°':
		s.i++
		if f, ok := s.q.units[string(c)]; ok {
			return f, true, nil
		}
	case unicode.IsLetter(c):
		name := s.word()
		// A second word: US gal, imperial gallon.
		if next := s.i; true {
			s.blanks()
			if more := s.word(); more != "" {
				name += " " + more
			} else {
				s.i = next
			}
		}
		if f, ok := s.q.units[name]; ok {
			return f, true, nil
		}
		if gallons[name] {
			return 0, false, s.wrong(from, WhichGallon)
		}
	default:
		s.i = mark
		return 0, false, nil
	}
	return 0, false, s.wrong(from, "The unit %s is not known for %s. Type one such as %s.", s.part(from, s.i), s.q.what, s.q.example)
}

// word takes letters, small; a full stop behind an abbreviation counts as part of it.
func (s *scanner) word() string {
	from := s.i
	for unicode.IsLetter(s.at(s.i)) {
		s.i++
	}
	w := strings.ToLower(string(s.r[from:s.i]))
	if w != "" && s.at(s.i) == '.' && !digit(s.at(s.i+1)) {
		s.i++
	}
	return w
}

// short writes a number for a sentence.
func short(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
