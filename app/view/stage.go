package view

import (
	"math"

	"axleloft/app/edit"
	"axleloft/app/study"
	"axleloft/geometry/job"
	"axleloft/geometry/motion"
	"axleloft/geometry/quantity"

	"gonum.org/v1/gonum/spatial/r3"
)

// stage is a job with its axle at a position: it tells where everything stands that is drawn.
type stage struct {
	job    *job.Job // twins apart
	mech   *motion.Mechanism
	pose   motion.Pose
	there  bool // the pose is one of the mechanism; else the axle is at ride height, or a little off it
	radius float64
	levers []quantity.SensorUse // of the sensors there; nil where they are not known
}

// newStage puts the axle of a study at a position; at ride height where there is none.
func newStage(s *study.Study, at *study.Position) stage {
	st := stage{job: s.Parts.Job, mech: s.Mech, radius: rollingRadius(s.Parts.Job)}
	st.pose = ridePose(st.radius)
	if at != nil && at.Err == "" && s.Mech != nil {
		st.pose, st.there = at.Pose, true
		if len(at.Values) > 0 {
			st.levers = at.Values[0].Sensors
		}
	}
	return st
}

// onLever is the lever of a sensor; every other carrier is the mechanism's.
const onLever motion.On = 100

// axleMount is the axle as a carrier.
var axleMount = motion.Carrier{On: motion.OnAxle}

// mountNamed is what a strut or a sensor stands on by the name the job gives: the axle where it gives none.
func (st *stage) mountNamed(on string) motion.Carrier {
	if on == "" || on == "axle" {
		return axleMount
	}
	for i := range st.job.Links {
		if st.job.Links[i].Name == on {
			return motion.Carrier{On: motion.OnLink, Index: i}
		}
	}
	for i := range st.job.Arms {
		if st.job.Arms[i].Name == on {
			return motion.Carrier{On: motion.OnArm, Index: i}
		}
	}
	return axleMount
}

// mount is what carries a pivot of the job.
func (st *stage) mount(p edit.Pivot) motion.Carrier {
	switch p.List {
	case edit.Struts:
		if p.End == edit.AxleEnd {
			return st.mountNamed(st.job.Struts[p.Index].On)
		}
	case edit.Sensors:
		switch p.End {
		case edit.LeverEnd:
			return motion.Carrier{On: onLever, Index: p.Index}
		case edit.FarEnd:
			return st.mountNamed(st.job.Sensors[p.Index].On)
		}
	case edit.Rockers:
		near, far := motion.Carrier{}, axleMount
		if st.job.Rockers[p.Index].On != "frame" {
			near, far = far, near
		}
		switch p.End {
		case edit.RockerEnd:
			return motion.Carrier{On: motion.OnRocker, Index: p.Index}
		case edit.FarEnd:
			return far
		}
		return near
	}
	if p.End == edit.AxleEnd {
		return axleMount
	}
	return motion.Carrier{}
}

// carry returns where a point of the axle stands that is at p at ride height.
func (st *stage) carry(p r3.Vec) r3.Vec {
	p.Z -= st.radius
	return st.pose.Point(p)
}

// stand returns where a carried point stands that is at p at ride height.
func (st *stage) stand(c motion.Carrier, p r3.Vec) r3.Vec {
	switch c.On {
	case motion.OnFrame:
		return p
	case motion.OnAxle:
		return st.carry(p)
	}
	base := st.own(c)
	if c.On == onLever {
		return r3.Add(base, st.turn(c, r3.Sub(p, base)))
	}
	if st.there {
		return st.mech.At(&st.pose, &motion.Place{Carrier: c, At: r3.Sub(p, base)})
	}
	at := base
	if c.On == motion.OnRocker {
		at = st.stand(st.mount(edit.Pivot{List: edit.Rockers, Index: c.Index, End: edit.Centre}), base)
	}
	return r3.Add(at, st.turn(c, r3.Sub(p, base)))
}

// own is the point of a link, arm, rocker or lever from which it is told at ride height.
func (st *stage) own(c motion.Carrier) r3.Vec {
	switch c.On {
	case motion.OnLink:
		return st.job.Links[c.Index].Frame.Vec()
	case motion.OnArm:
		return st.job.Arms[c.Index].Frame[0].Vec()
	case motion.OnRocker:
		return st.job.Rockers[c.Index].Pivot.Vec()
	case onLever:
		return st.job.Sensors[c.Index].Shaft.Vec()
	}
	return r3.Vec{}
}

// turn returns a direction of ride height as its carrier turns it. Off the mechanism's own positions a link or an arm turns by the least turn
// that leads it to where the axle carries its other end, and a rocker with what it is on.
func (st *stage) turn(c motion.Carrier, d r3.Vec) r3.Vec {
	switch c.On {
	case motion.OnFrame:
		return d
	case motion.OnAxle:
		return st.pose.Offset(d)
	case onLever:
		s := &st.job.Sensors[c.Index]
		return r3.Rotate(d, st.leverTurn(c.Index), s.Axis.Vec())
	}
	if st.there {
		return st.mech.Carry(&st.pose, c, d)
	}
	switch c.On {
	case motion.OnLink:
		l := &st.job.Links[c.Index]
		return leastTurn(r3.Sub(l.Axle.Vec(), l.Frame.Vec()), r3.Sub(st.carry(l.Axle.Vec()), l.Frame.Vec()), d)
	case motion.OnArm:
		a := &st.job.Arms[c.Index]
		from, to := middle(a.Frame), middle(a.Axle)
		return leastTurn(r3.Sub(to, from), r3.Sub(st.carry(to), from), d)
	}
	return st.turn(st.mount(edit.Pivot{List: edit.Rockers, Index: c.Index, End: edit.Centre}), d)
}

func middle(list []job.Point) r3.Vec {
	sum := r3.Vec{}
	for _, p := range list {
		sum = r3.Add(sum, p.Vec())
	}
	return r3.Scale(1/math.Max(1, float64(len(list))), sum)
}

// leastTurn turns d by the least turn that brings the direction of a to that of b.
func leastTurn(a, b, d r3.Vec) r3.Vec {
	axis := r3.Cross(a, b)
	s, c := r3.Norm(axis), r3.Dot(a, b)
	if s < 1e-12 {
		return d
	}
	return r3.Rotate(d, math.Atan2(s, c), axis)
}

// leverTurn is how far a sensor's lever has turned since ride, rad. Where its rod cannot reach, the lever points as far toward the rod's other end
// as it can.
func (st *stage) leverTurn(i int) float64 {
	if u := st.lever(i); u != nil && u.Reached {
		return u.Turn
	}
	if !st.there {
		return 0
	}
	s := &st.job.Sensors[i]
	axis := r3.Unit(s.Axis.Vec())
	square := func(v r3.Vec) r3.Vec { return r3.Sub(v, r3.Scale(r3.Dot(v, axis), axis)) }
	a := square(r3.Sub(s.Lever.Vec(), s.Shaft.Vec()))
	b := square(r3.Sub(st.stand(st.mountNamed(s.On), s.Far.Vec()), s.Shaft.Vec()))
	rod := r3.Norm(r3.Sub(s.Far.Vec(), s.Lever.Vec()))
	if r3.Norm(b) < rod { // too near: it points away
		b = r3.Scale(-1, b)
	}
	return math.Atan2(r3.Dot(r3.Cross(a, b), axis), r3.Dot(a, b))
}

// lever is how sensor i stands; nil where that is not known.
func (st *stage) lever(i int) *quantity.SensorUse {
	if i < len(st.levers) {
		return &st.levers[i]
	}
	return nil
}

// run is a member of the job as a run of straight lines, body axes.
type run struct {
	name string
	pts  []r3.Vec
}

// knots is the centre line of link i, frame end first.
func (st *stage) knots(i int) []r3.Vec {
	l := &st.job.Links[i]
	out := []r3.Vec{l.Frame.Vec()}
	for _, b := range l.Bends {
		out = append(out, st.stand(motion.Carrier{On: motion.OnLink, Index: i}, b.Vec()))
	}
	return append(out, st.carry(l.Axle.Vec()))
}

// armLine is the centre line of arm i's two bars, through its single pivot: an A-arm's between its pivots, a radius arm's between the arm's own points.
func (st *stage) armLine(i int) []r3.Vec {
	a := &st.job.Arms[i]
	if a.IsRadius() {
		c := motion.Carrier{On: motion.OnArm, Index: i}
		return []r3.Vec{st.stand(c, a.Axle[0].Vec()), st.stand(c, a.Frame[0].Vec()), st.stand(c, a.Axle[1].Vec())}
	}
	var out []r3.Vec
	for k, f := range a.Frame {
		out = append(out, f.Vec())
		if k == 0 && len(a.Axle) > 0 {
			out = append(out, st.carry(a.Axle[0].Vec()))
		}
	}
	return out
}

// place is where a pivot of the job stands.
func (st *stage) place(p edit.Pivot) r3.Vec {
	at, _ := edit.At(st.job, p)
	return st.stand(st.mount(p), at)
}

// rod is where rod k of rocker i stands, rocker end first.
func (st *stage) rod(i, k int) (near, far r3.Vec) {
	p := edit.Pivot{List: edit.Rockers, Index: i, Sub: k, End: edit.RockerEnd}
	near = st.place(p)
	p.End = edit.FarEnd
	return near, st.place(p)
}

// foot is where strut i stands on what carries it.
func (st *stage) foot(i int) r3.Vec {
	return st.place(edit.Pivot{List: edit.Struts, Index: i, End: edit.AxleEnd})
}

// sensor is where sensor i stands: shaft, lever's end, the rod's other end.
func (st *stage) sensor(i int) []r3.Vec {
	return []r3.Vec{st.place(edit.Pivot{List: edit.Sensors, Index: i, End: edit.Shaft}), st.place(edit.Pivot{List: edit.Sensors, Index: i, End: edit.LeverEnd}),
		st.place(edit.Pivot{List: edit.Sensors, Index: i, End: edit.FarEnd})}
}

// shaft is the driveshaft, front to rear, by the joint behind its centre bearing where it has one; nil where the job has none.
func (st *stage) shaft() []r3.Vec {
	d := st.job.Driveline
	if d == nil || d.Output == nil || st.job.Axle == nil || st.job.Axle.Pinion == nil {
		return nil
	}
	out := []r3.Vec{d.Output.Joint.Vec()}
	if d.Bearing != nil {
		out = append(out, d.Bearing.Joint.Vec())
	}
	return append(out, st.carry(st.job.Axle.Pinion.Joint.Vec()))
}

// runs are all members as lines; the same job gives the same runs in the same order.
func (st *stage) runs() []run {
	var out []run
	add := func(name string, pts ...r3.Vec) { out = append(out, run{name, pts}) }
	j := st.job
	for i := range j.Links {
		add(j.Links[i].Name, st.knots(i)...)
	}
	for i := range j.Arms {
		add(j.Arms[i].Name, st.armLine(i)...)
	}
	for i := range j.Rockers {
		piece := []r3.Vec{}
		for k := range j.Rockers[i].Rods {
			near, far := st.rod(i, k)
			add(j.Rockers[i].Rods[k].Name, near, far)
			if piece = append(piece, near); k == 0 {
				piece = append(piece, st.place(edit.Pivot{List: edit.Rockers, Index: i, End: edit.Centre}))
			}
		}
		add(j.Rockers[i].Name, piece...)
	}
	for i := range j.Struts {
		add(j.Struts[i].Name, j.Struts[i].Frame.Vec(), st.foot(i))
	}
	for i := range j.Sensors {
		add(j.Sensors[i].Name, st.sensor(i)...)
	}
	if s := st.shaft(); s != nil {
		add(job.DriveshaftName, s...)
	}
	return out
}

// locating is the centre line of a link, an arm or a rod with its radius, mm.
type locating struct {
	pts    []r3.Vec
	radius float64
}

// located are the members that say where the axle goes.
func (st *stage) located() []locating {
	var out []locating
	add := func(t *job.Tube, pts ...r3.Vec) {
		l := locating{pts: pts}
		if t != nil {
			l.radius = t.Outside / 2
		}
		out = append(out, l)
	}
	for i := range st.job.Links {
		add(st.job.Links[i].Tube, st.knots(i)...)
	}
	for i := range st.job.Arms {
		add(st.job.Arms[i].Tube, st.armLine(i)...)
	}
	for i := range st.job.Rockers {
		for k := range st.job.Rockers[i].Rods {
			near, far := st.rod(i, k)
			add(st.job.Rockers[i].Rods[k].Tube, near, far)
		}
	}
	return out
}

// axleRuns are the axle itself as lines: from wheel centre to wheel centre, and out to the pinion.
func (st *stage) axleRuns() []run {
	half := 0.0
	if st.job.Vehicle != nil {
		half = st.job.Vehicle.Track / 2
	}
	out := []run{{job.AxleTubeName, []r3.Vec{st.pose.Point(r3.Vec{Y: half}), st.pose.C, st.pose.Point(r3.Vec{Y: -half})}}}
	if st.job.Axle != nil && st.job.Axle.Pinion != nil {
		out = append(out, run{job.HousingName, []r3.Vec{st.pose.C, st.carry(st.job.Axle.Pinion.Joint.Vec())}})
	}
	return out
}
