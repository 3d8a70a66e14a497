"""The driveshaft, in one piece or two, turned through half a revolution cross by cross: no formula of a joint is used."""
import numpy as np

from job import about, cross, unit
from joint import DEG, angle, scan


def turning(directions, phases, a):
    """Speed of the last shaft over that of the first with the first one turned by a. At each joint the driven yoke's arm stands square to the
    driving one's and to its own shaft."""
    h = 1e-30
    start = unit(cross(directions[0], np.eye(3)[np.argmin(np.abs(directions[0]))]))
    arm = about(directions[0], a + 1j * h, start)
    for k, s in enumerate(directions[1:]):
        arm = cross(s, arm)
        arm = arm / np.sqrt((arm * arm).sum())
        if k + 2 < len(directions):
            arm = about(s, phases[k], arm)
    return float(np.dot(cross(arm.real, arm.imag / h), directions[-1]))


def shaft(job, place):
    """Angles of the joints, the length that slips, the fluctuation, accelerations."""
    joints = job.shaft + [place.axle(job.pinion[0])]
    directions = [job.output] + [unit(b - a) for a, b in zip(joints, joints[1:])] + [-(place.r @ job.pinion[1])]
    bends = [angle(a, b) for a, b in zip(directions, directions[1:])]
    top = scan(lambda a: -turning(directions, job.phases, a), 0, np.pi)
    ride = np.linalg.norm(job.pinion[0] - job.shaft[-1])
    out = {"shaft_front_deg": bends[0] * DEG, "shaft_rear_deg": bends[-1] * DEG, "slip_mm": np.linalg.norm(joints[-1] - joints[-2]) - ride,
           "fluctuation_pct": 100 * (turning(directions, job.phases, top) - 1)}
    if len(bends) == 3:
        out["shaft_bearing_deg"] = bends[1] * DEG
    if job.speed:
        # Each joint adds b^2/2 of twice its turn, in the phase in which its driving arm meets the plane of its two shafts: a quarter turn and the
        # yokes' phase on from joint to joint, less the angle between the planes.
        planes = [cross(a, b) for a, b in zip(directions, directions[1:])]
        total, phase = 0, 0.0
        for k, b in enumerate(bends):
            if k:
                s = directions[k]
                between = np.arctan2(np.dot(s, cross(planes[k - 1], planes[k])), np.dot(planes[k - 1], planes[k]))
                phase += np.pi / 2 + job.phases[k - 1] - between
            total += b * b * np.exp(2j * phase)
        w2 = job.speed ** 2
        out.update(torsional=w2 * abs(total), inertia_front=w2 * bends[0] ** 2, inertia_rear=w2 * bends[-1] ** 2)
    return out
