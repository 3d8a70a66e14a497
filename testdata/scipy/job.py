"""A job file as the calculation wants it: every pair as its two twins, ends with bolts, bores, limits and stiffnesses, points that the axle
carries as offsets from its centre. mm, N, rad."""
import json

import numpy as np
from scipy.optimize import brentq

STEEL = 210_000.0  # N/mm2


def unit(v):
    return v / np.sqrt(np.dot(v, v))


def cross(a, b):  # numpy's own takes ten times as long for one pair
    return np.array([a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]])


def point(p):
    return np.array(p, float)


def about(axis, t, v):
    return v * np.cos(t) + cross(axis, v) * np.sin(t) + axis * np.dot(axis, v) * (1 - np.cos(t))


# ------------------------------------------------------------------------------------------------------------------- twins

POINTS = ("frame", "axle", "axis", "shaft", "lever", "far", "bolt", "bends")


def mirrored(v):
    """The mirror image in the centre plane of a point, of a list of points, of everything in a part."""
    if isinstance(v, list) and v and isinstance(v[0], (int, float)):
        return [v[0], -v[1], v[2]]
    if isinstance(v, list):
        return [mirrored(x) for x in v]
    out = dict(v)
    for key, x in v.items():
        if key in POINTS or key in ("frameEnd", "axleEnd", "frameEnds", "axleEnds"):
            out[key] = mirrored(x)
    if "clock" in out:  # a turn about the mirrored link is the opposite one
        out["clock"] = -out["clock"]
    return out


def twins(parts, pairs=()):
    """Every pair as its two twins; what stands on a pair stands on the twin of its own side."""
    out = []
    for part in parts:
        if not part.get("pair"):
            out.append(part)
            continue
        part = json.loads(json.dumps(part))
        for side, twin in (("left", part), ("right", mirrored(part))):
            twin = dict(twin, name=part["name"] + " " + side)
            on = part.get("on")
            if on in pairs:
                twin["on"] = on + " " + side
            elif on and side == "right" and on.rsplit(" ", 1)[0] in pairs:
                twin["on"] = on.rsplit(" ", 1)[0] + {"left": " right", "right": " left"}[on.rsplit(" ", 1)[1]]
            out.append(twin)
    return out


# -------------------------------------------------------------------------------------------------------------------- ends

def across(u):
    """The bolt of an end that gives none: the horizontal square to the direction u, body Y within 10 degrees of vertical."""
    if abs(u[2]) > np.cos(np.radians(10)):
        return np.array([0.0, 1.0, 0.0])
    return unit(cross(u, [0, 0, 1.0]))


def clevis(c):
    """Tilt at which a rod end's head, a plate with rounded edges, touches the cheeks it sits between."""
    r, half = c.get("edgeRadius", 0.0), c.get("gap", c["ballWidth"]) / 2
    d, w = c["head"] / 2 - r, c["headWidth"] / 2 - r

    def beyond(t):
        return d * np.sin(t) + w * np.cos(t) + r - half
    return brentq(beyond, 0, np.arctan2(d, w), xtol=1e-15)


class End:
    """bolt: where the file gives none. u: direction of the link, whose bore may lie square to it; none for arms, whose bores lie on their bolts."""

    def __init__(self, end, bolt, u=None, clock=0.0):
        end = end or {}
        kind = end.get("kind", "ball")
        self.bush = kind == "bush"
        limits = [np.radians(end["misalignment"])] if "misalignment" in end else []
        if "clevis" in end:
            limits.append(clevis(end["clevis"]))
        self.mis = min(limits) if limits else None
        self.tor = np.radians(end["torsion"]) if self.bush and "torsion" in end else None
        self.k = end.get("radialStiffness", 10_000.0 if self.bush else 100_000.0)
        self.axial = end.get("axialStiffness", self.k / 4)
        self.bolt = unit(point(end["bolt"])) if "bolt" in end else bolt
        side = unit(cross(self.bolt, np.eye(3)[np.argmin(np.abs(self.bolt))]))
        self.sides = side, cross(self.bolt, side)  # two directions square to the bolt and to each other
        self.bore = self.bolt
        if u is not None and end.get("square", not self.bush):
            self.bore = unit(self.bolt - np.dot(self.bolt, u) * u)
        if clock:
            self.bore = about(u, clock, self.bore)


def give(ends, length, tube, shares=(1, 1)):
    """1/k of a bar: its ends and its tube in series; an end that several distances share counts 1/share."""
    g = sum(n / e.k for e, n in zip(ends, shares))
    if tube:
        bore = tube["outside"] - 2 * tube["wall"] if "wall" in tube else 0.0
        g += length / (STEEL * np.pi / 4 * (tube["outside"] ** 2 - bore * bore))
    return g


class Link:
    """A bar between two points; near and far say what carries each: "frame", "axle" or the number of a rocker. At ride, body axes."""

    def __init__(self, name, words, near, far, a, b, ends, tube, clock=0.0):
        self.name, self.words, self.near, self.far, self.a, self.b = name, words, near, far, point(a), point(b)
        self.length = np.linalg.norm(self.b - self.a)
        self.u0 = (self.b - self.a) / self.length
        bolt = across(self.u0)
        self.ends = End(ends[0], bolt, self.u0), End(ends[1], bolt, self.u0, np.radians(clock))
        self.k = 1 / give(self.ends, self.length, tube)


class Arm:
    def __init__(self, j):
        self.name = j["name"]
        self.frame, self.axle = [point(p) for p in j["frame"]], [point(p) for p in j["axle"]]
        self.radius = len(self.frame) == 1
        single, pair = (self.frame[0], self.axle) if self.radius else (self.axle[0], self.frame)
        self.line = (pair[0] + pair[1]) / 2 - single  # from the single pivot to the middle of the pair
        fe, ae = j.get("frameEnds", [None, None]), j.get("axleEnds", [None, None])
        y = np.array([0.0, 1.0, 0.0])
        fb = y if self.radius else unit(self.frame[1] - self.frame[0])
        ab = y if self.radius else across(unit(self.line))
        self.ends = [End(e, fb) for e in fe[:len(self.frame)]] + [End(e, ab) for e in ae[:len(self.axle)]]
        self.words = (["frame end"] if self.radius else ["first frame end", "second frame end"]) + \
            (["first axle end", "second axle end"] if self.radius else ["axle end"])
        if not self.radius:
            self.lengths = [np.linalg.norm(self.axle[0] - f) for f in self.frame]
            self.k = [1 / give((self.ends[i], self.ends[2]), self.lengths[i], j.get("tube"), (1, 2)) for i in (0, 1)]


class Rocker:
    def __init__(self, j, number):
        self.name, self.on, self.pivot, self.axis = j["name"], j["on"], point(j["pivot"]), unit(point(j["axis"]))
        far = "axle" if self.on == "frame" else "frame"
        self.rods = [Link(r["name"], ("rocker end", "far end"), number, far, r["rocker"], r["far"],
                          (r.get("rockerEnd"), r.get("farEnd")), r.get("tube")) for r in j["rods"]]


class Job:
    def __init__(self, j):
        v = j["vehicle"]
        self.wheelbase, self.track, self.radius = v["wheelbase"], v["track"], v["tyre"]["loadedRadius"]
        self.drive, self.brake = v.get("driveShare", 1.0), v.get("brakeShare", 0.4)
        self.still = v.get("frontTravel", "with") == "still"
        self.loads = v.get("loads", [])
        self.centre = np.array([0, 0, self.radius], float)
        pairs = {p["name"] for key in ("links", "arms") for p in j.get(key, []) if p.get("pair")}
        self.links = [Link(l["name"], ("frame end", "axle end"), "frame", "axle", l["frame"], l["axle"], (l.get("frameEnd"), l.get("axleEnd")),
                           l.get("tube"), l.get("clock", 0.0)) for l in twins(j.get("links", []))]
        self.arms = [Arm(a) for a in twins(j.get("arms", []))]
        self.rockers = [Rocker(r, i) for i, r in enumerate(j.get("rockers", []))]
        self.bars = self.links + [rod for r in self.rockers for rod in r.rods]

        def two(p):
            return p["name"], point(p["frame"]), point(p["axle"])
        self.struts = [two(p) + (p.get("on", "axle"),) for p in twins(j.get("struts", []), pairs)]
        self.lines = [two(p) for p in twins(j.get("lines", []))]
        self.straps = [two(p) for p in twins(j.get("straps", []))]
        self.stops = [two(p) + (unit(point(p.get("axis", [0, 0, -1.0]))),) for p in twins(j.get("stops", []))]
        self.sensors = [(s["name"], point(s["shaft"]), unit(point(s["axis"])), point(s["lever"]), point(s["far"]), s.get("on", "axle"))
                        for s in twins(j.get("sensors", []), pairs)]
        self.pinion = self.shaft = None
        if "pinion" in j.get("axle", {}):
            p = j["axle"]["pinion"]
            self.pinion = point(p["joint"]), unit(point(p["axis"]))
        if "driveline" in j and self.pinion:
            d = j["driveline"]
            self.shaft = [point(d["output"]["joint"])]
            self.output = unit(point(d["output"]["axis"]))
            self.phases = [np.radians(d.get("yokePhase", 0.0))]
            self.speed = d["speed"] * np.pi / 30 if "speed" in d else None
            if "bearing" in d:
                self.shaft.append(point(d["bearing"]["joint"]))
                self.phases.insert(0, np.radians(d["bearing"].get("yokePhase", 0.0)))
