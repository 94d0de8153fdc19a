/// Counts and times in bare polygons beside libnest2d, a general-purpose nester without a bound.
///
///   cellstow_beside_nester
///
/// Prints a table; exits with 1 when the nester places more than we do.

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <random>
#include <string>

#include "cellstow/packing/pack.hpp"
#include "packing/cavities.hpp"

#include "nester.hpp"

using namespace cellstow;

namespace {

struct Case { std::string name; test::Corners outline; core::Um a, b; };

test::Corners in_mm(test::Corners corners) {
  for (auto& [x, y] : corners) x *= 1'000, y *= 1'000;
  return corners;
}

/// Star-shaped, about 900 x 700 mm.
test::Corners random_outline(std::uint64_t seed, int corners) {
  std::mt19937_64 random(seed);
  test::Corners outline;
  for (int k = 0; k < corners; ++k) {
    const double angle = 6.283185307179586 * (k + static_cast<double>(random() % 600) / 1000) / corners;
    const double reach = 0.7 + 0.3 * static_cast<double>(random() % 1000) / 1000;
    outline.emplace_back(std::llround(450'000 * reach * std::cos(angle)), std::llround(350'000 * reach * std::sin(angle)));
  }
  return outline;
}

std::vector<Case> all_cases() {
  std::vector<Case> cases{
      {"rectangle 1000 x 800", in_mm({{0, 0}, {1000, 0}, {1000, 800}, {0, 800}}), 174'000, 72'000},
      {"L, 6 corners", in_mm({{0, 0}, {1000, 0}, {1000, 420}, {610, 420}, {610, 800}, {0, 800}}), 174'000, 72'000},
      {"trapezoid", in_mm({{0, 0}, {1000, 0}, {840, 620}, {120, 620}}), 174'000, 72'000},
      {"wheel arch, 9 corners",
       in_mm({{0, 0}, {900, 0}, {900, 250}, {760, 280}, {680, 360}, {660, 470}, {700, 640}, {300, 700}, {0, 600}}), 174'000, 72'000}};
  for (std::uint64_t seed = 1; seed <= 6; ++seed) {
    const int corners = 6 + 2 * static_cast<int>(seed);
    cases.push_back({fmt::format("random outline, {} corners", corners), random_outline(seed, corners), 174'000, 72'000});
  }
  return cases;
}

double seconds_since(std::chrono::steady_clock::time_point start) {
  return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

}  // namespace

int main() {
  bool beaten = false;
  fmt::print("| cavity | ours: cells | no more than | ours: time | libnest2d: cells | time |\n|---|---:|---:|---:|---:|---:|\n");
  for (const Case& c : all_cases()) {
    survey::Rules rules = test::bare_rules();
    rules.arrangement = survey::Arrangement::mixed;
    const auto start = std::chrono::steady_clock::now();
    const auto packing = packing::pack_cavity(test::shaft(c.outline, 100'000), test::cell(c.b, c.a, 100'000), rules);
    const double ours = seconds_since(start);
    const bench::NesterAnswer theirs = bench::nest(c.outline, c.a, c.b, packing.bound + 2);
    beaten |= theirs.count > packing.cells;
    fmt::print("| {} | {} | {} | {:.3f} s | {} | {:.2f} s |\n", c.name, packing.cells, packing.bound, ours, theirs.count,
               theirs.seconds);
  }
  return beaten ? 1 : 0;
}
