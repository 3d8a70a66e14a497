// Reads pairs of convex shapes from standard input and prints the distance of each by the Flexible Collision Library
// (Debian libfcl-dev), one a line; -1 where they overlap. Shapes, in mm:
//   ball x y z radius
//   bar ax ay az bx by bz radius
//   drum x y z axisx axisy axisz half radius
//   hull n x y z ...   m k i j ...   (n corners, m faces of k corners each, anticlockwise from outside)
//   mesh n x y z ...   m i j k ...   (n corners, m triangles)
#include <cmath>
#include <cstdio>
#include <iostream>
#include <memory>
#include <string>
#include <vector>

#include <fcl/geometry/bvh/BVH_model.h>
#include <fcl/geometry/shape/capsule.h>
#include <fcl/geometry/shape/convex.h>
#include <fcl/geometry/shape/cylinder.h>
#include <fcl/geometry/shape/sphere.h>
#include <fcl/narrowphase/collision_object.h>
#include <fcl/narrowphase/distance.h>

using V = fcl::Vector3d;

static V point() {
  double x, y, z;
  std::cin >> x >> y >> z;
  return V(x, y, z);
}

// The turn that takes Z to the direction d.
static fcl::Matrix3d along(const V &d) {
  return Eigen::Quaterniond::FromTwoVectors(V(0, 0, 1), d.normalized()).toRotationMatrix();
}

static fcl::CollisionObjectd shape() {
  std::string kind;
  std::cin >> kind;
  fcl::Transform3d at = fcl::Transform3d::Identity();
  std::shared_ptr<fcl::CollisionGeometryd> g;
  if (kind == "ball") {
    at.translation() = point();
    double r;
    std::cin >> r;
    g = std::make_shared<fcl::Sphered>(r);
  } else if (kind == "bar") {
    V a = point(), b = point();
    double r;
    std::cin >> r;
    at.translation() = (a + b) / 2;
    at.linear() = along(b - a);
    g = std::make_shared<fcl::Capsuled>(r, (b - a).norm());
  } else if (kind == "drum") {
    at.translation() = point();
    at.linear() = along(point());
    double half, r;
    std::cin >> half >> r;
    g = std::make_shared<fcl::Cylinderd>(r, 2 * half);
  } else if (kind == "mesh") {
    int n, m;
    std::cin >> n;
    std::vector<V> v;
    for (int i = 0; i < n; i++) v.push_back(point());
    std::cin >> m;
    std::vector<fcl::Triangle> t;
    for (int i = 0; i < m; i++) {
      int a, b, c;
      std::cin >> a >> b >> c;
      t.emplace_back(a, b, c);
    }
    auto model = std::make_shared<fcl::BVHModel<fcl::OBBRSSd>>();
    model->beginModel();
    model->addSubModel(v, t);
    model->endModel();
    g = model;
  } else {
    int n, m;
    std::cin >> n;
    auto v = std::make_shared<std::vector<V>>();
    for (int i = 0; i < n; i++) v->push_back(point());
    std::cin >> m;
    auto f = std::make_shared<std::vector<int>>();
    for (int i = 0; i < m; i++) {
      int k;
      std::cin >> k;
      f->push_back(k);
      for (int j = 0; j < k; j++) {
        int c;
        std::cin >> c;
        f->push_back(c);
      }
    }
    g = std::make_shared<fcl::Convexd>(v, m, f);
  }
  return fcl::CollisionObjectd(g, at);
}

int main() {
  int pairs;
  std::cin >> pairs;
  for (int i = 0; i < pairs; i++) {
    fcl::CollisionObjectd a = shape(), b = shape();
    fcl::DistanceRequestd ask(true, false);
    ask.gjk_solver_type = fcl::GST_LIBCCD;
    ask.distance_tolerance = 1e-9;
    fcl::DistanceResultd got;
    fcl::distance(&a, &b, ask, got);
    std::printf("%.12g\n", got.min_distance);
  }
}
