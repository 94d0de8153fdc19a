/// Time to the most cells in bare rectangles, both ways round, each with the proof that there is no more.

#include <benchmark/benchmark.h>

#include "cellstow/packing/pack.hpp"
#include "packing/cavities.hpp"

using namespace cellstow;

namespace {

struct Case { core::Um length, width, l, w; };

constexpr Case cases[] = {{22, 16, 5, 3}, {30, 22, 7, 4}, {49, 28, 8, 3}, {42, 39, 9, 4}, {40, 25, 7, 3}, {52, 33, 9, 4}, {57, 34, 7, 4},
                          {74, 46, 7, 5}, {106, 59, 13, 5}, {63, 44, 8, 5}, {86, 82, 15, 11}, {61, 38, 10, 6}, {53, 51, 9, 7},
                          {153, 100, 24, 7}, {32, 22, 5, 4}, {40, 33, 7, 4}, {53, 26, 7, 4}, {1200, 800, 365, 245}, {1200, 800, 271, 201},
                          {86, 52, 9, 5}, {76, 73, 10, 7}, {100, 64, 17, 10}, {89, 75, 10, 7}};

void pallet(benchmark::State& state) {
  const Case& c = cases[state.range(0)];
  constexpr core::Um mm = 1'000;
  const auto cavity = test::shaft(
      {{0, 0}, {c.length * mm, 0}, {c.length * mm, c.width * mm}, {0, c.width * mm}}, 10 * mm);
  const auto cell = test::cell(c.w * mm, c.l * mm, 10 * mm);
  survey::Rules rules = test::bare_rules();
  rules.arrangement = survey::Arrangement::mixed;
  packing::CavityPacking packing;
  for (auto _ : state) packing = packing::pack_cavity(cavity, cell, rules);
  state.SetLabel(std::to_string(c.length) + " x " + std::to_string(c.width) + ", cell " + std::to_string(c.l) + " x " +
                 std::to_string(c.w) + ": " + std::to_string(packing.cells) +
                 (packing.proven ? " proven" : " of at most " + std::to_string(packing.bound)));
}

}  // namespace

BENCHMARK(pallet)->DenseRange(0, static_cast<int>(std::size(cases)) - 1)->Unit(benchmark::kMillisecond);
BENCHMARK_MAIN();
