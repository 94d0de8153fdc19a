/// Counts and times in right-angled cavities beside CBC, a general-purpose solver of 0-1 programmes.
///
///   cellstow_beside_cbc [seconds allowed per programme]
///
/// Prints a table; exits with 1 when a proved count contradicts ours.

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cstdlib>
#include <string>

#include "cbc_model.hpp"
#include "cellstow/packing/pack.hpp"
#include "packing/cavities.hpp"

using namespace cellstow;

namespace {

struct Case { std::string name; bench::Bay bay; int a, b; };

const std::vector<Case> cases = {
    {"rectangle 1000 x 800", {{{{0, 0}, {1000, 0}, {1000, 800}, {0, 800}}}}, 174, 72},
    {"L, 6 corners", {{{{0, 0}, {1000, 0}, {1000, 420}, {610, 420}, {610, 800}, {0, 800}}}}, 174, 72},
    {"T, 8 corners",
     {{{{0, 0}, {1000, 0}, {1000, 330}, {700, 330}, {700, 800}, {290, 800}, {290, 330}, {0, 330}}}}, 174, 72},
    {"U, 8 corners",
     {{{{0, 0}, {1000, 0}, {1000, 800}, {640, 800}, {640, 260}, {370, 260}, {370, 800}, {0, 800}}}}, 174, 72},
    {"steps, 10 corners",
     {{{{0, 0}, {1000, 0}, {1000, 200}, {850, 200}, {850, 390}, {640, 390}, {640, 600}, {400, 600}, {400, 800}, {0, 800}}}},
     174, 72},
    {"rectangle with a hole",
     {{{{0, 0}, {1000, 0}, {1000, 800}, {0, 800}}, {{430, 330}, {560, 330}, {560, 470}, {430, 470}}}}, 174, 72},
    {"L with a hole, cell 130 x 36",
     {{{{0, 0}, {700, 0}, {700, 300}, {450, 300}, {450, 520}, {0, 520}}, {{200, 210}, {260, 210}, {260, 280}, {200, 280}}}},
     130, 36},
};

struct Ours { int count, bound; double milliseconds; };

/// Median of five runs.
Ours ours(const Case& c, survey::Arrangement arrangement) {
  test::Corners outline;
  std::vector<test::Corners> holes;
  for (std::size_t i = 0; i < c.bay.loops.size(); ++i) {
    test::Corners& loop = i == 0 ? outline : holes.emplace_back();
    for (const auto& [x, y] : c.bay.loops[i]) loop.emplace_back(x * 1'000, y * 1'000);
    if (i > 0) std::reverse(loop.begin(), loop.end());
  }
  const auto cavity = test::shaft(outline, 100'000, holes);
  const auto cell = test::cell(c.b * 1'000, c.a * 1'000, 100'000);
  survey::Rules rules = test::bare_rules();
  rules.arrangement = arrangement;
  std::vector<double> times;
  packing::CavityPacking packing;
  for (int run = 0; run < 5; ++run) {
    const auto began = std::chrono::steady_clock::now();
    packing = packing::pack_cavity(cavity, cell, rules);
    times.push_back(std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - began).count());
  }
  std::nth_element(times.begin(), times.begin() + 2, times.end());
  return {packing.cells, packing.bound, times[2]};
}

std::string told(const Ours& ours) {
  const std::string sure = ours.count == ours.bound ? "proven" : fmt::format("of at most {}", ours.bound);
  return fmt::format("{} {}, {:.2f} ms", ours.count, sure, ours.milliseconds);
}

std::string told(const bench::CbcAnswer& answer) {
  if (answer.crashed) return fmt::format("CBC fell over after {:.0f} s", answer.seconds);
  if (answer.count == 0 && !answer.finished) {
    return answer.bound > 0 ? fmt::format("none found, bound {}, {:.0f} s", answer.bound, answer.seconds)
                            : fmt::format("no answer in {:.0f} s", answer.seconds);
  }
  return answer.finished ? fmt::format("{} proved, {:.2f} s", answer.count, answer.seconds)
                         : fmt::format("{} found, bound {}, {:.0f} s", answer.count, answer.bound, answer.seconds);
}

}  // namespace

int main(int argc, char** argv) {
  const int seconds = argc > 1 ? std::atoi(argv[1]) : 60;
  bool contradicted = false;
  fmt::print("| cavity | cell, mm | rows, ours | rows, CBC | any arrangement, ours | any arrangement, CBC |\n");
  fmt::print("|---|---|---|---|---|---|\n");
  for (const Case& c : cases) {
    const Ours mine = ours(c, survey::Arrangement::rows), both_ways = ours(c, survey::Arrangement::mixed);
    const auto rows = bench::most_in_rows(c.bay, c.a, c.b, seconds);
    const auto mixed = bench::most_mixed(c.bay, c.a, c.b, seconds);
    fmt::print("| {} | {} x {} | {} | {} | {} | {} |\n", c.name, c.a, c.b, told(mine), told(rows), told(both_ways), told(mixed));
    std::fflush(stdout);
    contradicted |= rows.finished && rows.count != mine.count;
    contradicted |= mixed.finished && (mixed.count < both_ways.count || mixed.count > both_ways.bound);
    contradicted |= mixed.bound > 0 && mixed.bound < both_ways.count;
  }
  return contradicted ? 1 : 0;
}
