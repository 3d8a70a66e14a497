// Samples the gaps of every pair at the positions of a file with the Flexible Collision Library, twice: every gap measured, and with the pairs passed over whose boxes stand further apart
// than the least gap so far. Prints both times in seconds of this process (what else the machine does is not counted), then the least gap of each pair.
//
// Shapes are built once and moved by their transforms; the file (from gaps/main.go) is 64-bit floats: counts of solids, pairs and positions; of each solid what carries it (0 frame, 1 axle,
// 2 between) and its pieces; the pairs; of each position the axle's place and the ends of the bars between.
#include <array>
#include <cstdio>
#include <ctime>
#include <limits>

#include <fcl/geometry/shape/utility.h>

#include "fcl.h"

struct Piece {
  int body;
  Shape shape;
  std::shared_ptr<fcl::Capsuled> bar;  // of a bar, whose length may change
  std::unique_ptr<fcl::CollisionObjectd> object;
  fcl::AABBd box;  // as it stands
};

template <class Kind>
static void boxOf(const fcl::CollisionGeometryd* g, const T& t, fcl::AABBd& box) {
  fcl::computeBV<fcl::AABBd, Kind>(*static_cast<const Kind*>(g), t, box);
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

static Piece piece(Reader& in, int body) {
  Piece p;
  p.body = body;
  p.shape = shape(in);
  if (p.shape.is->getNodeType() == fcl::GEOM_CAPSULE) p.bar = std::static_pointer_cast<fcl::Capsuled>(p.shape.is);
  p.object = std::make_unique<fcl::CollisionObjectd>(p.shape.is, p.shape.own);
  return p;
}

static double measured(const Piece& a, const Piece& b) {
  double d = gap(*a.object, a.shape.off, *b.object, b.shape.off, 1e-6, true);
  return std::isnan(d) ? -a.shape.off - b.shape.off : d;  // they touch, how deep is not known
}

// How far the boxes round two pieces stand apart, less what the boxes do not know of the radii.
static double apart(const Piece& a, const Piece& b) {
  V d = (a.box.min_ - b.box.max_).cwiseMax(b.box.min_ - a.box.max_).cwiseMax(0.0);
  return d.norm() - a.shape.off - b.shape.off;
}

int main(int n, char** args) {
  FILE* file = n == 2 ? std::fopen(args[1], "rb") : nullptr;
  if (!file) {
    std::fprintf(stderr, "usage: gaps FILE\n");
    return 2;
  }
  std::fseek(file, 0, SEEK_END);
  std::vector<double> data(size_t(std::ftell(file)) / sizeof(double));
  std::rewind(file);
  if (std::fread(data.data(), sizeof(double), data.size(), file) != data.size()) return 1;
  std::fclose(file);
  Reader in{data.data(), data.data() + data.size()};

  size_t solids = size_t(in.next()), count = size_t(in.next()), positions = size_t(in.next());
  std::vector<std::vector<Piece>> all(solids);
  for (auto& s : all) {
    int body = int(in.next());
    for (size_t k = size_t(in.next()); k > 0; k--) s.push_back(piece(in, body));
  }
  std::vector<std::array<size_t, 2>> pairs(count);
  for (auto& p : pairs) {
    p[0] = size_t(in.next());
    p[1] = size_t(in.next());
  }

  auto sample = [&](bool boxes, std::vector<double>& least) {
    least.assign(count, std::numeric_limits<double>::infinity());
    Reader places = in;
    std::clock_t start = std::clock();
    for (auto& s : all)
      for (auto& p : s) enclose(p);
    for (size_t k = 0; k < positions; k++) {
      T axle = places.place();
      for (auto& s : all)
        for (auto& p : s) {
          if (p.body == 1) {
            p.object->setTransform(axle * p.shape.own);
          } else if (p.body == 2) {
            V a = places.point(), b = places.point();
            run(p, a, b);
          } else {
            continue;
          }
          if (boxes) enclose(p);
        }
      for (size_t i = 0; i < count; i++)
        for (const auto& a : all[pairs[i][0]])
          for (const auto& b : all[pairs[i][1]])
            if (!boxes || apart(a, b) < least[i]) least[i] = std::min(least[i], measured(a, b));
    }
    return double(std::clock() - start) / CLOCKS_PER_SEC;
  };
  std::vector<double> least, again;
  double boxed = sample(true, again), every = sample(false, least);
  std::printf("%.6f %.6f\n", every, boxed);
  for (double d : least) std::printf("%.9f\n", d);
}
