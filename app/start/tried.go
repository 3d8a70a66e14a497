package start

import (
	"fmt"

	"axleloft/app/words"
	"axleloft/geometry/clearance"
	"axleloft/geometry/job"
	"axleloft/geometry/limits"
	"axleloft/geometry/motion"
	"axleloft/geometry/quantity"
)

// wellHeld is the least singular value at ride height a first guess starts with (good layouts show 0.2 to 0.3).
const wellHeld = 0.15

// tried moves the job over its range and tells in words what does not work; nil where all does.
func (p *plan) tried(j *job.Job) error {
	if list := job.Check(j); len(list) > 0 {
		return fmt.Errorf("%s", list[0].Text)
	}
	m, err := motion.Compile(j)
	if err != nil {
		return err
	}
	if m.Singular < wellHeld {
		return words.Errorf("the links would hold the axle poorly.")
	}
	const rays = 24
	rg, err := limits.Find(m, rays)
	if err != nil {
		return err
	}
	for i := range rg.Edge {
		switch rg.Edge[i].Cause {
		case limits.StrutClosed, limits.StrutOpen, limits.NoAssembly:
			return words.Errorf("crossed up, the links or the struts would stop the axle and not its bump stops and straps. Give less bump and droop.")
		}
	}
	parts, err := clearance.Compile(j, m)
	if err != nil {
		return err
	}
	scratch := parts.NewScratch()
	v := quantity.NewValues(m)
	var load quantity.Load
	const steps = 6
	return p.over(m, steps, func(pose *motion.Pose, rates *motion.Rates) error {
		if m.PoorlyHeldAt(pose) != "" {
			return words.Errorf("towards the ends of its travel the axle would be held poorly. Give less bump and droop.")
		}
		quantity.Eval(m, pose, rates, &load, v)
		scratch.Place(pose, v.Links)
		for i := range parts.Pairs {
			k := &parts.Pairs[i]
			if scratch.AtLeast(i) >= k.Required {
				continue
			}
			var gap clearance.Gap
			if scratch.Gap(i, &gap); gap.Gap < k.Required {
				return words.Errorf("there is no room between %s and %s. Less bump and droop, a wider track or smaller tyres leave more.", parts.Parts[k.A].Name, parts.Parts[k.B].Name)
			}
		}
		return nil
	})
}
