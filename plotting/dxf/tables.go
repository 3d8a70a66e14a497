package dxf

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// The handles of what every drawing has.
const (
	handleModel = "1F" // block record of model space
	handlePaper = "1E" // and of paper space
	handleRoot  = "C"  // dictionary of all objects
	handleGroup = "D"
)

func section(b *strings.Builder, name string) {
	pair(b, 0, "SECTION")
	pair(b, 2, name)
}

// head writes the header: release, unit, extents, what the next handle may be.
func (d *Drawing) head(b *strings.Builder) {
	section(b, "HEADER")
	value := func(name string, code int, v string) {
		pair(b, 9, name)
		pair(b, code, v)
	}
	place := func(name string, x, y float64) {
		pair(b, 9, name)
		for i, v := range []float64{x, y, 0} {
			pair(b, 10+10*i, number(v))
		}
	}
	value("$ACADVER", 1, "AC1015")
	value("$DWGCODEPAGE", 3, "ANSI_1252")
	place("$INSBASE", 0, 0)
	x0, y0, x1, y1, ok := d.Box()
	if !ok {
		x0, y0, x1, y1 = 0, 0, 0, 0
	}
	place("$EXTMIN", x0, y0)
	place("$EXTMAX", x1, y1)
	value("$LTSCALE", 40, number(1/d.scale))
	value("$MEASUREMENT", 70, "1")
	value("$INSUNITS", 70, "4") // mm
	value("$LUNITS", 70, "2")
	value("$AUNITS", 70, "0")
	value("$LWDISPLAY", 290, "1")
	value("$HANDSEED", 5, fmt.Sprintf("%X", d.handle+1))
	pair(b, 0, "ENDSEC")
}

// widths are the widths of lines that DXF knows, hundredths of a mm.
var widths = []int{0, 5, 9, 13, 15, 18, 20, 25, 30, 35, 40, 50, 53, 60, 70, 80, 90, 100, 106, 120, 140, 158, 200, 211}

func lineweight(mm float64) int {
	best := widths[0]
	for _, w := range widths {
		if math.Abs(float64(w)-100*mm) < math.Abs(float64(best)-100*mm) {
			best = w
		}
	}
	return best
}

// tables writes the tables that entities lean on.
func (d *Drawing) tables(b *strings.Builder) {
	section(b, "TABLES")
	next := 0x20
	own := func() string {
		next++
		return fmt.Sprintf("%X", next)
	}
	table := func(name, handle string, n int) {
		pair(b, 0, "TABLE")
		pair(b, 2, name)
		pair(b, 5, handle)
		pair(b, 330, "0")
		pair(b, 100, "AcDbSymbolTable")
		pair(b, 70, strconv.Itoa(n))
		if name == "DIMSTYLE" {
			pair(b, 100, "AcDbDimStyleTable")
		}
	}
	record := func(kind, table, class, name string) {
		pair(b, 0, kind)
		pair(b, 5, own())
		pair(b, 330, table)
		pair(b, 100, "AcDbSymbolTableRecord")
		pair(b, 100, class)
		pair(b, 2, name)
		pair(b, 70, "0")
	}
	end := func() { pair(b, 0, "ENDTAB") }

	table("VPORT", "8", 0)
	end()
	table("LTYPE", "5", 2+len(patterns))
	for _, name := range []string{"ByBlock", "ByLayer"} {
		record("LTYPE", "5", "AcDbLinetypeTableRecord", name)
		pair(b, 3, "")
		pair(b, 72, "65")
		pair(b, 73, "0")
		pair(b, 40, "0.0")
	}
	for _, t := range patterns {
		record("LTYPE", "5", "AcDbLinetypeTableRecord", t.name)
		pair(b, 3, t.words)
		pair(b, 72, "65")
		pair(b, 73, strconv.Itoa(len(t.p)))
		whole := 0.0
		for _, v := range t.p {
			whole += math.Abs(v)
		}
		pair(b, 40, number(whole))
		for _, v := range t.p {
			pair(b, 49, number(v))
			pair(b, 74, "0")
		}
	}
	end()
	table("LAYER", "2", 1+len(d.layers))
	for _, l := range append([]Layer{{Name: "0", Colour: 7, Line: Whole, Width: 0.25}}, d.layers...) {
		record("LAYER", "2", "AcDbLayerTableRecord", l.Name)
		pair(b, 62, strconv.Itoa(max(1, min(255, l.Colour))))
		line := l.Line
		if line == "" {
			line = Whole
		}
		pair(b, 6, line)
		pair(b, 370, strconv.Itoa(lineweight(l.Width)))
		pair(b, 390, "F")
	}
	end()
	table("STYLE", "3", 1)
	record("STYLE", "3", "AcDbTextStyleTableRecord", "STANDARD")
	for _, x := range [][2]string{{"40", "0.0"}, {"41", "1.0"}, {"50", "0.0"}, {"71", "0"}, {"42", "2.5"}, {"3", "arial.ttf"}, {"4", ""}} {
		code, _ := strconv.Atoi(x[0])
		pair(b, code, x[1])
	}
	end()
	table("VIEW", "6", 0)
	end()
	table("UCS", "7", 0)
	end()
	table("APPID", "9", 1)
	record("APPID", "9", "AcDbRegAppTableRecord", "ACAD")
	end()
	table("DIMSTYLE", "A", 1)
	pair(b, 0, "DIMSTYLE")
	pair(b, 105, own())
	pair(b, 330, "A")
	pair(b, 100, "AcDbSymbolTableRecord")
	pair(b, 100, "AcDbDimStyleTableRecord")
	pair(b, 2, "STANDARD")
	pair(b, 70, "0")
	end()
	table("BLOCK_RECORD", "1", 2)
	for _, r := range [][2]string{{handleModel, "*Model_Space"}, {handlePaper, "*Paper_Space"}} {
		pair(b, 0, "BLOCK_RECORD")
		pair(b, 5, r[0])
		pair(b, 330, "1")
		pair(b, 100, "AcDbSymbolTableRecord")
		pair(b, 100, "AcDbBlockTableRecord")
		pair(b, 2, r[1])
		pair(b, 340, "0")
	}
	end()
	pair(b, 0, "ENDSEC")
}

// blocks writes the two blocks every drawing has, empty.
func blocks(b *strings.Builder) {
	section(b, "BLOCKS")
	for _, r := range []struct{ record, begin, end, name string }{{handleModel, "70", "71", "*Model_Space"}, {handlePaper, "72", "73", "*Paper_Space"}} {
		space := func() {
			if r.record == handlePaper {
				pair(b, 67, "1")
			}
			pair(b, 8, "0")
		}
		pair(b, 0, "BLOCK")
		pair(b, 5, r.begin)
		pair(b, 330, r.record)
		pair(b, 100, "AcDbEntity")
		space()
		pair(b, 100, "AcDbBlockBegin")
		pair(b, 2, r.name)
		pair(b, 70, "0")
		for i := range 3 {
			pair(b, 10+10*i, "0.0")
		}
		pair(b, 3, r.name)
		pair(b, 1, "")
		pair(b, 0, "ENDBLK")
		pair(b, 5, r.end)
		pair(b, 330, r.record)
		pair(b, 100, "AcDbEntity")
		space()
		pair(b, 100, "AcDbBlockEnd")
	}
	pair(b, 0, "ENDSEC")
}

// objects writes the dictionaries every drawing has.
func objects(b *strings.Builder) {
	section(b, "OBJECTS")
	pair(b, 0, "DICTIONARY")
	pair(b, 5, handleRoot)
	pair(b, 330, "0")
	pair(b, 100, "AcDbDictionary")
	pair(b, 281, "1")
	pair(b, 3, "ACAD_GROUP")
	pair(b, 350, handleGroup)
	pair(b, 3, "ACAD_PLOTSTYLENAME")
	pair(b, 350, "E")
	pair(b, 0, "DICTIONARY")
	pair(b, 5, handleGroup)
	pair(b, 330, handleRoot)
	pair(b, 100, "AcDbDictionary")
	pair(b, 281, "1")
	// Layers point at a plot style by its handle; the usual one is called Normal.
	pair(b, 0, "ACDBDICTIONARYWDFLT")
	pair(b, 5, "E")
	pair(b, 330, handleRoot)
	pair(b, 100, "AcDbDictionary")
	pair(b, 281, "1")
	pair(b, 3, "Normal")
	pair(b, 350, "F")
	pair(b, 100, "AcDbDictionaryWithDefault")
	pair(b, 340, "F")
	pair(b, 0, "ACDBPLACEHOLDER")
	pair(b, 5, "F")
	pair(b, 330, "E")
	pair(b, 0, "ENDSEC")
}
