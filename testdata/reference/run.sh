#!/bin/sh
# Times the C++ references and the Go benchmark side by side, least of several runs, and prints the ratios.
# Needs g++ and libeigen3-dev; libsimbody-dev for the assembler (left out where it is missing); python3 with SciPy to read the jobs.
# usage: run.sh [BUILD-DIRECTORY]
set -eu
here=$(cd "$(dirname "$0")" && pwd)
root=$(cd "$here/../.." && pwd)
build=${1:-$(mktemp -d)}
mkdir -p "$build"
g++ -std=c++17 -O3 -march=native -I/usr/include/eigen3 "$here/pose.cpp" -o "$build/pose"
if [ -d /usr/include/simbody ]; then
  g++ -std=c++17 -O2 -isystem /usr/include/simbody "$here/assemble.cpp" -o "$build/assemble" -lSimTKsimbody -lSimTKmath -lSimTKcommon
fi
go test -c -o "$build/motion.test" "$root/geometry/motion"
for job in "$root"/assets/*/*.axleloft "$root"/testdata/layouts/a-arm-lowers.axleloft "$root"/testdata/layouts/watts-on-axle.axleloft; do
  name=$(basename "$job" .axleloft)
  rows="$build/$name.rows"
  /usr/bin/python3 "$here/rows.py" "$job" > "$rows"
  "$build/pose" "$rows" > "$build/$name.eigen"
  (cd "$root/geometry/motion" && "$build/motion.test" -test.run '^$' -test.bench "^Benchmark(Pose|Layout)\$/^$name\$" -test.benchtime 1024x -test.count 200) > "$build/$name.go"
  "$build/pose" "$rows" >> "$build/$name.eigen"
  least=$(awk '/^Benchmark/ { if (!n || $3 < n) n = $3 } END { print n }' "$build/$name.go")
  echo "$name: $least ns a position with rates"
  awk -v go="$least" '/^eigen/ { if (!($1 in n) || $2 < n[$1]) n[$1] = $2 }
    END { for (k in n) printf "  %-16s %8.0f   Go takes %.2f of it\n", k, n[k], go / n[k] }' "$build/$name.eigen"
  if [ -x "$build/assemble" ]; then
    "$build/assemble" "$rows" | awk -v go="$least" '{ printf "  %-16s %8.0f   Go takes 1/%.0f of it\n", $1, $2, $2 / go }'
  fi
done
