// What the C++ references share: a job as plain numbers, the path of positions, and the clock.
#pragma once
#include <chrono>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <vector>

struct RowIn { double f[3], p[3], l, k; };
// Pivot, axis, and of each rod the end at the rocker and the far end; what is on the axle from the axle's centre.
struct RockerIn { int onAxle; double pivot[3], axis[3], rods[2][2][3]; };
struct JobIn { double track, radius; std::vector<RowIn> rows; std::vector<RockerIn> rockers; };

inline JobIn readJob(const char* name) {
  FILE* in = std::fopen(name, "r");
  JobIn j;
  int n = 0;
  if (!in || std::fscanf(in, "%lf %lf %d", &j.track, &j.radius, &n) != 3) { std::fprintf(stderr, "%s: not a list of rows\n", name); std::exit(1); }
  j.rows.resize(n);
  for (auto& r : j.rows)
    if (std::fscanf(in, "%lf %lf %lf %lf %lf %lf %lf %lf", &r.f[0], &r.f[1], &r.f[2], &r.p[0], &r.p[1], &r.p[2], &r.l, &r.k) != 8) std::exit(1);
  if (std::fscanf(in, "%d", &n) != 1) n = 0;
  j.rockers.resize(n);
  auto point = [&](double* p) { if (std::fscanf(in, "%lf %lf %lf", p, p + 1, p + 2) != 3) std::exit(1); };
  for (auto& r : j.rockers) {
    if (std::fscanf(in, "%d", &r.onAxle) != 1) std::exit(1);
    point(r.pivot); point(r.axis);
    for (auto& rod : r.rods) { point(rod[0]); point(rod[1]); }
  }
  std::fclose(in);
  return j;
}

// A closed path of positions about 3 mm apart, starting at ride height: both wheels +-60 mm, crossed up +-80 mm.
const int pathLength = 256;
struct Travel { double left, right; };
inline std::vector<Travel> path() {
  std::vector<Travel> t(pathLength);
  for (int i = 0; i < pathLength; i++) {
    double a = 2 * M_PI * i / pathLength;
    double h = 60 * std::sin(2 * a), d = 80 * std::sin(a);
    t[i] = {h + d, h - d};
  }
  return t;
}

// Least time of a run over the path, ns a position.
template <class F> double measure(F run, int repeats = 400) {
  using clock = std::chrono::steady_clock;
  double best = 1e300;
  for (int i = 0; i < repeats; i++) {
    auto t0 = clock::now();
    run();
    double ns = std::chrono::duration<double, std::nano>(clock::now() - t0).count() / pathLength;
    if (ns < best) best = ns;
  }
  return best;
}
