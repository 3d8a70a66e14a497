// The same positions by Simbody's Assembler: a body on sliders and pins (heave and articulation locked where they are wanted) held by rods, and
// Watt's rockers as bodies of their own, each on a pin, with two rods. Independent code for a mechanism of rods; for exactly located layouts
// only. Rates are not asked of it.
//
// usage: assemble ROWS          prints the time a position, ns, and the largest rod error, mm
//        assemble ROWS poses    prints the positions: left, right, x, y (mm), psi, theta (rad), then each rocker's turn (rad)
//
// After the rows there may be a number of rockers and for each: 1 on the axle or 0 on the frame, pivot, axis, and for both rods the end at the
// rocker and the far end. What is on the axle is given from the axle's centre, all at ride height.
#include <Simbody.h>

#include "common.h"

using namespace SimTK;

static Vec3 metres(const double* p) { return Vec3(p[0], p[1], p[2]) / 1000; }

int main(int argc, char** argv) {
  if (argc < 2) return 1;
  JobIn in = readJob(argv[1]);
  const std::vector<RockerIn>& rockers = in.rockers;
  if (in.rows.size() + rockers.size() != 4) return 0;
  MultibodySystem system;
  SimbodyMatterSubsystem matter(system);
  Body::Rigid body(MassProperties(1, Vec3(0), Inertia(1)));
  // R = Rz(psi) Rx(alpha) Ry(theta): a pin turns about its frame's Z, so each frame puts Z along the wanted axis.
  Rotation alongX(Pi / 2, YAxis), alongY(-Pi / 2, XAxis);
  MobilizedBody::Translation centre(matter.Ground(), Transform(Vec3(0, 0, in.radius / 1000)), body, Transform());
  MobilizedBody::Pin psi(centre, Transform(), body, Transform());
  MobilizedBody::Pin alpha(psi, Transform(alongX), body, Transform(alongX));
  MobilizedBody::Pin theta(alpha, Transform(alongY), body, Transform(alongY));
  // Lengths in m: the Assembler's tolerances are made for numbers near one.
  for (auto& r : in.rows)
    Constraint::Rod(matter.Ground(), metres(r.f), theta, metres(r.p), r.l / 1000);
  std::vector<MobilizedBody::Pin> turns;
  for (auto& r : rockers) {
    Rotation alongAxis(UnitVec3(metres(r.axis)), ZAxis);
    MobilizedBody& parent = r.onAxle ? static_cast<MobilizedBody&>(theta) : matter.updGround();
    MobilizedBody& other = r.onAxle ? matter.updGround() : static_cast<MobilizedBody&>(theta);
    MobilizedBody::Pin pin(parent, Transform(alongAxis, metres(r.pivot)), body, Transform(alongAxis));
    // On the axle the pivot is given from its centre, on the frame from the ground: the other body's end is moved into one frame for the length.
    Vec3 shift = Vec3(0, 0, in.radius / 1000) * (r.onAxle ? -1 : 1);
    for (auto& rod : r.rods) {
      Vec3 near = metres(rod[0]), far = metres(rod[1]);
      Constraint::Rod(pin, near - metres(r.pivot), other, far, (far + shift - near).norm());
    }
    turns.push_back(pin);
  }
  State state = system.realizeTopology();
  system.realizeModel(state);
  Assembler ik(system);
  ik.lockQ(centre, MobilizerQIndex(2));
  ik.lockMobilizer(alpha);
  ik.setErrorTolerance(1e-12);  // m: the 1e-9 mm asked of the Go code
  ik.setAccuracy(1e-13);
  auto t = path();
  double worst = 0;
  const bool print = argc > 2;
  auto run = [&] {
    for (auto& w : t) {
      centre.setOneQ(state, 2, (w.left + w.right) / 2000);
      alpha.setAngle(state, std::asin((w.left - w.right) / in.track));
      ik.initialize(state);
      ik.assemble(state);
      worst = std::max(worst, ik.calcCurrentErrorNorm() * 1000);
      if (print) {
        std::printf("%.17g %.17g %.17g %.17g %.17g %.17g", w.left, w.right, centre.getOneQ(state, 0) * 1000, centre.getOneQ(state, 1) * 1000,
                    psi.getAngle(state), theta.getAngle(state));
        for (auto& t : turns) std::printf(" %.17g", t.getAngle(state));
        std::printf("\n");
      }
    }
  };
  if (print) {
    run();
    return 0;
  }
  double ns = measure(run, 3);
  std::printf("simbody %.0f error %.1g mm\n", ns, worst);
}
