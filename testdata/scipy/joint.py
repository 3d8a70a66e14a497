"""How ends stand, and what stands on links and arms: bolts and bores, spins by the slope of what is to be least, bushes' twist, sensors."""
import numpy as np
from scipy.optimize import brentq, minimize_scalar

from job import about, cross, unit

DEG = 180 / np.pi


def angle(a, b):
    return float(np.arctan2(np.sqrt((cross(a, b) ** 2).sum()), np.dot(a, b)))


def lines(a, b):
    t = angle(a, b)
    return min(t, np.pi - t)


def least_turn(a, b):
    """The rotation matrix of the least turn that takes the direction a to b."""
    axis = cross(a, b)
    s = np.linalg.norm(axis)
    if s < 1e-15:
        return np.eye(3)
    t = np.arctan2(s, np.dot(a, b))
    return np.array([about(axis / s, t, e) for e in np.eye(3)]).T


def scan(f, lo=-np.pi / 2, hi=np.pi / 2, n=121, slope=None):
    """Least of f over a spin: a scan, then the best bracket refined, to the last digits where the slope is known."""
    c = np.linspace(lo, hi, n)
    v = [f(x) for x in c]
    i = int(np.argmin(v))
    step = c[1] - c[0]
    if slope:
        return brentq(slope, c[i] - step, c[i] + step, xtol=1e-15)
    return minimize_scalar(f, bounds=(c[i] - step, c[i] + step), method="bounded", options={"xatol": 1e-13}).x


def twist(bolt, ride, now):
    """Turn about the bolt from one direction to another, both as seen from the part that holds it."""
    x, y = ride - np.dot(ride, bolt) * bolt, now - np.dot(now, bolt) * bolt
    return float(np.arctan2(np.dot(bolt, cross(x, y)), np.dot(x, y)))


def stand(end, m, tor):
    uses = [(m / end.mis, "misalignment")] if end.mis else []
    if end.bush and end.tor:
        uses.append((abs(tor) / end.tor, "torsion"))
    return {"misalignment": m * DEG, "torsion": tor * DEG if end.bush else None, "uses": uses,
            "utilisation": max((u for u, _ in uses), default=None)}


def settle(place, bar):
    """The spin of a bar after the least turn of its direction, and its direction."""
    a, b = place.bar(bar)
    u = unit(b - a)
    fe, ae = bar.ends
    bolts = place.turn(bar.near) @ fe.bolt, place.turn(bar.far) @ ae.bolt
    m = least_turn(bar.u0, u)
    bores = m @ fe.bore, m @ ae.bore

    def mis(e, c):
        return lines(bolts[e], about(u, c, bores[e]))

    def slope(e, c):  # half the slope of the square of the misalignment
        n = about(u, c, bores[e])
        s = np.sign(bolts[e] @ n)
        t = mis(e, c)
        return -s * (bolts[e] @ cross(u, n)) / np.sinc(t / np.pi)

    def shared():
        """The spin that makes the larger of two uses smallest: where they are equal, or where the larger one is least by itself."""
        limits = [e.mis or np.inf for e in bar.ends]
        if limits == [np.inf, np.inf]:
            limits = [1, 1]
        c = scan(lambda c: max(mis(e, c) / limits[e] for e in (0, 1)))
        a, b = (mis(e, c) / limits[e] for e in (0, 1))

        def apart(c):
            return mis(0, c) / limits[0] - mis(1, c) / limits[1]
        h = 1e-5
        if apart(c - h) * apart(c + h) < 0:
            return brentq(apart, c - h, c + h, xtol=1e-15)
        e = 0 if a > b else 1
        return brentq(lambda c: slope(e, c), c - h, c + h, xtol=1e-15)

    if fe.bush and ae.bush:
        spin = scan(lambda c: mis(0, c) ** 2 + mis(1, c) ** 2, slope=lambda c: slope(0, c) + slope(1, c))
    elif fe.bush or ae.bush:
        e, free = (0, 1) if fe.bush else (1, 0)
        spin = scan(lambda c: mis(e, c), slope=lambda c: slope(e, c))
        limit = bar.ends[free].mis
        if limit is not None and mis(free, spin) > limit:
            best = scan(lambda c: mis(free, c), slope=lambda c: slope(free, c))
            if mis(free, best) > limit:
                spin = shared()
            else:
                spin = brentq(lambda c: mis(free, c) - limit, spin, best, xtol=1e-14)
    else:
        spin = shared()
    return spin, u, (mis(0, spin), mis(1, spin))


def bar_ends(place, bar):
    spin, u, mis = settle(place, bar)
    return spin, [stand(e, m, twist(e.bolt, bar.u0, place.turn(on).T @ u)) for e, m, on in zip(bar.ends, mis, (bar.near, bar.far))]


def arm_turn(place, i):
    """Rotation matrix of an arm since ride, and where its first frame point is."""
    arm = place.job.arms[i]
    if arm.radius:
        return place.arms[i][1], place.arms[i][0]
    n = unit(arm.frame[1] - arm.frame[0])

    def off(p):
        d = p - arm.frame[0]
        return d - np.dot(d, n) * n
    a, b = off(arm.axle[0]), off(place.axle(arm.axle[0]))
    t = np.arctan2(np.dot(n, cross(a, b)), np.dot(a, b))
    return np.array([about(n, t, e) for e in np.eye(3)]).T, arm.frame[0]


def arm_ends(place, i):
    arm = place.job.arms[i]
    turn, _ = arm_turn(place, i)
    line = turn @ arm.line
    if not arm.radius:  # the pivots themselves: the arm may be forced longer
        line = (arm.frame[0] + arm.frame[1]) / 2 - place.axle(arm.axle[0])
    out = []
    for k, end in enumerate(arm.ends):
        held = np.eye(3) if k < len(arm.frame) else place.r
        out.append(stand(end, lines(held @ end.bolt, turn @ end.bolt), twist(end.bolt, arm.line, held.T @ line)))
    return out


def carried(place, on, p):
    """Where a point of the axle, a link or an arm is, and the rotation matrix of what carries it."""
    job = place.job
    if on == "axle":
        return place.axle(p), place.r
    for link in job.links:
        if link.name == on:
            spin, u, _ = settle(place, link)
            m = least_turn(link.u0, u)
            m = np.array([about(u, spin, e) for e in m.T]).T
            return link.a + m @ (p - link.a), m
    for i, arm in enumerate(job.arms):
        if arm.name == on:
            m, at = arm_turn(place, i)
            return at + m @ (p - arm.frame[0]), m
    raise KeyError(on)


def sensor(place, shaft, axis, lever, far, on):
    """Turn of the lever since ride, and the angle between lever and rod at their joint; none where the rod cannot reach."""
    rod = np.linalg.norm(far - lever)
    now, _ = carried(place, on, far)
    arm = lever - shaft - np.dot(lever - shaft, axis) * axis

    def tip(t):
        return lever - arm + about(axis, t, arm)

    def beyond(t, to):
        return np.dot(tip(t) - to, tip(t) - to) - rod * rod

    def rising(t, to):  # slope of beyond: which of the two assemblies it is
        return 2 * np.dot(cross(axis, about(axis, t, arm)), tip(t) - to)
    sign = np.sign(rising(0, far))
    # it rises from the nearest turn to the farthest: the assembly is the half between them that it stood in at ride
    to = now - lever + arm
    nearest = np.arctan2(np.dot(axis, cross(arm, to)), np.dot(arm, to - np.dot(to, axis) * axis))
    if beyond(nearest, now) > 0 or beyond(nearest + np.pi, now) < 0:
        return None, None
    t = brentq(lambda t: beyond(t, now), nearest, nearest + sign * np.pi, xtol=1e-15)
    t = (t + np.pi) % (2 * np.pi) - np.pi
    return t * DEG, angle(-about(axis, t, arm), now - tip(t)) * DEG
