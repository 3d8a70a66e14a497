#!/usr/bin/python3
"""Prints a job as plain numbers for the C++ references: track, radius, number of links, then a line a link: frame pivot, axle pivot as offset
from the axle centre, length, stiffness."""
import json
import pathlib
import sys

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parent.parent / "scipy"))
sys.dont_write_bytecode = True
from pose import Job  # noqa: E402

with open(sys.argv[1], encoding="utf-8") as f:
    job = Job(json.load(f))
print(repr(job.track), repr(job.radius), len(job.links))
for link in job.links:
    print(*map(repr, map(float, [*link.frame, *link.axle, link.length, link.k])))
