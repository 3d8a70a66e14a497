"""How deep convex bodies overlap, by SciPy (Qhull): a JSON list of pairs of point lists in, a JSON list of depths out (negative: apart along every face's normal by at least that)."""
import json
import sys

import numpy as np
from scipy.spatial import ConvexHull


def depth(a, b):
    """The least way out is square to the nearest face of the hull of all differences."""
    a, b = np.array(a, float), np.array(b, float)
    hull = ConvexHull((a[:, None, :] - b[None, :, :]).reshape(-1, 3))
    return float(np.min(-hull.equations[:, 3]))


print(json.dumps([depth(a, b) for a, b in json.load(sys.stdin)]))
