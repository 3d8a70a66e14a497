#!/usr/bin/python3
"""What moving bars take of a tank, counted in small cubes, from the job's own keys: an independent calculation beside axle.py, whose positions it uses.

usage: keepout.py JOB VESSEL < CUTS     CUTS: JSON list of cuts, each a list of planes [nx, ny, nz, d]: what lies in it has n.x <= d for all

Movers are the links, struts and the driveshaft as round bars with half-spherical ends, each with the larger gap wanted of the two; the range is that of the struts alone, gone over along rays from
ride height, every few millimetres, at its edge and at its corners. Counted twice: with the gap wanted (low: positions between are left out), and with it widened by the sagitta s^2/(8 R) of two neighbouring
positions s apart of a bar whose gap and radius are R (high: to second order no less than with those between). Of each cube one random place counts for it; four counts, with their own places, tell
the standard error of their mean. JSON in litres: low, high, error; gross and what all cuts take of the tank, by a million random places, each with its standard error (gross_error, cut_error);
left: of the keep-out outside every cut."""
import json
import sys

sys.dont_write_bytecode = True

import numpy as np  # noqa: E402

from axle import Solver  # noqa: E402
from job import Job, point, twins  # noqa: E402

COARSE, PARTS = 20.0, 4  # mm of the cubes looked at first; into how many each way those are cut that may be taken in part
RAYS, ALONG = 48, 12.0  # rays; mm along a ray
COUNTS = 4


def newton(solver, x, left, right):
    """The unknowns at two travels from near ones; None where that fails."""
    want = np.array([left, right])

    def rows(x):
        return np.concatenate([solver.strains(x), solver.travels(x) - want])
    for _ in range(12):
        step = np.linalg.solve(solver.jacobian(rows, x), rows(x))
        x = x - step
        if np.abs(step).max() < 1e-12:
            return x
    return None


class Struts:
    def __init__(self, raw):
        self.list = [(point(s["frame"]), point(s["axle"]), s["closed"], s["open"]) for s in twins(raw["struts"])]

    def margin(self, place):
        """The least room left of any, and of which end of which."""
        room = []
        for f, a, c, o in self.list:
            l = np.linalg.norm(place.axle(a) - f)
            room += [l - c, o - l]
        k = int(np.argmin(room))
        return room[k], k


def bars(raw, job, tank):
    """Of each mover its ends (frame, axle), radius and reach: radius and gap wanted."""
    wanted = tank.get("clearance", 25)
    assert not tank.get("carries"), "own brackets are not left out here"
    out = []
    for key in ("links", "struts"):
        for p in twins(raw.get(key, [])):
            d = p["tube"]["outside"] if key == "links" else p["diameter"]
            assert not p.get("bends")
            out.append((point(p["frame"]), point(p["axle"]), d / 2 + max(wanted, p.get("clearance", 12))))
    d = raw["driveline"]
    out.append((point(d["output"]["joint"]), job.pinion[0], d["shaftDiameter"] / 2 + max(wanted, d.get("clearance", 25))))
    return out


def inside(tank, p):
    """Which of the points lie in the tank."""
    if tank["kind"] == "box":
        assert "turn" not in tank
        return np.all((p >= tank["min"]) & (p <= tank["max"]), axis=1)
    assert tank["kind"] == "prism" and tank["plane"] == "side"
    o = np.array(tank["outline"], float)
    x, z, held = p[:, 0], p[:, 2], np.zeros(len(p), bool)
    for (ax, az), (bx, bz) in zip(o, np.roll(o, -1, axis=0)):
        if az != bz:
            held ^= ((az > z) != (bz > z)) & (x < ax + (z - az) / (bz - az) * (bx - ax))
    return held & (p[:, 1] >= tank["from"]) & (p[:, 1] <= tank["to"])


def edge(solver, struts, x, s, step, dl, dr):
    """On along a ray from a position inside: the unknowns on the way, the last at the edge, and what ends it."""
    out = []
    while True:
        y = newton(solver, x, (s + step) * dl, (s + step) * dr)
        assert y is not None
        if struts.margin(solver.place(y))[0] < 0:
            break
        x, s = y, s + step
        out.append(x)
    lo, hi, by = s, s + step, None
    while hi - lo > 1e-3:
        mid = (lo + hi) / 2
        room, k = struts.margin(solver.place(newton(solver, x, mid * dl, mid * dr)))
        if room >= 0:
            lo = mid
        else:
            hi, by = mid, k
    if by is None:
        by = struts.margin(solver.place(newton(solver, x, hi * dl, hi * dr)))[1]
    return out + [newton(solver, x, lo * dl, lo * dr)], by, lo


def places(solver, struts):
    """Positions along rays, each from ride height to its edge; then, alone, the corners of the range, where what ends it changes."""
    def way(a):
        return np.cos(a), np.sin(a)
    rays, ends = [], []
    for k in range(RAYS):
        out, by, far = edge(solver, struts, np.zeros(solver.n), 0.0, ALONG, *way(2 * np.pi * k / RAYS))
        rays.append(out)
        ends.append((by, far))
    corners = []
    for k in range(RAYS):
        (by, far), other = ends[k], ends[(k + 1) % RAYS]
        if by == other[0]:
            continue
        lo, hi = 2 * np.pi * k / RAYS, 2 * np.pi * (k + 1) / RAYS
        start = rays[k][-3], 0.9 * min(far, other[1])
        while hi - lo > 1e-5:
            mid = (lo + hi) / 2
            dl, dr = way(mid)
            x = newton(solver, start[0], start[1] * dl, start[1] * dr)
            out, k_by, _ = edge(solver, struts, x, start[1], ALONG, dl, dr)
            lo, hi = (mid, hi) if k_by == by else (lo, mid)
        corners.append(out[-1])
    return [[solver.place(x) for x in ray] for ray in rays], [solver.place(x) for x in corners]


def nearest(p, a, b):
    """Squared distances of points from the segment a b."""
    d = b - a
    t = np.clip((p - a) @ d / (d @ d), 0, 1)
    return ((p - a - t[:, None] * d) ** 2).sum(1)


def main():
    with open(sys.argv[1], encoding="utf-8") as f:
        raw = json.load(f)
    cuts = json.load(sys.stdin)
    job = Job(raw)
    solver, struts = Solver(job), Struts(raw)
    assert not solver.over and not raw.get("stops") and not raw.get("straps") and "travel" not in raw
    tank = next(e for e in raw["envelopes"] if e["name"] == sys.argv[2])
    if tank["kind"] == "box":
        lo, hi = np.array(tank["min"], float), np.array(tank["max"], float)
    else:
        o = np.array(tank["outline"], float)
        lo = np.array([o[:, 0].min(), tank["from"], o[:, 1].min()])
        hi = np.array([o[:, 0].max(), tank["to"], o[:, 1].max()])

    rays, corners = places(solver, struts)
    moves = []  # of each mover: frame end, and of each position the axle end, the reach, and that widened
    for frame, axle, reach in bars(raw, job, tank):
        ends = [[place.axle(axle) for place in ray] for ray in rays]
        for k, ray in enumerate(ends):
            for i, b in enumerate(ray):
                other = ends[(k + 1) % RAYS]  # neighbours: on along the ray, the same way along the next ray
                s = max(np.linalg.norm(b - ray[min(i + 1, len(ray) - 1)]), np.linalg.norm(b - other[-1 if i == len(ray) - 1 else min(i, len(other) - 1)]))
                wide = reach + s * s / (8 * reach)
                moves.append((frame, b, reach, wide))
        moves += [(frame, place.axle(axle), reach, reach) for place in corners]
    moves = [m for m in moves if np.all(np.minimum(m[0], m[1]) - m[3] <= hi) and np.all(np.maximum(m[0], m[1]) + m[3] >= lo)]

    def taken(p, more=0.0):
        """Which points are nearer than the reach, and than that widened, to a bar at some position."""
        low, high = np.zeros(len(p), bool), np.zeros(len(p), bool)
        for frame, b, reach, wide in moves:
            far = wide + more
            at = np.flatnonzero(np.all((p > np.minimum(frame, b) - far) & (p < np.maximum(frame, b) + far), axis=1) & ~low)
            d = nearest(p[at], frame, b)
            low[at[d < (reach + more) ** 2]] = True
            high[at[d < far * far]] = True
        return low, low | high

    sides = (hi - lo) / np.ceil((hi - lo) / COARSE)
    axes = [np.arange(round(n)) for n in (hi - lo) / sides]
    corner = lo + np.stack(np.meshgrid(*axes, indexing="ij"), -1).reshape(-1, 3) * sides
    corner = corner[taken(corner + sides / 2, np.linalg.norm(sides) / 2)[1]]
    sides = sides / PARTS
    axes = [np.arange(PARTS)] * 3
    parts = np.stack(np.meshgrid(*axes, indexing="ij"), -1).reshape(-1, 3) * sides
    corner = (corner[:, None] + parts[None]).reshape(-1, 3)
    random = np.random.default_rng(1)
    cubes = [corner + random.random(corner.shape) * sides for _ in range(COUNTS)]
    cubes = [p[inside(tank, p)] for p in cubes]
    low, high = zip(*[taken(p) for p in cubes])
    litres = np.prod(sides) * 1e-6

    def outside(p):
        gone = np.zeros(len(p), bool)
        for planes in cuts:
            gone |= np.all([p @ np.array(k[:3]) <= k[3] for k in planes], axis=0)
        return ~gone
    left = np.mean([(a & outside(p)).sum() for a, p in zip(low, cubes)]) * litres
    everywhere = lo + random.random((1_000_000, 3)) * (hi - lo)
    whole = np.prod(hi - lo) * 1e-6

    def share(which):
        f = float(np.mean(which))
        return f * whole, whole * float(np.sqrt(f * (1 - f) / len(everywhere)))
    held = inside(tank, everywhere)
    gross, cut = share(held), share(held & ~outside(everywhere))
    counts = [[float(a.sum() * litres) for a in which] for which in (low, high)]
    json.dump({
        "low": np.mean(counts[0]), "high": np.mean(counts[1]), "error": max(np.std(n, ddof=1) / np.sqrt(COUNTS) for n in counts),
        "gross": gross[0], "gross_error": gross[1], "cut": cut[0], "cut_error": cut[1], "left": left, "positions": sum(len(r) for r in rays) + len(corners), "corners": len(corners),
    }, sys.stdout)


if __name__ == "__main__":
    main()
