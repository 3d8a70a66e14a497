package job

import "strings"

// keeps checks what is kept while pivots are moved: that a line says whose it is and which way it goes, that the pinion's change says between which
// travels it counts, and that nothing is kept twice. A part may be missing: another layout may not have it.
func (c *checker) keeps(j *Job) {
	taken := map[[3]string]bool{}
	for i := range j.Keep {
		k, p := &j.Keep[i], item("keep", i)
		what := [3]string{k.What}
		switch k.What {
		case "line":
			what[1], what[2] = k.Of, k.End
			switch {
			case !c.whose(p, k.Of, k.End, "stays on its line"):
			case k.Way == "":
				c.add(join(p, "way"), 0, "It does not say which line is kept. Give \"level\", \"upright\", \"fore-and-aft\", \"across\", \"link\" or \"holes\".")
			case (k.Way == "link" || k.Way == "holes") && (k.Along == nil || *k.Along == Point{}):
				c.add(join(p, "along"), 0, "A line along a link or a row of holes needs its direction.")
			}
		case "pinion":
			switch {
			case strings.TrimSpace(k.Of) == "":
				c.add(join(p, "of"), 0, "It does not say which link's frame end keeps the pinion. Name the link.")
			case k.From == nil || k.To == nil || *k.From == *k.To:
				c.add(p, 0, "The pinion's change counts between two travels. Give \"from\" and \"to\", unlike each other.")
			}
		default:
			what[1] = k.Of
		}
		if taken[what] {
			c.add(p, 0, "This is kept twice. Take one of the two out.")
		}
		taken[what] = true
	}
}
