"""Volumes of convex hulls by SciPy (Qhull): a JSON list of point lists in, a JSON list of volumes out."""
import json
import sys

from scipy.spatial import ConvexHull

print(json.dumps([float(ConvexHull(points).volume) for points in json.load(sys.stdin)]))
