/// Random bare rectangles of 60 to 100 cells, both ways round: how many are proven, and how long they take.
///
///   cellstow_random_pallets [how many]
///
/// Sides up to 360, the rectangle's at most 1 : 2, the cell's at most 1 : 4.

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cstdlib>
#include <random>

#include "cellstow/packing/pack.hpp"
#include "packing/cavities.hpp"

using namespace cellstow;

int main(int argc, char** argv) {
  const int wanted = argc > 1 ? std::atoi(argv[1]) : 1'000;
  std::mt19937_64 random(2024);
  const auto draw = [&](int low, int high) { return low + static_cast<int>(random() % static_cast<std::uint64_t>(high - low + 1)); };
  survey::Rules rules = test::bare_rules();
  rules.arrangement = survey::Arrangement::mixed;
  constexpr core::Um mm = 1'000;
  int tried = 0, open = 0, cells = 0, bounds = 0;
  double all_s = 0, worst_s = 0;
  while (tried < wanted) {
    const int length = draw(20, 360), width = draw((length + 1) / 2, length), l = draw(3, 60), w = draw((l + 3) / 4, l - 1);
    const int by_area = length * width / std::max(1, l * w);
    if (w < 2 || l % w == 0 || by_area < 60 || by_area > 100) continue;
    ++tried;
    const auto cavity = test::shaft({{0, 0}, {length * mm, 0}, {length * mm, width * mm}, {0, width * mm}}, 10 * mm);
    const auto began = std::chrono::steady_clock::now();
    const packing::CavityPacking packing = packing::pack_cavity(cavity, test::cell(w * mm, l * mm, 10 * mm), rules);
    const double s = std::chrono::duration<double>(std::chrono::steady_clock::now() - began).count();
    all_s += s;
    worst_s = std::max(worst_s, s);
    cells += packing.cells;
    bounds += packing.bound;
    if (!packing.proven) {
      ++open;
      fmt::print("{} x {}, cell {} x {}: {} of at most {}, {:.1f} s\n", length, width, l, w, packing.cells, packing.bound, s);
    }
  }
  fmt::print("{} of {} proven, {} cells of at most {}; {:.3f} s on average, {:.1f} s at worst\n", tried - open, tried, cells, bounds, all_s / tried, worst_s);
}
