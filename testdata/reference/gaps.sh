#!/bin/sh
# Times the proof of every demo's smallest gaps beside sampling 201 x 201 positions with FCL, and prints ratios and what sampling missed. Needs g++ and libfcl-dev. About a minute a core;
# FCL_STRIDE=n samples only every n-th row.
# usage: gaps.sh [BUILD-DIRECTORY [JOB...]]
set -eu
here=$(cd "$(dirname "$0")" && pwd)
root=$(cd "$here/../.." && pwd)
build=${1:-$(mktemp -d)}
mkdir -p "$build"
[ $# -gt 0 ] && shift
[ $# -gt 0 ] || set -- "$root"/assets/*/*.axleloft
g++ -std=c++17 -O3 -march=native -I/usr/include/eigen3 "$here/gaps.cpp" -o "$build/gaps-fcl" -lfcl -lccd -loctomap -loctomath
cd "$root"
go build -o "$build/gaps" ./testdata/reference/gaps
"$build/gaps" "$build/gaps-fcl" "$build" "$@"
