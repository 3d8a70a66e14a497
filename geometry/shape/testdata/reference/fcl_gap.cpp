// Answers batches of placed pairs on standard input by the Flexible Collision Library, on standard output. All is 64-bit floats: first how many follow that tell the unions: their count and of
// each its pieces (as fcl.h reads them, bars as cores); then, until a count of 0, the count of pairs of a batch and of each twice which union and its place (shift, columns of a rotation).
// Of each pair comes the least distance of their cores (of balls, with their radius), 0 where they meet, no number (NaN) where one of the library's own assertions failed. (How deep cores overlap is not asked: of round ones the library's search does not end, of flat ones some make its own
// assertions fail or go on for ever.)
#include <csetjmp>
#include <cstdio>
#include <cstdlib>
#include <thread>

#include "../../../../testdata/reference/fcl.h"

// The library is built with its assertions, and some pairs make them fail: then the pair is given up, not the program. (It leaks what it had got hold of.)
static thread_local std::jmp_buf giveUp;
extern "C" [[noreturn]] void __assert_fail(const char*, const char*, unsigned, const char*) noexcept { std::longjmp(giveUp, 1); }

static double measured(const fcl::CollisionObjectd& a, const fcl::CollisionObjectd& b) {
  if (setjmp(giveUp)) return std::nan("");
  return std::max(0.0, gap(a, 0, b, 0, 1e-9, false));
}

static void take(double* to, size_t n) {
  if (std::fread(to, sizeof(double), n, stdin) != n) std::exit(1);
}

static double one() {
  double d;
  take(&d, 1);
  return d;
}

int main() {
  std::vector<double> data(static_cast<size_t>(one()));
  take(data.data(), data.size());
  Reader in{data.data(), data.data() + data.size()};
  std::vector<std::vector<Shape>> all(size_t(in.next()));
  for (auto& u : all)
    for (size_t n = size_t(in.next()); n > 0; n--) u.push_back(shape(in, true));

  const size_t each = 2 * (1 + 12);
  while (size_t count = size_t(one())) {
    data.resize(count * each);
    take(data.data(), data.size());
    std::vector<double> gaps(count);
    auto work = [&](size_t from, size_t to) {
      for (size_t i = from; i < to; i++) {
        Reader r{&data[i * each], &data[i * each] + each};
        const auto& a = all[size_t(r.next())];
        T ta = r.place();
        const auto& b = all[size_t(r.next())];
        T tb = r.place();
        double least = INFINITY;
        for (const auto& p : a) {
          fcl::CollisionObjectd pa(p.is, ta * p.own);
          for (const auto& q : b) {
            fcl::CollisionObjectd pb(q.is, tb * q.own);
            double d = measured(pa, pb);
            if (std::isnan(d) || d < least) least = d;  // once no number, never one again
          }
        }
        gaps[i] = least;
      }
    };
    std::thread other(work, 0, count / 2);
    work(count / 2, count);
    other.join();
    std::fwrite(gaps.data(), sizeof(double), count, stdout);
    std::fflush(stdout);
  }
}
