/// The answer at a free heading against sweeps of fixed headings, the cavity turned instead of the box.
///
/// One cavity for every kind of outline and arrangement, every 10 degrees, by default. CELLSTOW_HEADING_CASES (cavities of
/// each kind) and CELLSTOW_HEADING_STEP (degrees) ask for more, CELLSTOW_HEADING_FIRST for other cavities;
/// docs/validation.md gives the last long run.

#include <doctest/doctest.h>

#include <algorithm>
#include <chrono>
#include <cstdlib>
#include <string>

#include "area_bound.hpp"
#include "cellstow/packing/pack.hpp"
#include "turning.hpp"

using namespace cellstow;
using namespace cellstow::test;

namespace {

double asked(const char* name, double otherwise) {
  const char* text = std::getenv(name);
  return text != nullptr ? std::strtod(text, nullptr) : otherwise;
}

const survey::Cell& prismatic() {
  static const survey::Cell which = cell(72'000, 174'000, 207'000);
  return which;
}

packing::CavityPacking pack(const Corners& outline, survey::Rules rules, survey::Heading heading) {
  rules.heading = heading;
  return packing::pack_cavity(shaft(outline, 290'000), prismatic(), rules);
}

int area_bound_of(const Corners& outline, const survey::Rules& rules) {
  const survey::Cavity cavity = shaft(outline, 290'000);
  return packing::area_bound(packing::make_setup(cavity, prismatic(), rules, {}));
}

/// The most that any fixed heading of the sweep gives.
int best_of_sweep(const Corners& outline, const survey::Rules& rules, double step) {
  int best = 0;
  for (double degrees = -45; degrees < 45; degrees += step) {
    best = std::max(best, pack(turned(outline, -degrees), rules, survey::Heading::square).cells);
  }
  return best;
}

/// The most along any wall.
int best_along_walls(const Corners& outline, const survey::Rules& rules) {
  int best = 0;
  for (std::size_t k = 0; k < outline.size(); ++k) {
    const auto& [x, y] = outline[k];
    const auto& [to_x, to_y] = outline[(k + 1) % outline.size()];
    const double degrees = std::atan2(static_cast<double>(to_y - y), static_cast<double>(to_x - x)) * 180 / std::numbers::pi;
    best = std::max(best, pack(turned(outline, -degrees), rules, survey::Heading::square).cells);
  }
  return best;
}

struct Tally {
  int cases = 0, square = 0, walls = 0, sweep = 0, free = 0, bound = 0, proven = 0, below_sweep = 0, cells_below = 0, at_most = 0;
  double seconds = 0, most_seconds = 0;
};

std::string name_of(survey::BoxOutline outline) {
  switch (outline) {
    case survey::BoxOutline::loose: return "loose";
    case survey::BoxOutline::rectangle: return "rectangle";
    case survey::BoxOutline::stepped: return "stepped";
    case survey::BoxOutline::any: return "any";
  }
  return "";
}

void compare(const Corners& bay, const survey::Rules& rules, double step, Tally& tally) {
  const auto begin = std::chrono::steady_clock::now();
  const packing::CavityPacking free = pack(bay, rules, survey::Heading::free);
  const double seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count();
  const int square = pack(bay, rules, survey::Heading::square).cells;
  const int walls = best_along_walls(bay, rules), sweep = step >= 90 ? 0 : best_of_sweep(bay, rules, step);
  CHECK(free.cells >= square);
  CHECK(free.bound >= std::max(walls, sweep));
  CHECK(free.bound <= std::max(free.cells, area_bound_of(bay, rules)));
  // Only there is the count at one heading exact; else a micrometre may change what is found.
  if (rules.arrangement == survey::Arrangement::rows && rules.box_outline != survey::BoxOutline::any) CHECK(free.cells >= std::max(walls, sweep));
  ++tally.cases;
  tally.square += square;
  tally.walls += walls;
  tally.sweep += sweep;
  tally.free += free.cells;
  tally.bound += free.bound;
  tally.proven += free.proven;
  tally.below_sweep += free.cells < sweep;
  tally.cells_below += std::max(0, sweep - free.cells);
  tally.at_most = std::max(tally.at_most, sweep - free.cells);
  tally.seconds += seconds;
  tally.most_seconds = std::max(tally.most_seconds, seconds);
  if (std::getenv("CELLSTOW_HEADING_CASES") != nullptr) {
    MESSAGE("  square " << square << " walls " << walls << " sweep " << sweep << " free " << free.cells << " bound " << free.bound
            << " at " << (free.boxes.empty() ? 0.0 : free.boxes[0].heading.degrees()) << " steps " << free.steps << " s " << seconds);
  }
}

}  // namespace

TEST_CASE("heading sweep: never fewer than square, rows never fewer than along any wall or any heading; the bound is never below a fixed heading") {
  const int only = static_cast<int>(asked("CELLSTOW_HEADING_ONLY", -1));   // one kind of outline and arrangement, 0 to 7
  int kind = -1;
  const int cases = static_cast<int>(asked("CELLSTOW_HEADING_CASES", 1));
  const int first = static_cast<int>(asked("CELLSTOW_HEADING_FIRST", 1));
  const double step = asked("CELLSTOW_HEADING_STEP", 10);
  using survey::Arrangement, survey::BoxOutline;
  for (const Arrangement arrangement : {Arrangement::rows, Arrangement::mixed}) {
    for (const BoxOutline outline : {BoxOutline::loose, BoxOutline::rectangle, BoxOutline::stepped, BoxOutline::any}) {
      if (++kind; only >= 0 && kind != only) continue;
      Tally tally;
      for (int seed = first; seed < first + cases; ++seed) {
        CAPTURE(seed);
        CAPTURE(name_of(outline));
        std::mt19937_64 random(static_cast<std::uint64_t>(seed));
        const Corners bay = random_star(random, 5, 8, 300'000, 600'000);
        survey::Rules rules;
        rules.arrangement = arrangement;
        rules.box_outline = outline;
        compare(bay, rules, step, tally);
      }
      MESSAGE(name_of(outline) << std::string(arrangement == Arrangement::rows ? " rows: " : " mixed: ") << tally.cases << " cavities; square " << tally.square
              << ", along walls " << tally.walls << ", sweep " << tally.sweep << ", free " << tally.free << ", bound " << tally.bound
              << ", proven " << tally.proven << "; below the sweep " << tally.below_sweep << " times by " << tally.cells_below
              << " cells, " << tally.at_most << " at most; " << tally.seconds / tally.cases << " s each, " << tally.most_seconds << " at most");
    }
  }
}
