"""Where tapes meet, by SciPy's least_squares: a JSON list of {from, length, off, start, draws} in, a JSON list of {at, spread} out.
spread is the root mean square of where the point goes when every tape is off at random by its own off (normal), drawn so often."""
import json
import sys

import numpy as np
from scipy.optimize import least_squares


def solve(places, lengths, off, start):
    def miss(p):
        return (lengths - np.linalg.norm(p - places, axis=1)) / off
    return least_squares(miss, start, xtol=1e-15, ftol=1e-15, gtol=1e-15).x


out = []
rng = np.random.default_rng(1)
for case in json.load(sys.stdin):
    places, lengths, off = (np.array(case[k], float) for k in ("from", "length", "off"))
    at = solve(places, lengths, off, np.array(case["start"], float))
    exact = np.linalg.norm(at - places, axis=1)
    draws = [solve(places, exact + off * rng.standard_normal(len(off)), off, at) - at for _ in range(case["draws"])]
    spread = np.sqrt(np.mean(np.square(draws), axis=0)).tolist() if draws else []
    out.append({"at": at.tolist(), "spread": spread})
print(json.dumps(out))
