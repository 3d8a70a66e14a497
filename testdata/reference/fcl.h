// What the programs on the Flexible Collision Library (Debian libfcl-dev 0.7; J. Pan, S. Chitta, D. Manocha, "FCL: a general purpose library for collision and proximity queries", ICRA 2012)
// share: shapes read from 64-bit floats, built once, and the gap of two of them. mm.
#pragma once
#include <algorithm>
#include <cmath>
#include <memory>
#include <stdexcept>
#include <vector>

#include <fcl/geometry/bvh/BVH_model.h>
#include <fcl/geometry/shape/box.h>
#include <fcl/geometry/shape/capsule.h>
#include <fcl/geometry/shape/convex.h>
#include <fcl/geometry/shape/cylinder.h>
#include <fcl/geometry/shape/sphere.h>
#include <fcl/narrowphase/collision_object.h>
#include <fcl/narrowphase/distance.h>

using V = fcl::Vector3d;
using T = fcl::Transform3d;
using Mesh = fcl::BVHModel<fcl::OBBRSSd>;

struct Reader {
  const double *at, *end;
  double next() {
    if (at == end) throw std::runtime_error("the numbers end too soon");
    return *at++;
  }
  V point() {
    double x = next(), y = next(), z = next();
    return V(x, y, z);
  }
  T place() {  // shift and the columns of a rotation
    T t = T::Identity();
    t.translation() = point();
    for (int k = 0; k < 3; k++) t.linear().col(k) = point();
    return t;
  }
};

// A turn that takes Z to the unit direction d.
inline fcl::Matrix3d along(const V& d) {
  fcl::Matrix3d m;
  m.col(0) = std::abs(d.z()) < 0.9 ? V(0, 0, 1).cross(d).normalized() : V(1, 0, 0).cross(d).normalized();
  m.col(1) = d.cross(m.col(0));
  m.col(2) = d;
  return m;
}

struct Shape {
  std::shared_ptr<fcl::CollisionGeometryd> is;
  double off = 0;  // what of its radius the library does not know, taken off after
  T own = T::Identity();
};

// kind, radius, then
//   0 ball      centre
//   1 bar       both ends; with cores, without its radius, which is taken off after
//   2 drum      centre, axis, half width, radius of the core: a cylinder, its rounding taken off after
//   3 box       place, half sizes
//   4 hull      corners, faces as loops of them, anticlockwise from outside
//   5 mesh      corners, triangles as threes of them
inline Shape shape(Reader& in, bool cores = false) {
  Shape s;
  int kind = int(in.next());
  double radius = in.next();
  switch (kind) {
    case 0:
      s.own.translation() = in.point();
      s.is = std::make_shared<fcl::Sphered>(radius);
      break;
    case 1: {
      V a = in.point(), b = in.point();
      double l = (b - a).norm();
      s.own.translation() = (a + b) / 2;
      s.own.linear() = along(l > 0 ? V((b - a) / l) : V(0, 0, 1));
      s.off = cores ? radius : 0;
      s.is = std::make_shared<fcl::Capsuled>(radius - s.off, l);
      break;
    }
    case 2: {
      s.own.translation() = in.point();
      s.own.linear() = along(in.point());
      double half = in.next(), rho = in.next();
      s.off = radius;
      s.is = std::make_shared<fcl::Cylinderd>(rho, 2 * half);
      break;
    }
    case 3:
      s.own = in.place();
      s.off = radius;
      s.is = std::make_shared<fcl::Boxd>(2 * in.point());
      break;
    case 4: {
      auto v = std::make_shared<std::vector<V>>(size_t(in.next()));
      for (auto& q : *v) q = in.point();
      auto f = std::make_shared<std::vector<int>>();
      int faces = int(in.next());
      for (int i = 0; i < faces; i++) {
        int k = int(in.next());
        f->push_back(k);
        while (k-- > 0) f->push_back(int(in.next()));
      }
      s.off = radius;
      s.is = std::make_shared<fcl::Convexd>(v, faces, f);
      break;
    }
    default: {
      std::vector<V> v(size_t(in.next()));
      for (auto& q : v) q = in.point();
      std::vector<fcl::Triangle> t;
      for (size_t n = size_t(in.next()); n > 0; n--) {
        size_t a = size_t(in.next()), b = size_t(in.next()), c = size_t(in.next());
        t.emplace_back(a, b, c);
      }
      auto m = std::make_shared<Mesh>();
      m->beginModel();
      m->addSubModel(v, t);
      m->endModel();
      s.off = radius;
      s.is = m;
    }
  }
  s.is->computeLocalAABB();
  return s;
}

// The gap of two objects, what they do not know of their radii taken off: the distance or, with signs, where they overlap, minus its depth. NaN where the library's own iteration gave up.
inline double gap(const fcl::CollisionObjectd& a, double offA, const fcl::CollisionObjectd& b, double offB, double tolerance, bool signs) {
  fcl::DistanceRequestd ask(false, false);
  ask.distance_tolerance = tolerance;
  fcl::DistanceResultd got;
  double d;
  try {
    d = fcl::distance(&a, &b, ask, got);
    if (d <= 0 && signs) {
      ask.enable_signed_distance = true;
      fcl::DistanceResultd deep;
      d = fcl::distance(&a, &b, ask, deep);
    }
  } catch (const std::exception&) {
    return std::nan("");
  }
  return d - offA - offB;
}
