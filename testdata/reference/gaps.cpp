// Samples the gaps of every pair at the positions of a file with the Flexible Collision Library (Debian libfcl-dev 0.7; J. Pan, S. Chitta, D. Manocha, "FCL: a general purpose library for
// collision and proximity queries", ICRA 2012), twice: every gap measured, and with the pairs passed over whose boxes stand further apart than the least gap so far. Prints both times in
// seconds of this process (what else the machine does is not counted), then the least gap of each pair.
//
// Shapes are built once and moved by their transforms; the file (from gaps/main.go) is 64-bit floats: counts of solids, pairs and positions; of each solid what carries it (0 frame, 1 axle,
// 2 between) and its pieces; the pairs; of each position the axle's centre and axes and the ends of the bars between. A rounded drum is a cylinder, its rounding taken off after.
#include <array>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <limits>
#include <memory>
#include <vector>

#include <fcl/geometry/shape/box.h>
#include <fcl/geometry/shape/capsule.h>
#include <fcl/geometry/shape/convex.h>
#include <fcl/geometry/shape/cylinder.h>
#include <fcl/geometry/shape/sphere.h>
#include <fcl/geometry/shape/utility.h>
#include <fcl/narrowphase/collision_object.h>
#include <fcl/narrowphase/distance.h>

using V = fcl::Vector3d;
using T = fcl::Transform3d;

static std::vector<double> data;
static size_t at = 0;
static double next() { return data.at(at++); }
static V point() {
  double x = next(), y = next(), z = next();
  return V(x, y, z);
}

// The turn that takes Z to the unit direction d.
static fcl::Matrix3d along(const V& d) {
  V x = std::abs(d.z()) < 0.9 ? V(0, 0, 1).cross(d).normalized() : V(1, 0, 0).cross(d).normalized();
  fcl::Matrix3d m;
  m.col(0) = x;
  m.col(1) = d.cross(x);
  m.col(2) = d;
  return m;
}

struct Piece {
  int body;
  double off = 0;  // what of its radius the library does not know, mm
  T own = T::Identity();
  std::shared_ptr<fcl::Capsuled> bar;  // of a bar between, whose length may change
  std::unique_ptr<fcl::CollisionObjectd> object;
  fcl::AABBd box;  // as it stands
};

template <class Shape>
static void boxOf(const fcl::CollisionGeometryd* g, const T& t, fcl::AABBd& box) {
  fcl::computeBV<fcl::AABBd, Shape>(*static_cast<const Shape*>(g), t, box);
}

// The box along the axes round a piece: of each kind the smallest the library knows (a collision object's own is a cube round a ball).
static void enclose(Piece& p) {
  const auto* g = p.object->collisionGeometry().get();
  const T& t = p.object->getTransform();
  switch (g->getNodeType()) {
    case fcl::GEOM_BOX: boxOf<fcl::Boxd>(g, t, p.box); break;
    case fcl::GEOM_SPHERE: boxOf<fcl::Sphered>(g, t, p.box); break;
    case fcl::GEOM_CAPSULE: boxOf<fcl::Capsuled>(g, t, p.box); break;
    case fcl::GEOM_CYLINDER: boxOf<fcl::Cylinderd>(g, t, p.box); break;
    default: boxOf<fcl::Convexd>(g, t, p.box);
  }
}

static void run(Piece& p, const V& a, const V& b) {
  V d = b - a;
  double l = d.norm();
  T t = T::Identity();
  t.translation() = (a + b) / 2;
  t.linear() = along(l > 0 ? V(d / l) : V(0, 0, 1));
  if (std::abs(p.bar->lz - l) > 1e-9) {
    p.bar->lz = l;
    p.bar->computeLocalAABB();
  }
  p.object->setTransform(t);
}

static Piece piece(int body) {
  Piece p;
  p.body = body;
  int kind = int(next());
  double radius = next();
  std::shared_ptr<fcl::CollisionGeometryd> g;
  switch (kind) {
    case 0:
      p.own.translation() = point();
      g = std::make_shared<fcl::Sphered>(radius);
      break;
    case 1: {
      V a = point(), b = point();
      p.bar = std::make_shared<fcl::Capsuled>(radius, (b - a).norm());
      p.own.translation() = (a + b) / 2;
      p.own.linear() = along((b - a).normalized());
      g = p.bar;
      break;
    }
    case 2: {
      p.own.translation() = point();
      p.own.linear() = along(point());
      double half = next(), rho = next();
      p.off = radius;
      g = std::make_shared<fcl::Cylinderd>(rho, 2 * half);
      break;
    }
    case 3: {
      p.own.translation() = point();
      for (int k = 0; k < 3; k++) p.own.linear().col(k) = point();
      V half = point();
      p.off = radius;
      g = std::make_shared<fcl::Boxd>(2 * half);
      break;
    }
    default: {
      auto v = std::make_shared<std::vector<V>>(size_t(next()));
      for (auto& q : *v) q = point();
      auto f = std::make_shared<std::vector<int>>();
      int faces = int(next());
      for (int i = 0; i < faces; i++) {
        int k = int(next());
        f->push_back(k);
        while (k-- > 0) f->push_back(int(next()));
      }
      p.off = radius;
      g = std::make_shared<fcl::Convexd>(v, faces, f);
    }
  }
  p.object = std::make_unique<fcl::CollisionObjectd>(g, p.own);
  return p;
}

using Solid = std::vector<Piece>;

// The gap of two pieces: the distance, or minus the depth of an overlap.
static double gap(const Piece& a, const Piece& b) {
  fcl::DistanceRequestd ask(false, false);
  fcl::DistanceResultd got;
  double d = fcl::distance(a.object.get(), b.object.get(), ask, got);
  if (d <= 0) {
    ask.enable_signed_distance = true;
    fcl::DistanceResultd deep;
    try {
      d = fcl::distance(a.object.get(), b.object.get(), ask, deep);
    } catch (const std::exception&) {  // its own iteration gave up: they touch, how deep is not known
      d = 0;
    }
  }
  return d - a.off - b.off;
}

// How far the boxes round two pieces stand apart, less what the boxes do not know of the radii.
static double apart(const Piece& a, const Piece& b) {
  const auto &p = a.box, &q = b.box;
  V d = (p.min_ - q.max_).cwiseMax(q.min_ - p.max_).cwiseMax(0.0);
  return d.norm() - a.off - b.off;
}

int main(int n, char** args) {
  FILE* in = n == 2 ? std::fopen(args[1], "rb") : nullptr;
  if (!in) {
    std::fprintf(stderr, "usage: gaps FILE\n");
    return 2;
  }
  std::fseek(in, 0, SEEK_END);
  data.resize(size_t(std::ftell(in)) / sizeof(double));
  std::rewind(in);
  if (std::fread(data.data(), sizeof(double), data.size(), in) != data.size()) return 1;
  std::fclose(in);

  size_t solids = size_t(next()), count = size_t(next()), positions = size_t(next());
  std::vector<Solid> all(solids);
  for (auto& s : all) {
    int body = int(next());
    size_t pieces = size_t(next());
    for (size_t k = 0; k < pieces; k++) s.push_back(piece(body));
  }
  std::vector<std::array<size_t, 2>> pairs(count);
  for (auto& p : pairs) p = {size_t(next()), size_t(next())};
  size_t first = at;

  auto sample = [&](bool boxes, std::vector<double>& least) {
    least.assign(count, std::numeric_limits<double>::infinity());
    at = first;
    std::clock_t start = std::clock();
    for (auto& s : all)
      for (auto& p : s) enclose(p);
    for (size_t k = 0; k < positions; k++) {
      T axle = T::Identity();
      axle.translation() = point();
      for (int i = 0; i < 3; i++) axle.linear().col(i) = point();
      for (auto& s : all)
        for (auto& p : s) {
          if (p.body == 1) {
            p.object->setTransform(axle * p.own);
          } else if (p.body == 2) {
            V a = point(), b = point();
            run(p, a, b);
          } else {
            continue;
          }
          if (boxes) enclose(p);
        }
      for (size_t i = 0; i < count; i++)
        for (const auto& a : all[pairs[i][0]])
          for (const auto& b : all[pairs[i][1]]) {
            if (boxes && apart(a, b) >= least[i]) continue;
            least[i] = std::min(least[i], gap(a, b));
          }
    }
    return double(std::clock() - start) / CLOCKS_PER_SEC;
  };
  std::vector<double> least, again;
  double boxed = sample(true, again), every = sample(false, least);
  std::printf("%.6f %.6f\n", every, boxed);
  for (double d : least) std::printf("%.9f\n", d);
}
