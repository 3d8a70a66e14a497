#!/usr/bin/python3
"""Prints a job as plain numbers for the C++ references: track, radius, number of distances (links and the bars of A-arms), then a line for each:
frame pivot, axle pivot as offset from the axle centre, length, stiffness. Then the number of rockers and for each: 1 on the axle or 0 on the frame,
pivot, axis, and of each rod the end at the rocker and the far end; what is on the axle from the axle's centre. Radius arms are refused."""
import json
import pathlib
import sys

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parent.parent / "scipy"))
sys.dont_write_bytecode = True
from pose import Job  # noqa: E402

with open(sys.argv[1], encoding="utf-8") as f:
    job = Job(json.load(f))
if any(arm.radius for arm in job.arms):
    sys.exit("radius arms have no such rows")
rows = [(link.a, link.b, link.length, link.k) for link in job.links]
rows += [(arm.frame[i], arm.axle[0], arm.lengths[i], arm.k[i]) for arm in job.arms for i in (0, 1)]
print(repr(job.track), repr(job.radius), len(rows))
for frame, axle, length, k in rows:
    print(*map(repr, map(float, [*frame, *(axle - job.centre), length, k])))
print(len(job.rockers))
for rocker in job.rockers:
    axle = rocker.on == "axle"
    line = [*(rocker.pivot - job.centre * axle), *rocker.axis]
    for rod in rocker.rods:
        line += [*(rod.a - job.centre * axle), *(rod.b - job.centre * (not axle))]
    print(int(axle), *map(repr, map(float, line)))
