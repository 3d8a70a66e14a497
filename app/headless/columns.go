package headless

import (
	"math"

	"axleloft/geometry/motion"
	"axleloft/geometry/quantity"
)

// column is one quantity of a sweep by its name in files.
type column struct {
	name string
	of   func(v *quantity.Values) float64
}

// scalars are the quantities of a position in the order of the CSV; worst_bind_at comes between lead and more.
var (
	lead = []column{
		{"left_mm", func(v *quantity.Values) float64 { return v.Left }},
		{"right_mm", func(v *quantity.Values) float64 { return v.Right }},
		{"heave_mm", func(v *quantity.Values) float64 { return v.Heave }},
		{"articulation_deg", func(v *quantity.Values) float64 { return v.ArticulationDeg }},
		{"x_mm", func(v *quantity.Values) float64 { return v.X }},
		{"y_mm", func(v *quantity.Values) float64 { return v.Y }},
		{"z_mm", func(v *quantity.Values) float64 { return v.Z }},
		{"steer_deg", func(v *quantity.Values) float64 { return v.SteerDeg }},
		{"pitch_deg", func(v *quantity.Values) float64 { return v.PitchDeg }},
		{"roll_deg", func(v *quantity.Values) float64 { return v.RollDeg }},
		{"pinion_deg", func(v *quantity.Values) float64 { return v.PinionDeg }},
		{"wheelbase_mm", func(v *quantity.Values) float64 { return v.Wheelbase }},
		{"anti_squat_pct", func(v *quantity.Values) float64 { return v.AntiSquatPct }},
		{"anti_lift_pct", func(v *quantity.Values) float64 { return v.AntiLiftPct }},
		{"ic_x_mm", func(v *quantity.Values) float64 { return v.ICX }},
		{"ic_z_mm", func(v *quantity.Values) float64 { return v.ICZ }},
		{"roll_centre_mm", func(v *quantity.Values) float64 { return v.RollCentre }},
		{"roll_axis_deg", func(v *quantity.Values) float64 { return v.RollAxisDeg }},
		{"roll_steer_pct", func(v *quantity.Values) float64 { return v.RollSteerPct }},
		{"shaft_front_deg", func(v *quantity.Values) float64 { return v.ShaftFrontDeg }},
		{"shaft_rear_deg", func(v *quantity.Values) float64 { return v.ShaftRearDeg }},
		{"slip_mm", func(v *quantity.Values) float64 { return v.Slip }},
		{"fluctuation_pct", func(v *quantity.Values) float64 { return v.FluctuationPct }},
		{"worst_bind", func(v *quantity.Values) float64 { return v.WorstBind }},
	}
	more = []column{
		{"squareness_mm", func(v *quantity.Values) float64 { return v.Squareness }},
		{"pinion_ground_deg", func(v *quantity.Values) float64 { return v.PinionGroundDeg }},
		{"shaft_length_mm", func(v *quantity.Values) float64 { return v.ShaftLength }},
		{"shaft_phase_deg", func(v *quantity.Values) float64 { return degrees(v.ShaftPhase) }},
		{"shaft_bearing_deg", func(v *quantity.Values) float64 { return v.ShaftBearingDeg }},
		{"shaft_front_phase_deg", func(v *quantity.Values) float64 { return degrees(v.ShaftFrontPhase) }},
		{"torsional_rad_s2", func(v *quantity.Values) float64 { return v.Torsional }},
		{"inertia_front_rad_s2", func(v *quantity.Values) float64 { return v.InertiaFront }},
		{"inertia_rear_rad_s2", func(v *quantity.Values) float64 { return v.InertiaRear }},
	}
)

const worstAt = "worst_bind_at"

func degrees(rad float64) float64 { return rad * 180 / math.Pi }

// members are the columns of a job's own members, after the scalars: "strut_length_mm: Strut left".
func members(m *motion.Mechanism) []column {
	var out []column
	add := func(name, member string, of func(*quantity.Values) float64) {
		out = append(out, column{name + ": " + member, of})
	}
	for i := range m.Links {
		name := m.Links[i].Name
		add("link_stretch_mm", name, func(v *quantity.Values) float64 { return v.Links[i].Stretch })
		add("link_force_n", name, func(v *quantity.Values) float64 { return v.Links[i].Force })
		add("frame_end_use", name, func(v *quantity.Values) float64 { return v.Links[i].FrameEnd.Use })
		add("axle_end_use", name, func(v *quantity.Values) float64 { return v.Links[i].AxleEnd.Use })
	}
	for i := range m.Distances { // links have theirs
		switch d := &m.Distances[i]; d.Of {
		case motion.OnArm:
			add("bar_stretch_mm", d.Name, func(v *quantity.Values) float64 { return v.Arms[d.Member].Stretches[d.Sub] })
			add("bar_force_n", d.Name, func(v *quantity.Values) float64 { return v.Arms[d.Member].Forces[d.Sub] })
		case motion.OnRocker:
			add("rod_stretch_mm", d.Name, func(v *quantity.Values) float64 { return v.Rockers[d.Member].Rods[d.Sub].Stretch })
			add("rod_force_n", d.Name, func(v *quantity.Values) float64 { return v.Rockers[d.Member].Rods[d.Sub].Force })
		}
	}
	for i := range m.Joints {
		k := &m.Joints[i]
		if k.Of == motion.OnLink {
			continue
		}
		add("end_use", k.Name, func(v *quantity.Values) float64 { return v.Joint(k).Use })
		if k.Of == motion.OnArm && m.Arms[k.Member].Radius {
			add("end_give_mm", k.Name, func(v *quantity.Values) float64 { return v.Arms[k.Member].Gives[k.Sub] })
			add("end_force_n", k.Name, func(v *quantity.Values) float64 { return v.Arms[k.Member].GiveForces[k.Sub] })
		}
	}
	for i := range m.Rockers {
		add("rocker_turn_deg", m.Rockers[i].Name, func(v *quantity.Values) float64 { return degrees(v.Rockers[i].Turn) })
	}
	for i := range m.Struts {
		name := m.Struts[i].Name
		add("strut_length_mm", name, func(v *quantity.Values) float64 { return v.Struts[i].Length })
		add("strut_lean_deg", name, func(v *quantity.Values) float64 { return degrees(v.Struts[i].Lean) })
		add("strut_ratio_heave", name, func(v *quantity.Values) float64 { return v.Struts[i].RatioHeave })
		add("strut_ratio_roll", name, func(v *quantity.Values) float64 { return v.Struts[i].RatioRoll })
	}
	for i := range m.Stops {
		add("stop_length_mm", m.Stops[i].Name, func(v *quantity.Values) float64 { return v.Stops[i].Length })
	}
	for i := range m.Straps {
		add("strap_length_mm", m.Straps[i].Name, func(v *quantity.Values) float64 { return v.Straps[i] })
	}
	for i := range m.Lines {
		add("line_span_mm", m.Lines[i].Name, func(v *quantity.Values) float64 { return v.Lines[i] })
	}
	for i := range m.Sensors {
		name := m.Sensors[i].Name
		add("sensor_turn_deg", name, func(v *quantity.Values) float64 { return degrees(v.Sensors[i].Turn) })
		add("sensor_rod_angle_deg", name, func(v *quantity.Values) float64 { return degrees(v.Sensors[i].RodAngle) })
	}
	return out
}
