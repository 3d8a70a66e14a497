package look

import (
	"encoding/binary"
	"sync"

	"fyne.io/fyne/v2"
)

// The toolkit draws a line of text into a whole number of pixel rows, the letters' height rounded, and puts the baseline the ascent rounded up
// below the top. Of the window's smallest letters, 15 high, that leaves 3 rows under the baseline, and the tails of g, p and y lose their end:
// the ascent, 1.069 of the size, is 16.03. Said to be 1.066 it is 15.99, and all 4 rows are there. Nothing drawn reaches that high.
const ascent = 1.066

var (
	lowered   = map[string]fyne.Resource{}
	loweredMu sync.Mutex
)

// lower returns the font with its ascent said to be no more than ascent; a font it cannot read as it is.
func lower(font fyne.Resource) fyne.Resource {
	loweredMu.Lock()
	defer loweredMu.Unlock()
	if f, ok := lowered[font.Name()]; ok {
		return f
	}
	data := append([]byte(nil), font.Content()...)
	out := font
	if lowerAscent(data) {
		out = fyne.NewStaticResource("low-"+font.Name(), data)
	}
	lowered[font.Name()] = out
	return out
}

// lowerAscent changes the ascents in an OpenType font's tables "hhea" and "OS/2" (OpenType specification 1.9) where they are over the limit,
// and reports whether there were such tables.
func lowerAscent(font []byte) bool {
	head, hhea, os2 := table(font, "head"), table(font, "hhea"), table(font, "OS/2")
	if len(head) < 20 || len(hhea) < 6 || len(os2) < 76 {
		return false
	}
	most := uint16(ascent * float64(binary.BigEndian.Uint16(head[18:]))) // unitsPerEm
	for _, at := range [][]byte{hhea[4:], os2[68:], os2[74:]} {          // ascender, sTypoAscender, usWinAscent
		if v := binary.BigEndian.Uint16(at); int16(v) > 0 && v > most {
			binary.BigEndian.PutUint16(at, most)
		}
	}
	return true
}

// table is a table of an OpenType font, nil where there is none.
func table(font []byte, tag string) []byte {
	if len(font) < 12 {
		return nil
	}
	n := int(binary.BigEndian.Uint16(font[4:]))
	for i := range n {
		r := 12 + 16*i
		if r+16 > len(font) {
			return nil
		}
		if string(font[r:r+4]) != tag {
			continue
		}
		at, size := int(binary.BigEndian.Uint32(font[r+8:])), int(binary.BigEndian.Uint32(font[r+12:]))
		if at < 0 || size < 0 || at+size > len(font) {
			return nil
		}
		return font[at : at+size]
	}
	return nil
}
