package vessel

import (
	"fmt"
	"strconv"
	"strings"
)

var faceNames = [3][2]string{{"rear", "front"}, {"right", "left"}, {"bottom", "top"}}

// through says which way a cut runs from side to side.
var through = [3]string{"over the whole length", "over the whole width", "over the whole height"}

// Worded is Words with its sizes, mm, as the caller writes them.
func (c *Cut) Worded(length func(mm float64) string) string {
	parts := c.parts
	sizes := sizeWords(c.Sizes, length)
	var on [3]bool
	for _, p := range parts {
		on[p.axis] = true
	}
	run := ""
	for k, is := range on {
		if !is && len(parts) == 2 {
			run = ", " + through[k]
		}
	}
	head := ""
	switch c.Kind {
	case face:
		return fmt.Sprintf("Cut the whole %s face back by %s", c.Sizes[0].Face, length(c.Sizes[0].To))
	case tilt:
		return fmt.Sprintf("Cut the whole %s face back sloping, by %s %s and by %s %s", c.Sizes[0].Face, length(c.Sizes[0].To), c.Sizes[0].At, length(c.Sizes[1].To), c.Sizes[1].At)
	case step:
		head = fmt.Sprintf("Step along the %s edge", edgeName(parts))
	case taper:
		head = fmt.Sprintf("Step with one sloping face along the %s edge", edgeName(parts))
	case slope:
		head = fmt.Sprintf("Sloped face along the %s edge", edgeName(parts))
	case wedge:
		head = fmt.Sprintf("Sloped face along the %s edge, only as far as %s from the %s face", edgeName(parts[:2]), length(parts[2].to), c.Sizes[2].Face)
		sizes = sizeWords(c.Sizes[:2], length)
	case slot:
		head = fmt.Sprintf("Slot in the %s face", c.Sizes[0].Face)
	case notch:
		head = fmt.Sprintf("Notch in the %s edge", edgeName(parts[:2]))
	case pocket:
		head = fmt.Sprintf("Pocket in the %s face", c.Sizes[0].Face)
	case tunnel:
		head = "Tunnel"
	case corner:
		head = fmt.Sprintf("Box cut from the %s corner", edgeName(parts))
	case snip:
		head = fmt.Sprintf("Cut off the %s corner", edgeName(parts))
	}
	return head + run + ": " + sizes
}

func sizeWords(list []Size, length func(mm float64) string) string {
	var out []string
	for i, s := range list {
		switch {
		case s.From > 0:
			out = append(out, fmt.Sprintf("%s to %s from the %s face", length(s.From), length(s.To), s.Face))
		case s.At != "" && i > 0 && list[i-1].At != "" && list[i-1].Face == s.Face:
			out[len(out)-1] += fmt.Sprintf(" and %s %s", length(s.To), s.At)
		case s.At != "":
			out = append(out, fmt.Sprintf("from the %s face %s %s", s.Face, length(s.To), s.At))
		default:
			out = append(out, fmt.Sprintf("%s from the %s face", length(s.To), s.Face))
		}
	}
	return strings.Join(out, ", ")
}

// edgeName names an edge or corner as one says it: "bottom front", "top left", "bottom front left".
func edgeName(parts []part) string {
	var name [3]string
	for _, p := range parts {
		name[p.axis] = faceNames[p.axis][p.side]
	}
	var said []string
	for _, k := range []int{2, 0, 1} {
		if name[k] != "" {
			said = append(said, name[k])
		}
	}
	return strings.Join(said, " ")
}

func figure(mm float64) string { return strconv.FormatFloat(mm, 'f', -1, 64) }
