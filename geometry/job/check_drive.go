package job

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// driveline checks the driveshaft's joints each by itself.
func (c *checker) driveline(d *Driveline, p string) {
	if d.Output != nil {
		c.joint(d.Output, join(p, "output"))
	}
	if d.Bearing != nil {
		c.given(d.Bearing.Given, d.Bearing, join(p, "bearing"))
	}
}

// shaft checks the driveshaft, of one piece or two, between its joints.
func (c *checker) shaft(j *Job, where func(string) (string, bool)) {
	if j.Driveline == nil || j.Driveline.Output == nil {
		return
	}
	drive, own := where("driveline")
	axle, ownAxle := where("axle")
	if !own && !ownAxle {
		return
	}
	out, bearing := j.Driveline.Output, j.Driveline.Bearing
	var pin *Joint
	if j.Axle != nil {
		pin = j.Axle.Pinion
	}
	// The front piece ends at the bearing where there is one, else at the pinion; an output alone is drawn, and nothing is worked out from it.
	front := r3.Vec{}
	switch {
	case bearing != nil:
		front = r3.Sub(bearing.Joint.Vec(), out.Joint.Vec())
		if d := r3.Norm(front); d < minSpan {
			c.add(join(drive, "bearing.joint"), 0, "The joint behind the bearing is %s mm from the output's joint; at least %s mm is expected. Move it, or take \"bearing\" out for a shaft of one piece.", shortLength(d), figure(minSpan))
			return
		}
	case pin != nil:
		front = r3.Sub(pin.Joint.Vec(), out.Joint.Vec())
		if d := r3.Norm(front); d < minSpan {
			c.add(join(drive, "output.joint"), 0, "The shaft's two joints are %s mm apart; at least %s mm is expected. Move one of them.", shortLength(d), figure(minSpan))
			return
		}
	default:
		return
	}
	to := "pinion"
	if bearing != nil {
		to = "bearing"
	}
	if r3.Dot(out.Axis.Vec(), front) < 0 {
		c.add(join(drive, "output.axis"), 0, "The output's axis [%s] points away from the %s; it points rearward, along the shaft. Change the signs of all three.", triple(out.Axis), to)
	}
	if pin == nil {
		return
	}
	rear, from := front, "output"
	if bearing != nil {
		from = "bearing"
		rear = r3.Sub(pin.Joint.Vec(), bearing.Joint.Vec())
		if d := r3.Norm(rear); d < minSpan {
			c.add(join(drive, "bearing.joint"), 0, "The joint behind the bearing is %s mm from the pinion's joint; at least %s mm is expected. Move it, or take \"bearing\" out for a shaft of one piece.", shortLength(d), figure(minSpan))
			return
		}
		if r3.Dot(front, rear) < 0 {
			c.add(join(drive, "bearing.joint"), 0, "The joint behind the bearing does not lie between output and pinion: the shaft would turn back there. Move it.")
			return
		}
	}
	if r3.Dot(pin.Axis.Vec(), rear) > 0 {
		c.add(join(axle, "pinion.axis"), 0, "The pinion's axis [%s] points away from the %s; it points forward, out of the housing. Change the signs of all three.", triple(pin.Axis), from)
	}
}

// shortLength is a length of about a millimetre as a complaint writes it.
func shortLength(mm float64) string { return figure(math.Round(mm*1e4) / 1e4) }
