"""How axle and body stood while they were measured, by SciPy's Rotation: a JSON list of cases in, a JSON list of places at ride height out. Angles in
degrees. A case has "point", "ride" and, of an axle, "axis" (the pinion's at ride), "pinion", with "tilt" (on stands) or "left", "right" (ends of the tube,
with "rake" and "lean" of the body it was measured against); of a body on the floor "rake", "lean", "fall" (ahead, left) and "point" as marks and height."""
import json
import sys

import numpy as np
from scipy.optimize import brentq
from scipy.spatial.transform import Rotation


def body(rake, lean):
    def roll(a):
        return Rotation.from_euler("YX", [-np.radians(rake), a])
    a = brentq(lambda a: roll(a).apply([0, 1, 0])[2] - np.sin(np.radians(lean)), -1.2, 1.2, xtol=1e-15)
    return roll(a)


def nosed(turn, axis, pinion, up):
    axis = np.array(axis) / np.linalg.norm(axis)

    def miss(theta):
        return turn(theta).apply(axis) @ up - np.sin(np.radians(pinion))
    grid = np.linspace(-np.pi, np.pi, 721)
    roots = [brentq(miss, a, b, xtol=1e-15) for a, b in zip(grid, grid[1:]) if miss(a) * miss(b) < 0]
    return turn(min(roots, key=abs))


out = []
for c in json.load(sys.stdin):
    point, ride = np.array(c["point"]), np.array(c["ride"])
    if "tilt" in c:
        r = nosed(lambda t: Rotation.from_euler("XY", [np.radians(c["tilt"]), t]), c["axis"], c["pinion"], np.array([0, 0, 1.0]))
        at = np.zeros(3)
    elif "left" in c:
        left, right = np.array(c["left"]), np.array(c["right"])
        y = (left - right) / np.linalg.norm(left - right)
        psi, alpha = np.arctan2(-y[0], y[1]), np.arcsin(y[2])
        up = body(c["rake"], c["lean"]).inv().apply([0, 0, 1.0])
        r = nosed(lambda t: Rotation.from_euler("ZXY", [psi, alpha, t]), c["axis"], c["pinion"], up)
        at = (left + right) / 2
    else:
        r = body(c["rake"], c["lean"])
        fall = c["fall"]
        normal = np.cross([1, 0, -fall[0]], [0, 1, -fall[1]])
        fore = np.array([1, 0, -fall[0]])
        fore = fore / np.linalg.norm(fore)
        left = np.cross(normal / np.linalg.norm(normal), fore)
        at = np.array([0, 0, c["high"]])
        point = point[0] * fore + point[1] * left + np.array([0, 0, point[2]])
    out.append((ride + r.inv().apply(point - at)).tolist())
print(json.dumps(out))
