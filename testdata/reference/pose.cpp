// Positions and rates of an axle with Eigen, as a yardstick of speed: the same Newton and the same starts as the Go code, in the same four
// unknowns, and in six (the axle centre and a turn, both wheel travels as equations). Exactly located and least energy.
//
// usage: pose ROWS    prints ns a position (with rates) and the largest difference between the two on the path
#include <Eigen/Dense>

#include "common.h"

using namespace Eigen;
typedef Matrix<double, 6, 6> Matrix6;
typedef Matrix<double, 6, 1> Vector6;
typedef Matrix<double, 8, 8> Matrix8;
typedef Matrix<double, 8, 1> Vector8;

const double tol = 1e-9, scaleAngle = 1000;
const int maxIter = 40, maxLinks = 12;

struct Row { Vector3d f, p; double l, inv, k; };
struct Rod { Vector3d p, far; double l, inv; };
struct Rocker { bool axle; Vector3d pivot, axis; Rod rod[2]; };
struct Mechanism { double track, radius; int n; Row row[maxLinks]; int rockers; Rocker rocker; };

struct Unknowns { double x, y, sp, cp, st, ct; };
struct Pose { double ts, tc, dth, dta, left, right, h, alpha, sa, ca; Unknowns q; Vector3d c; Matrix3d r; Vector4d dh, da; Vector3d vh, wh, vr, wr; };

static inline void turn(double& s, double& c, double d) {
  double t = d / 2, n = 1 / (1 + t * t), ds = 2 * t * n, dc = (1 - t * t) * n;
  double s1 = s * dc + c * ds, c1 = c * dc - s * ds, f = 1.5 - (s1 * s1 + c1 * c1) / 2;
  s = s1 * f; c = c1 * f;
}
static inline void add(Unknowns& q, const Vector4d& d) { q.x += d[0]; q.y += d[1]; turn(q.sp, q.cp, d[2]); turn(q.st, q.ct, d[3]); }

static inline void frame(const Mechanism& m, Pose& p) {
  const Unknowns& q = p.q;
  p.c = Vector3d(q.x, q.y, m.radius + p.h);
  p.r << q.cp * q.ct - q.sp * p.sa * q.st, -q.sp * p.ca, q.cp * q.st + q.sp * p.sa * q.ct,
         q.sp * q.ct + q.cp * p.sa * q.st, q.cp * p.ca, q.sp * q.st - q.cp * p.sa * q.ct,
         -p.ca * q.st, p.sa, p.ca * q.ct;
}

static inline void place(const Mechanism& m, Pose& p, double left, double right) {
  p.left = left; p.right = right; p.h = (left + right) / 2;
  p.sa = (left - right) / m.track; p.ca = std::sqrt((1 - p.sa) * (1 + p.sa)); p.alpha = std::asin(p.sa);
}

static inline void rates(const Mechanism& m, Pose& p) {
  Vector3d a2(p.q.cp, p.q.sp, 0), a3 = p.r.col(1);
  p.vh = Vector3d(p.dh[0], p.dh[1], 1);
  p.wh = p.dh[2] * Vector3d::UnitZ() + p.dh[3] * a3;
  double d = 2 / (m.track * p.ca);
  p.vr = Vector3d(p.da[0] * d, p.da[1] * d, 0);
  p.wr = p.da[2] * d * Vector3d::UnitZ() + d * a2 + p.da[3] * d * a3;
}

// Four unknowns, exact. As in the Go code the derivatives by the travels are taken where the last residuals were, an inverse is used again after
// a step that leaves it as it was, and residuals of round-off are left alone.
static bool exact4(const Mechanism& m, Pose& p) {
  Matrix4d inv;
  double size = 1e300;
  for (int it = 0; it < maxIter; it++) {
    frame(m, p);
    Matrix4d j; Vector4d f, fh, fa;
    Vector3d a3 = p.r.col(1), a2(p.q.cp, p.q.sp, 0);
    for (int i = 0; i < 4; i++) {
      const Row& w = m.row[i];
      Vector3d r = p.r * w.p, d = p.c + r - w.f, c = r.cross(d);
      f[i] = (d.squaredNorm() - w.l * w.l) * w.inv / 2;
      j.row(i) << d[0] * w.inv, d[1] * w.inv, c[2] * w.inv, a3.dot(c) * w.inv;
      fh[i] = -d[2] * w.inv;
      fa[i] = -a2.dot(c) * w.inv;
    }
    double worst = f.cwiseAbs().maxCoeff();
    bool done = worst <= tol;
    if (!done || size > 3e-8) inv = j.inverse();
    if (done) {
      if (worst > 1e-12) { add(p.q, -(inv * f)); frame(m, p); }
      p.dh = inv * fh; p.da = inv * fa;
      rates(m, p);
      return true;
    }
    Vector4d d = -(inv * f);
    add(p.q, d);
    size = std::abs(d[0]) + std::abs(d[1]) + scaleAngle * (std::abs(d[2]) + std::abs(d[3]));
  }
  return false;
}

// Five unknowns: the axle's four and the turn of one rocker. Exact.
static bool exact5(const Mechanism& m, Pose& p) {
  typedef Matrix<double, 5, 5> Matrix5;
  typedef Matrix<double, 5, 1> Vector5;
  PartialPivLU<Matrix5> lu;
  double size = 1e300;
  const Rocker& k = m.rocker;
  for (int it = 0; it < maxIter; it++) {
    frame(m, p);
    Matrix5 j; Vector5 f; Matrix<double, 5, 2> fu;
    Vector3d a3 = p.r.col(1), a2(p.q.cp, p.q.sp, 0);
    auto row = [&](int i, const Vector3d& r, const Vector3d& d, double l, double inv, const Vector3d& own) {
      Vector3d c = r.cross(d);
      f[i] = (d.squaredNorm() - l * l) * inv / 2;
      j.row(i) << d[0] * inv, d[1] * inv, c[2] * inv, a3.dot(c) * inv, own.dot(d) * inv;
      fu.row(i) << -d[2] * inv, -a2.dot(c) * inv;
    };
    for (int i = 0; i < 3; i++) {
      const Row& w = m.row[i];
      Vector3d r = p.r * w.p;
      row(i, r, p.c + r - w.f, w.l, w.inv, Vector3d::Zero());
    }
    for (int i = 0; i < 2; i++) {
      const Rod& w = k.rod[i];
      Vector3d arm = p.tc * w.p + p.ts * k.axis.cross(w.p) + (1 - p.tc) * k.axis.dot(w.p) * k.axis;
      Vector3d own = k.axis.cross(arm);
      if (k.axle) {
        Vector3d r = p.r * (k.pivot + arm);
        row(3 + i, r, p.c + r - w.far, w.l, w.inv, p.r * own);
      } else {
        Vector3d r = p.r * w.far;
        row(3 + i, r, p.c + r - k.pivot - arm, w.l, w.inv, -own);
      }
    }
    double worst = f.cwiseAbs().maxCoeff();
    bool done = worst <= tol;
    if (!done || size > 3e-8) lu.compute(j);
    if (done) {
      if (worst > 1e-12) { Vector5 d = -lu.solve(f); add(p.q, d.head<4>()); turn(p.ts, p.tc, d[4]); frame(m, p); }
      Matrix<double, 5, 2> x = lu.solve(fu);
      p.dh = x.col(0).head<4>(); p.da = x.col(1).head<4>();
      p.dth = x(4, 0); p.dta = x(4, 1);
      rates(m, p);
      return true;
    }
    Vector5 d = -lu.solve(f);
    add(p.q, d.head<4>());
    turn(p.ts, p.tc, d[4]);
    size = std::abs(d[0]) + std::abs(d[1]) + scaleAngle * (std::abs(d[2]) + std::abs(d[3])) + 100 * std::abs(d[4]);
  }
  return false;
}

// Four unknowns, least energy.
static bool energy4(const Mechanism& m, Pose& p) {
  bool last = false;
  for (int it = 0; it < maxIter; it++) {
    frame(m, p);
    Vector4d g = Vector4d::Zero(); Matrix4d full = Matrix4d::Zero(), gn = Matrix4d::Zero();
    Vector3d a3 = p.r.col(1), a2(p.q.cp, p.q.sp, 0);
    Vector4d gh = Vector4d::Zero(), ga = Vector4d::Zero();
    for (int i = 0; i < m.n; i++) {
      const Row& w = m.row[i];
      Vector3d r = p.r * w.p, d = p.c + r - w.f;
      double l = d.norm(), e = l - w.l, ke = w.k * e;
      Vector3d u = d / l, pp(-r[1], r[0], 0), pt = a3.cross(r);
      Vector4d s(u[0], u[1], u.dot(pp), u.dot(pt));
      g += ke * s;
      Matrix4d ss = s * s.transpose();
      gn += w.k * ss;
      Matrix4d c;
      c << 1, 0, pp[0], pt[0], 0, 1, pp[1], pt[1], pp[0], pp[1], pp.squaredNorm(), pp.dot(pt), pt[0], pt[1], pp.dot(pt), pt.squaredNorm();
      c = (c - ss) / l;
      double b = -u[0] * pt[1] + u[1] * pt[0];
      c(2, 2) += -u[0] * r[0] - u[1] * r[1];
      c(2, 3) += b; c(3, 2) += b;
      c(3, 3) += u.dot(a3) * a3.dot(r) - u.dot(r);
      full += ke * c;
      if (last) {
        Vector3d pa = a2.cross(r);
        double sh = u[2], sal = u.dot(pa);
        Vector4d dot(pa[0], pa[1], pp.dot(pa), pt.dot(pa)), doth(0, 0, 0, pt[2]);
        Vector4d curve(0, 0, -u[0] * pa[1] + u[1] * pa[0], u.dot(a2.cross(pt)));
        gh -= w.k * (s * sh + e * (doth - s * sh) / l);
        ga -= w.k * (s * sal + e * ((dot - s * sal) / l + curve));
      }
    }
    full += gn;
    LLT<Matrix4d> llt(full);
    if (llt.info() != Success) llt.compute(gn);
    if (last) {
      p.dh = llt.solve(gh); p.da = llt.solve(ga);
      rates(m, p);
      return true;
    }
    Vector4d d = -llt.solve(g);
    add(p.q, d);
    last = std::abs(d[0]) + std::abs(d[1]) + scaleAngle * (std::abs(d[2]) + std::abs(d[3])) <= tol;
  }
  return false;
}

template <class Solve> static void follow4(const Mechanism& m, const std::vector<Travel>& t, std::vector<Pose>& out, Solve solve) {
  Pose p;
  p.q = {0, 0, 0, 1, 0, 1};
  p.ts = p.dth = p.dta = 0; p.tc = 1;
  place(m, p, 0, 0);
  if (!solve(m, p)) std::abort();
  for (int i = 0; i < pathLength; i++) {
    double h = p.h, alpha = p.alpha;
    place(m, p, t[i].left, t[i].right);
    add(p.q, p.dh * (p.h - h) + p.da * (p.alpha - alpha));
    if (m.rockers) turn(p.ts, p.tc, p.dth * (p.h - h) + p.dta * (p.alpha - alpha));
    if (!solve(m, p)) std::abort();
    out[i] = p;
  }
}

// Six unknowns: the centre and a turn from the last position, by Cayley's formula.
struct Pose6 { Vector3d c; Matrix3d r; Vector6 dl, dr; Vector2d lambda, lh, lr; double left, right; };

static inline void add6(Pose6& p, const Vector6& d) {
  p.c += d.head<3>();
  Vector3d g = d.tail<3>() / 2;
  Matrix3d s;
  s << 0, -g[2], g[1], g[2], 0, -g[0], -g[1], g[0], 0;
  p.r += 2 / (1 + g.squaredNorm()) * (s + s * s) * p.r;
}
static inline void travelRows(const Mechanism& m, const Pose6& p, Matrix<double, 2, 6>& t, Vector2d& f) {
  Vector3d y = p.r.col(1) * m.track / 2;
  double z = p.c[2] - m.radius;
  f << z + y[2] - p.left, z - y[2] - p.right;
  Vector3d c = y.cross(Vector3d::UnitZ());
  t.row(0) << 0, 0, 1, c.transpose();
  t.row(1) << 0, 0, 1, -c.transpose();
}

static bool exact6(const Mechanism& m, Pose6& p) {
  for (int it = 0; it < maxIter; it++) {
    Matrix6 j; Vector6 f;
    for (int i = 0; i < 4; i++) {
      const Row& w = m.row[i];
      Vector3d r = p.r * w.p, d = p.c + r - w.f;
      f[i] = (d.squaredNorm() - w.l * w.l) * w.inv / 2;
      j.row(i) << d.transpose() * w.inv, r.cross(d).transpose() * w.inv;
    }
    Matrix<double, 2, 6> t; Vector2d ft;
    travelRows(m, p, t, ft);
    j.bottomRows<2>() = t; f.tail<2>() = ft;
    PartialPivLU<Matrix6> lu(j);
    bool done = f.cwiseAbs().maxCoeff() <= tol;
    add6(p, -lu.solve(f));
    if (done) {
      Vector6 e = Vector6::Zero(); e[4] = 1; p.dl = lu.solve(e);
      e[4] = 0; e[5] = 1; p.dr = lu.solve(e);
      return true;
    }
  }
  return false;
}

// The stationary point of the energy with the travels as multipliers.
static bool energy6(const Mechanism& m, Pose6& p) {
  for (int it = 0; it < maxIter; it++) {
    Matrix8 a = Matrix8::Zero(); Vector8 b = Vector8::Zero();
    for (int i = 0; i < m.n; i++) {
      const Row& w = m.row[i];
      Vector3d r = p.r * w.p, d = p.c + r - w.f;
      double l = d.norm(), e = l - w.l, ke = w.k * e;
      Vector3d u = d / l;
      Vector6 s; s << u, r.cross(u);
      b.head<6>() += ke * s;
      Matrix<double, 3, 6> P;  // derivative of the point
      P << Matrix3d::Identity(), (Matrix3d() << 0, r[2], -r[1], -r[2], 0, r[0], r[1], -r[0], 0).finished();
      Matrix6 c = (P.transpose() * P - s * s.transpose()) / l;
      Matrix3d uu = (u * r.transpose() + r * u.transpose()) / 2;  // second derivative of the turn, symmetric part
      uu.diagonal().array() -= u.dot(r);
      c.bottomRightCorner<3, 3>() += uu;
      a.topLeftCorner<6, 6>() += w.k * s * s.transpose() + ke * c;
    }
    Matrix<double, 2, 6> t; Vector2d ft;
    travelRows(m, p, t, ft);
    Vector3d y = p.r.col(1) * m.track / 2;
    Matrix3d yy = (Vector3d::UnitZ() * y.transpose() + y * Vector3d::UnitZ().transpose()) / 2;
    yy.diagonal().array() -= y[2];
    const double scale = 1e4;  // N/mm, so that the multipliers weigh like lengths
    a.topLeftCorner<6, 6>().bottomRightCorner<3, 3>() -= scale * (p.lambda[0] - p.lambda[1]) * yy;
    a.topRightCorner<6, 2>() = -scale * t.transpose();
    a.bottomLeftCorner<2, 6>() = scale * t;
    b.head<6>() -= scale * t.transpose() * p.lambda;
    b.tail<2>() = scale * ft;
    PartialPivLU<Matrix8> lu(a);
    Vector8 d = -lu.solve(b);
    add6(p, d.head<6>());
    p.lambda += d.tail<2>();
    if (d.head<3>().cwiseAbs().sum() + scaleAngle * d.segment<3>(3).cwiseAbs().sum() <= tol) {
      Vector8 e = Vector8::Zero(); e[6] = scale; Vector8 x = lu.solve(e);
      p.dl = x.head<6>(); p.lh = x.tail<2>();
      e[6] = 0; e[7] = scale; x = lu.solve(e);
      p.dr = x.head<6>(); p.lr = x.tail<2>();
      return true;
    }
  }
  return false;
}

template <class Solve> static void follow6(const Mechanism& m, const std::vector<Travel>& t, std::vector<Pose6>& out, Solve solve) {
  Pose6 p;
  p.c = Vector3d(0, 0, m.radius); p.r.setIdentity(); p.left = p.right = 0; p.lambda.setZero(); p.lh.setZero(); p.lr.setZero();
  if (!solve(m, p)) std::abort();
  for (int i = 0; i < pathLength; i++) {
    double dl = t[i].left - p.left, dr = t[i].right - p.right;
    p.left = t[i].left; p.right = t[i].right;
    add6(p, p.dl * dl + p.dr * dr);
    p.lambda += p.lh * dl + p.lr * dr;
    if (!solve(m, p)) std::abort();
    out[i] = p;
  }
}

int main(int argc, char** argv) {
  if (argc < 2) return 1;
  JobIn in = readJob(argv[1]);
  Mechanism m;
  m.track = in.track; m.radius = in.radius; m.n = in.rows.size();
  if (m.n > maxLinks) return 1;
  for (int i = 0; i < m.n; i++) {
    const RowIn& r = in.rows[i];
    m.row[i] = {Vector3d(r.f[0], r.f[1], r.f[2]), Vector3d(r.p[0], r.p[1], r.p[2]), r.l, 1 / r.l, r.k};
  }
  m.rockers = in.rockers.size();
  if (m.rockers) {
    const RockerIn& r = in.rockers[0];
    auto v = [](const double* a) { return Vector3d(a[0], a[1], a[2]); };
    m.rocker = {r.onAxle != 0, v(r.pivot), v(r.axis), {}};
    Vector3d moved(0, 0, m.radius);  // what is on the axle, in body axes at ride
    for (int i = 0; i < 2; i++) {
      Vector3d near = v(r.rods[i][0]), far = v(r.rods[i][1]);
      double l = (near + (r.onAxle ? moved : -moved) - far).norm();
      m.rocker.rod[i] = {near - m.rocker.pivot, far, l, 1 / l};
    }
    if (m.rockers > 1 || m.n != 3) { std::fprintf(stderr, "one rocker and three links are expected\n"); return 1; }
  }
  auto t = path();
  std::vector<Pose> four(pathLength);
  std::vector<Pose6> six(pathLength);
  if (m.rockers) {
    double ns5 = measure([&] { follow4(m, t, four, exact5); });
    const Pose& p = four[pathLength / 8];
    std::printf("eigen_five_ns %.1f\nat %.17g %.17g x %.17g y %.17g\n", ns5, p.left, p.right, p.c[0], p.c[1]);
    return 0;
  }
  bool over = m.n > 4;
  double ns4 = measure([&] { if (over) follow4(m, t, four, energy4); else follow4(m, t, four, exact4); });
  double ns6 = measure([&] { if (over) follow6(m, t, six, energy6); else follow6(m, t, six, exact6); });
  double worst = 0;
  for (int i = 0; i < pathLength; i++) worst = std::max(worst, (four[i].c - six[i].c).norm() + 1000 * (four[i].r - six[i].r).norm());
  const Pose& p = four[pathLength / 8];
  std::printf("eigen_four_ns %.1f\neigen_six_ns %.1f\nfour_against_six_mm %.2g\n", ns4, ns6, worst);
  std::printf("at %.17g %.17g x %.17g y %.17g\n", p.left, p.right, p.c[0], p.c[1]);
}
