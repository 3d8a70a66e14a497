#!/usr/bin/python3
"""An independent calculation of an axle's positions and figures, straight from the definitions, with SciPy.

usage: pose.py JOB < POSES        POSES: CSV with the header left_mm,right_mm; JSON on standard output

Nothing here is shared with the Go code: six unknowns (the axle centre and a Gibbs vector) instead of four, both wheel travels as equations,
exactly located layouts by least squares, over-located ones by the stationary point of the strain energy with the travels as multipliers,
derivatives by complex steps, rates by central differences, joints by scanning the spin, shafts by turning them. Slow and plain on purpose.
"""
import csv
import json
import sys

import numpy as np
from scipy.linalg import lu_factor, lu_solve
from scipy.optimize import brentq, least_squares, minimize_scalar

STEEL = 210_000.0  # N/mm2
STEP = 30.0        # mm of the larger wheel travel, marching from ride height
DIFF = 0.01        # mm, central differences of the rates
DEG = 180 / np.pi


def unit(v):
    return v / np.sqrt(np.dot(v, v))


def cross(a, b):  # numpy's own takes ten times as long for one pair
    return np.array([a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]])


def angle(a, b):
    return float(np.arctan2(np.sqrt((cross(a, b) ** 2).sum()), np.dot(a, b)))


# ---------------------------------------------------------------------------------------------------------------- the job

def twins(parts):
    """Every pair as its two twins; the right one is the mirror in Y of the left."""
    def mirror(v):
        return [v[0], -v[1], v[2]]

    def right(part):
        p = json.loads(json.dumps(part))
        for key in ("frame", "axle", "axis"):
            if key in p:
                p[key] = mirror(p[key])
        for key in ("frameEnd", "axleEnd"):
            if "bolt" in p.get(key, {}):
                p[key]["bolt"] = mirror(p[key]["bolt"])
        return p

    out = []
    for part in parts:
        if part.get("pair"):
            out.append(dict(part, name=part["name"] + " left"))
            out.append(dict(right(part), name=part["name"] + " right"))
        else:
            out.append(part)
    return out


class End:
    def __init__(self, end, u):
        end = end or {}
        kind = end.get("kind", "ball")
        self.bush = kind == "bush"
        self.mis = np.radians(end["misalignment"]) if "misalignment" in end else None
        self.tor = np.radians(end["torsion"]) if self.bush and "torsion" in end else None
        self.k = end.get("radialStiffness", 10_000.0 if self.bush else 100_000.0)
        if "bolt" in end:
            self.bolt = unit(np.array(end["bolt"], float))
        elif abs(u[2]) > np.cos(np.radians(10)):
            self.bolt = np.array([0.0, 1.0, 0.0])
        else:
            self.bolt = unit(cross(u, [0, 0, 1.0]))
        square = end.get("square", not self.bush)
        self.bore = unit(self.bolt - np.dot(self.bolt, u) * u) if square else self.bolt


class Link:
    def __init__(self, j, centre):
        self.name = j["name"]
        self.frame = np.array(j["frame"], float)
        self.axle = np.array(j["axle"], float) - centre
        d = np.array(j["axle"], float) - self.frame
        self.length = np.linalg.norm(d)
        self.u0 = d / self.length
        self.ends = (End(j.get("frameEnd"), self.u0), End(j.get("axleEnd"), self.u0))
        give = sum(1 / e.k for e in self.ends)
        if "tube" in j:
            od = j["tube"]["outside"]
            bore = od - 2 * j["tube"]["wall"] if "wall" in j["tube"] else 0.0
            give += self.length / (STEEL * np.pi / 4 * (od * od - bore * bore))
        self.k = 1 / give


class Job:
    def __init__(self, j):
        v = j["vehicle"]
        self.wheelbase, self.track, self.radius = v["wheelbase"], v["track"], v["tyre"]["loadedRadius"]
        self.drive, self.brake = v.get("driveShare", 1.0), v.get("brakeShare", 0.4)
        self.still = v.get("frontTravel", "with") == "still"
        self.loads = v.get("loads", [])
        centre = np.array([0, 0, self.radius], float)
        self.links = [Link(l, centre) for l in twins(j["links"])]

        def two(p):
            return p["name"], np.array(p["frame"], float), np.array(p["axle"], float) - centre
        self.struts = [two(p) for p in twins(j.get("struts", []))]
        self.lines = [two(p) for p in twins(j.get("lines", []))]
        self.straps = [two(p) for p in twins(j.get("straps", []))]
        self.stops = [two(p) + (unit(np.array(p.get("axis", [0, 0, -1.0]), float)),) for p in twins(j.get("stops", []))]
        self.pinion = self.output = None
        if "pinion" in j.get("axle", {}):
            p = j["axle"]["pinion"]
            self.pinion = np.array(p["joint"], float) - centre, unit(np.array(p["axis"], float))
        if "driveline" in j:
            d = j["driveline"]
            self.output = np.array(d["output"]["joint"], float), unit(np.array(d["output"]["axis"], float))
            self.phase = np.radians(d.get("yokePhase", 0.0))
            self.shaft = np.linalg.norm(self.pinion[0] + centre - self.output[0])


# --------------------------------------------------------------------------------------------------------------- positions

def rotation(g):
    """R of a Gibbs vector (axis times the tangent of half the turn): rational, so it takes complex steps."""
    s = np.array([[0 * g[0], -g[2], g[1]], [g[2], 0 * g[0], -g[0]], [-g[1], g[0], 0 * g[0]]])
    return np.eye(3) + 2 / (1 + g @ g) * (s + s @ s)


class Solver:
    """Unknowns: the axle centre's shift in m, and the Gibbs vector."""

    def __init__(self, job):
        self.job = job
        self.f = np.array([l.frame for l in job.links])
        self.p = np.array([l.axle for l in job.links])
        self.l = np.array([l.length for l in job.links])
        self.k = np.array([l.k for l in job.links])
        self.over = len(job.links) > 4

    def place(self, x):
        return np.array([0, 0, self.job.radius]) + 1000 * x[:3], rotation(x[3:])

    def stretches(self, x):
        c, r = self.place(x)
        d = c + self.p @ r.T - self.f
        return np.sqrt((d * d).sum(axis=1)) - self.l

    def travels(self, x):
        c, r = self.place(x)
        z = c[2] - self.job.radius
        up = self.job.track / 2 * r[2, 1]
        return np.array([z + up, z - up])

    def jacobian(self, fun, x):
        h = 1e-30
        return np.array([fun(x + 1j * h * e).imag / h for e in np.eye(6)]).T

    def solve(self, start, left, right):
        want = np.array([left, right])

        def rows(x):
            return np.concatenate([self.stretches(x), self.travels(x) - want])
        # exact, or a start for the stationary point
        weight = np.concatenate([np.sqrt(self.k / self.k.max()), [1e3, 1e3]]) if self.over else np.ones(6)
        fit = least_squares(lambda x: weight * rows(x), start, jac=lambda x: weight[:, None] * self.jacobian(rows, x),
                            method="lm", xtol=3e-16, ftol=3e-16, gtol=3e-16, max_nfev=400)
        x = fit.x
        if not self.over:
            for _ in range(2):  # take out the last of it
                x = x - np.linalg.solve(self.jacobian(rows, x), rows(x))
            assert np.abs(rows(x)).max() < 1e-9, (left, right, rows(x))
            return x

        # gradient of the energy = multipliers times the gradients of the travels
        k = self.k / self.k.max()

        def stationary(y):
            x, m = y[:6], y[6:]
            a, t = self.jacobian(self.stretches, x), self.jacobian(self.travels, x)
            return np.concatenate([a.T @ (k * self.stretches(x)) - t.T @ m, 1e3 * (self.travels(x) - want)])
        a, t = self.jacobian(self.stretches, x), self.jacobian(self.travels, x)
        m0 = np.linalg.lstsq(t.T, a.T @ (k * self.stretches(x)), rcond=None)[0]
        y = np.concatenate([x, m0])
        scale = np.array([1e-6] * 6 + [1e-3] * 2)
        lu = lu_factor(np.array([(stationary(y + e) - stationary(y - e)) / (2 * np.abs(e).max()) for e in np.diag(scale)]).T)
        for _ in range(12):
            step = lu_solve(lu, stationary(y))
            y = y - step
            if np.abs(step[:6]).max() < 1e-16:
                break
        assert np.abs(stationary(y)).max() < 1e-6, (left, right, stationary(y))
        return y[:6]

    def march(self, left, right):
        n = max(1, int(np.ceil(max(abs(left), abs(right)) / STEP)))
        x = np.zeros(6)
        for i in range(1, n + 1):
            x = self.solve(x, left * i / n, right * i / n)
        return x

    def rate(self, x, left, right, dl, dr):
        """Velocity of the centre, turn, and both positions either side, of the unit motion (dl, dr)."""
        a = self.solve(x, left - DIFF * dl, right - DIFF * dr)
        b = self.solve(x, left + DIFF * dl, right + DIFF * dr)
        (ca, ra), (cb, rb) = self.place(a), self.place(b)
        turn = rb @ ra.T
        w = np.array([turn[2, 1] - turn[1, 2], turn[0, 2] - turn[2, 0], turn[1, 0] - turn[0, 1]]) / 2
        w = w * np.arcsin(np.linalg.norm(w)) / max(np.linalg.norm(w), 1e-300)
        return (cb - ca) / (2 * DIFF), w / (2 * DIFF), (ca, ra), (cb, rb)


# ------------------------------------------------------------------------------------------------------------------ joints

def about(axis, t, v):
    return v * np.cos(t) + cross(axis, v) * np.sin(t) + axis * np.dot(axis, v) * (1 - np.cos(t))


def least_turn(a, b, v):
    axis = cross(a, b)
    s = np.linalg.norm(axis)
    if s < 1e-15:
        return v
    return about(axis / s, np.arctan2(s, np.dot(a, b)), v)


def lines(a, b):
    t = angle(a, b)
    return min(t, np.pi - t)


def scan(f, lo=-np.pi / 2, hi=np.pi / 2, n=121):
    """Least of f over a spin: a scan, then the best bracket refined."""
    c = np.linspace(lo, hi, n)
    v = [f(x) for x in c]
    i = int(np.argmin(v))
    step = c[1] - c[0]
    return minimize_scalar(f, bounds=(c[i] - step, c[i] + step), method="bounded", options={"xatol": 1e-13}).x


def joints(link, u, r):
    fe, ae = link.ends
    bolts = fe.bolt, r @ ae.bolt
    bores = least_turn(link.u0, u, fe.bore), least_turn(link.u0, u, ae.bore)

    def mis(e, c):
        return lines(bolts[e], about(u, c, bores[e]))

    def larger(c):
        return max(mis(e, c) / (link.ends[e].mis or np.inf) for e in (0, 1))

    if fe.bush and ae.bush:
        spin = scan(lambda c: mis(0, c) ** 2 + mis(1, c) ** 2)
    elif fe.bush or ae.bush:
        b, free = (0, 1) if fe.bush else (1, 0)
        spin = scan(lambda c: mis(b, c))
        limit = link.ends[free].mis
        if limit is not None and mis(free, spin) > limit:
            best = scan(lambda c: mis(free, c))
            if mis(free, best) > limit:
                spin = scan(larger)
            else:
                spin = brentq(lambda c: mis(free, c) - limit, spin, best, xtol=1e-14)
    elif fe.mis is None and ae.mis is None:
        spin = scan(lambda c: max(mis(0, c), mis(1, c)))
    else:
        spin = scan(larger)
    out = []
    for e, seen in ((0, u), (1, r.T @ u)):
        end, b = link.ends[e], link.ends[e].bolt
        m = mis(e, spin)
        tor = None
        if end.bush:
            x, y = link.u0 - np.dot(link.u0, b) * b, seen - np.dot(seen, b) * b
            tor = float(np.arctan2(np.dot(b, cross(x, y)), np.dot(x, y)))
        uses = [(m / end.mis, "misalignment")] if end.mis else []
        if end.tor:
            uses.append((abs(tor) / end.tor, "torsion"))
        out.append({"misalignment": m * DEG, "torsion": None if tor is None else tor * DEG, "uses": uses})
    return spin, out


# ------------------------------------------------------------------------------------------------------------------- shaft

def shaft(job, c, r):
    f, q = job.output[0], c + r @ job.pinion[0]
    s = unit(q - f)
    first, last = job.output[1], -(r @ job.pinion[1])
    b1, b2 = angle(first, s), angle(s, last)
    n1, n2 = cross(first, s), cross(s, last)
    between = np.arctan2(np.dot(s, cross(n1, n2)), np.dot(n1, n2))

    def ratio(a):
        # tan(out) = tan(in) cos(beta), "in" from where the driving arm lies square to the plane of the two shafts
        out = np.arctan2(np.sin(a) * np.cos(b1), np.cos(a))
        first = np.cos(b1) / (1 - (np.sin(b1) * np.sin(a)) ** 2)
        # the shaft's rear yoke arm, in line with its front yoke arm, is a quarter turn from the driven arm's own reckoning
        a2 = out + np.pi / 2 + job.phase - between
        return first * np.cos(b2) / (1 - (np.sin(b2) * np.sin(a2)) ** 2)
    top = scan(lambda a: -ratio(a), 0, np.pi)
    return b1, b2, np.linalg.norm(q - f), 100 * (ratio(top) - 1)


# ----------------------------------------------------------------------------------------------------------------- figures

def figures(job, solver, left, right):
    x = solver.march(left, right)
    c, r = solver.place(x)
    vh, wh, h0, h1 = solver.rate(x, left, right, 1, 1)
    vr, wr, r0, r1 = solver.rate(x, left, right, 1, -1)
    axle_y = r[:, 1]
    out = {
        "left_mm": left, "right_mm": right, "heave_mm": (left + right) / 2,
        "articulation_deg": float(np.arcsin((left - right) / job.track)) * DEG,
        "x_mm": c[0], "y_mm": c[1], "z_mm": c[2] - job.radius,
        "steer_deg": np.arctan2(-axle_y[0], axle_y[1]) * DEG,
        "pitch_deg": -np.arcsin(r[2, 0]) * DEG, "roll_deg": np.arctan2(r[2, 1], r[2, 2]) * DEG,
        "squareness_mm": -job.track * axle_y[0], "wheelbase_mm": job.wheelbase - c[0],
        "axes": r.T.tolist(), "heave_v": vh.tolist(), "heave_w": wh.tolist(), "roll_v": vr.tolist(), "roll_w": wr.tolist(),
    }
    if abs(wh[1]) > 1e-9:
        out["ic_x_mm"], out["ic_z_mm"] = c[0] + vh[2] / wh[1], c[2] - vh[0] / wh[1]
    if job.pinion:
        p = r @ job.pinion[1]
        out["pinion_deg"] = np.arctan2(p[2], p[0]) * DEG
    if job.output:
        b1, b2, length, out["fluctuation_pct"] = shaft(job, c, r)
        out["shaft_front_deg"], out["shaft_rear_deg"], out["slip_mm"] = b1 * DEG, b2 * DEG, length - job.shaft

    loads = []
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
            one["pinion_ground_deg"] = np.arctan2(p @ ez, p @ ex) * DEG
        if load:
            height = (np.array(load["cg"], float) - contact) @ ez
            full = 100 * -(v @ ex) / (v @ ez) * base / height
            one.update(anti_squat_pct=job.drive * full, anti_lift_pct=job.brake * full)
        loads.append(one)
    out["loads"] = loads

    s = solver.stretches(x)
    out["links"], uses = [], []
    for i, link in enumerate(job.links):
        u = unit(c + r @ link.axle - link.frame)
        spin, ends = joints(link, u, r)
        one = {"name": link.name, "length": link.length + s[i], "stretch": s[i], "force": link.k * s[i] if solver.over else 0.0, "spin": spin}
        for e, key, word in ((0, "frameEnd", "frame end"), (1, "axleEnd", "axle end")):
            uses += [(use, f"{link.name}, {word}, {what}") for use, what in ends[e]["uses"]]
            one[key] = {k: ends[e][k] for k in ("misalignment", "torsion")}
            one[key]["utilisation"] = max((u for u, _ in ends[e]["uses"]), default=None)
        out["links"].append(one)
    if uses:
        out["worst_bind"] = max(u for u, _ in uses)
        out["worst_bind_at"] = next(n for u, n in uses if u > out["worst_bind"] - 1e-7)

    out["struts"] = []
    for name, frame, axle in job.struts:
        def length(place):
            return np.linalg.norm(place[0] + place[1] @ axle - frame)
        d0, d = axle + [0, 0, job.radius] - frame, c + r @ axle - frame
        side = np.sign(axle[1])
        out["struts"].append({
            "name": name, "length": np.linalg.norm(d), "lean": lines(d, np.array([0, 0, 1.0])) * DEG,
            "frameTilt": angle(d0, d) * DEG, "axleTilt": angle(d0, r.T @ d) * DEG,
            "ratioHeave": -(length(h1) - length(h0)) / (2 * DIFF),
            "ratioRoll": -(length(r1) - length(r0)) / (2 * DIFF) * side if side else None,
        })
    out["lines"] = [{"name": n, "span": np.linalg.norm(c + r @ a - f)} for n, f, a in job.lines]
    out["straps"] = [{"name": n, "length": np.linalg.norm(c + r @ a - f)} for n, f, a in job.straps]
    out["stops"] = []
    for name, frame, axle, axis in job.stops:
        pad, n = c + r @ axle, r @ axis
        t = np.dot(pad - frame, n) / np.dot(axis, n)
        out["stops"].append({"name": name, "length": t, "off": np.linalg.norm(frame + t * axis - pad)})
    return out


def held(job):
    """Smallest singular value at ride of the distances' and travels' rows, turns at one metre."""
    rows = []
    for l in job.links:
        rows.append(np.concatenate([l.u0, cross(l.axle, l.u0) / 1000]))
    for side in (1, -1):
        up = np.array([0, 0, 1.0])
        rows.append(np.concatenate([up, cross([0, side * job.track / 2, 0], up) / 1000]))
    return np.linalg.svd(np.array(rows), compute_uv=False)[-1]


def main():
    with open(sys.argv[1], encoding="utf-8") as f:
        job = Job(json.load(f))
    solver = Solver(job)
    poses = [figures(job, solver, float(row["left_mm"]), float(row["right_mm"])) for row in csv.DictReader(sys.stdin)]
    json.dump({"singular": held(job), "poses": poses}, sys.stdout, default=float)


if __name__ == "__main__":
    main()
