#!/usr/bin/python3
"""An independent calculation of an axle's positions and figures, straight from the definitions, with SciPy.

usage: pose.py JOB < POSES              POSES: CSV with the header left_mm,right_mm; JSON on standard output
       pose.py JOB positions < POSES    only where the axle stands and how it moves, what is forced and what turns

Nothing here is shared with the Go code: see axle.py for positions, joint.py for ends and sensors, shaft.py for the driveshaft.
"""
import csv
import json
import sys

sys.dont_write_bytecode = True

import numpy as np  # noqa: E402

from axle import DIFF, Solver  # noqa: E402
from job import Job, cross  # noqa: E402
from joint import DEG, angle, arm_ends, bar_ends, carried, lines, sensor  # noqa: E402
from shaft import shaft  # noqa: E402


def per_load(job, place, vh, wh, vr, wr):
    c, loads = place.c, []
    for load in job.loads or [None]:
        radius = (load or {}).get("loadedRadius", job.radius)
        contact = c - [0, 0, radius]
        ex, ez = np.array([1.0, 0, 0]), np.array([0, 0, 1.0])
        base = job.wheelbase - c[0]
        if job.still:
            base = np.hypot(job.wheelbase - contact[0], contact[2])
            ex = np.array([job.wheelbase - contact[0], 0, -contact[2]]) / base
            ez = np.array([-ex[2], 0, ex[0]])
        v = vh + cross(wh, contact - c)
        lateral = vr + cross(wr, contact - c)
        one = {"roll_centre_mm": lateral[1] / (wr @ ex), "roll_axis_deg": np.arctan(wr @ ez / (wr @ ex)) * DEG,
               "roll_steer_pct": 100 * (wr @ ez) / (wr @ ex)}
        if job.pinion:
            p = place.r @ job.pinion[1]
            one["pinion_ground_deg"] = np.arctan2(p @ ez, p @ ex) * DEG
        if load:
            height = (np.array(load["cg"], float) - contact) @ ez
            full = 100 * -(v @ ex) / (v @ ez) * base / height
            one.update(anti_squat_pct=job.drive * full, anti_lift_pct=job.brake * full)
        loads.append(one)
    return loads


def position(job, solver, left, right):
    """Where the axle stands, how it moves in the two unit motions, what is forced; the places either side of those motions."""
    x, lu = solver.march(left, right)
    place = solver.place(x)
    vh, wh, heave = solver.rate(x, lu, left, right, 1, 1)
    vr, wr, roll = solver.rate(x, lu, left, right, 1, -1)
    s = place.stretches()
    held, weakest = solver.held(x)
    gives = []
    for i in place.arms:
        for e, end in place.gives(i):
            along = (e @ end.bolt) * end.bolt
            gives.append((np.linalg.norm(e), np.linalg.norm(end.axial * along + end.k * (e - along))))
    out = {
        "left_mm": left, "right_mm": right, "centre": place.c.tolist(), "axes": place.r.T.tolist(),
        "heave_v": vh.tolist(), "heave_w": wh.tolist(), "roll_v": vr.tolist(), "roll_w": wr.tolist(),
        "stretches": s.tolist(), "forces": (solver.k * s if solver.over else 0 * s).tolist(),
        "turns": place.turns.tolist(), "gives": gives, "held": held, "weakest": weakest.tolist(),
    }
    return out, place, (vh, wh, vr, wr), heave, roll


def members(job, place, out):
    s, force, gives = out["stretches"], out["forces"], list(out["gives"])
    uses = []

    def told(name, words, ends):
        for word, end in zip(words, ends):
            uses.extend((use, f"{name}, {word}, {what}") for use, what in end["uses"])

    def bar(b, n):
        spin, ends = bar_ends(place, b)
        told(b.name, b.words, ends)
        return {"name": b.name, "length": b.length + s[n], "stretch": s[n], "force": force[n], "spin": spin, "frameEnd": ends[0], "axleEnd": ends[1]}
    n = len(job.links)
    out["links"] = [bar(b, k) for k, b in enumerate(job.links)]
    out["arms"], out["rockers"] = [], []
    for i, arm in enumerate(job.arms):
        ends = arm_ends(place, i)
        told(arm.name, arm.words, ends)
        one = {"name": arm.name, "ends": ends, "lengths": [], "stretches": [], "forces": [], "gives": [], "giveForces": []}
        if arm.radius:
            one["gives"], one["giveForces"] = zip(*gives[:3])
            gives = gives[3:]
        else:
            one.update(lengths=[arm.lengths[k] + s[n + k] for k in (0, 1)], stretches=s[n:n + 2], forces=force[n:n + 2])
            n += 2
        out["arms"].append(one)
    for i, k in enumerate(job.rockers):
        out["rockers"].append({"name": k.name, "turn": place.turns[i] * DEG, "rods": [bar(r, n + m) for m, r in enumerate(k.rods)]})
        n += 2
    if uses:
        out["worst_bind"] = max(u for u, _ in uses)
        out["worst_bind_at"] = next(n for u, n in uses if u > out["worst_bind"] - 1e-7)


def figures(job, solver, left, right):
    out, place, (vh, wh, vr, wr), (h0, h1), (r0, r1) = position(job, solver, left, right)
    c, r = place.c, place.r
    axle_y = r[:, 1]
    out.update({
        "heave_mm": (left + right) / 2,
        "articulation_deg": float(np.arcsin((left - right) / job.track)) * DEG,
        "x_mm": c[0], "y_mm": c[1], "z_mm": c[2] - job.radius,
        "steer_deg": np.arctan2(-axle_y[0], axle_y[1]) * DEG,
        "pitch_deg": -np.arcsin(r[2, 0]) * DEG, "roll_deg": np.arctan2(r[2, 1], r[2, 2]) * DEG,
        "squareness_mm": -job.track * axle_y[0], "wheelbase_mm": job.wheelbase - c[0],
    })
    if abs(wh[1]) > 1e-9:
        out["ic_x_mm"], out["ic_z_mm"] = c[0] + vh[2] / wh[1], c[2] - vh[0] / wh[1]
    if job.pinion:
        p = r @ job.pinion[1]
        out["pinion_deg"] = np.arctan2(p[2], p[0]) * DEG
    if job.shaft:
        out.update(shaft(job, place))
    out["loads"] = per_load(job, place, vh, wh, vr, wr)
    members(job, place, out)

    out["struts"] = []
    for name, frame, axle, on in job.struts:
        def length(place):
            return np.linalg.norm(carried(place, on, axle)[0] - frame)
        foot, turn = carried(place, on, axle)
        d0, d = axle - frame, foot - frame
        side = np.sign(axle[1])
        out["struts"].append({
            "name": name, "length": np.linalg.norm(d), "lean": lines(d, np.array([0, 0, 1.0])) * DEG,
            "frameTilt": angle(d0, d) * DEG, "axleTilt": angle(d0, turn.T @ d) * DEG,
            "ratioHeave": -(length(h1) - length(h0)) / (2 * DIFF),
            "ratioRoll": -(length(r1) - length(r0)) / (2 * DIFF) * side if side else None,
        })
    out["sensors"] = []
    for name, *rest in job.sensors:
        turn, rod = sensor(place, *rest)
        out["sensors"].append({"name": name, "turn": turn, "rodAngle": rod})
    out["lines"] = [{"name": n, "span": np.linalg.norm(place.axle(a) - f)} for n, f, a in job.lines]
    out["straps"] = [{"name": n, "length": np.linalg.norm(place.axle(a) - f)} for n, f, a in job.straps]
    out["stops"] = []
    for name, frame, axle, axis in job.stops:
        pad, n = place.axle(axle), r @ axis
        t = np.dot(pad - frame, n) / np.dot(axis, n)
        out["stops"].append({"name": name, "length": t, "off": np.linalg.norm(frame + t * axis - pad)})
    return out


def main():
    with open(sys.argv[1], encoding="utf-8") as f:
        job = Job(json.load(f))
    solver = Solver(job)
    want = [(float(row["left_mm"]), float(row["right_mm"])) for row in csv.DictReader(sys.stdin)]
    if sys.argv[2:] == ["positions"]:
        poses = [position(job, solver, *w)[0] for w in want]
    else:
        poses = [figures(job, solver, *w) for w in want]
    json.dump({"singular": solver.held(np.zeros(solver.n))[0], "over": solver.over, "poses": poses}, sys.stdout, default=float)


if __name__ == "__main__":
    main()
