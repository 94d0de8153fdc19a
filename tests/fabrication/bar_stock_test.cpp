#include <doctest/doctest.h>

#include <algorithm>
#include <functional>
#include <random>

#include "cellstow/fabrication/bar_stock.hpp"

namespace {

using namespace cellstow;
using core::Length;
using fabrication::BarPiece;

std::vector<BarPiece> pieces_of(const std::vector<int>& lengths_mm) {
  std::vector<BarPiece> pieces;
  for (std::size_t i = 0; i < lengths_mm.size(); ++i) pieces.push_back({"P" + std::to_string(i), Length::from_mm(lengths_mm[i]), 1});
  return pieces;
}

/// Every way of sharing pieces among bars.
int fewest_by_trying_all(std::vector<int> lengths, int stock, int kerf) {
  std::sort(lengths.rbegin(), lengths.rend());
  int best = static_cast<int>(lengths.size());
  std::vector<int> left;
  const std::function<void(std::size_t)> place = [&](std::size_t at) {
    if (static_cast<int>(left.size()) >= best) return;
    if (at == lengths.size()) {
      best = static_cast<int>(left.size());
      return;
    }
    for (std::size_t bar = 0; bar < left.size(); ++bar) {
      if (left[bar] < lengths[at] + kerf) continue;
      left[bar] -= lengths[at] + kerf;
      place(at + 1);
      left[bar] += lengths[at] + kerf;
    }
    left.push_back(stock - lengths[at]);
    place(at + 1);
    left.pop_back();
  };
  place(0);
  return best;
}

void check_plan(const fabrication::BarPlan& plan, const std::vector<BarPiece>& pieces, Length stock, Length kerf) {
  std::size_t placed = 0, asked = 0;
  for (const BarPiece& piece : pieces) asked += static_cast<std::size_t>(piece.quantity);
  for (const auto& bar : plan.bars) {
    core::Um used = kerf.um() * static_cast<core::Um>(bar.lengths.size() - 1);
    for (const Length length : bar.lengths) used += length.um();
    CHECK(used <= stock.um());
    // What is left, with the cut that parts it off where there is any.
    CHECK(bar.drop.um() == std::max<core::Um>(0, stock.um() - used - kerf.um()));
    placed += bar.marks.size();
  }
  CHECK(placed == asked);
}

}  // namespace

TEST_CASE("bars: brute force: as few as all ways of sharing show") {
  std::mt19937_64 random(9);
  const auto draw = [&](int low, int high) { return low + static_cast<int>(random() % static_cast<std::uint64_t>(high - low + 1)); };
  for (int round = 0; round < 150; ++round) {
    std::vector<int> lengths;
    for (int k = draw(1, 9); k > 0; --k) lengths.push_back(draw(120, 900));
    const int kerf = draw(0, 4);
    const auto pieces = pieces_of(lengths);
    const auto plan = fabrication::cut_bars(pieces, Length::from_mm(1'000), Length::from_mm(kerf));
    CAPTURE(round);
    CHECK(plan.proven());
    CHECK(static_cast<int>(plan.bars.size()) == fewest_by_trying_all(lengths, 1'000, kerf));
    check_plan(plan, pieces, Length::from_mm(1'000), Length::from_mm(kerf));
  }
}

// E. Falkenauer, J. Heuristics 2 (1996) 5-30, class of triplets: three pieces fill each bar to the last, so the fewest is known by
// construction, and longest-first misses it.
TEST_CASE("bars: triplets that fill every bar to the last") {
  std::mt19937_64 random(21);
  const auto draw = [&](int low, int high) { return low + static_cast<int>(random() % static_cast<std::uint64_t>(high - low + 1)); };
  for (int round = 0; round < 20; ++round) {
    std::vector<int> lengths;
    constexpr int bars = 8, stock = 1'000, kerf = 3;
    for (int bar = 0; bar < bars; ++bar) {
      const int a = draw(380, 490), b = draw(251, (stock - a) / 2 - 1);
      lengths.insert(lengths.end(), {a, b, stock - 2 * kerf - a - b});
    }
    const auto pieces = pieces_of(lengths);
    const auto plan = fabrication::cut_bars(pieces, Length::from_mm(stock), Length::from_mm(kerf));
    CHECK(plan.bars.size() == bars);
    CHECK(plan.proven());
    check_plan(plan, pieces, Length::from_mm(stock), Length::from_mm(kerf));
  }
}

TEST_CASE("bars: a kerf decides, a piece too long is told") {
  const auto pieces = pieces_of({500, 500});
  CHECK(fabrication::cut_bars(pieces, Length::from_mm(1'003), Length::from_mm(3)).bars.size() == 1);
  CHECK(fabrication::cut_bars(pieces, Length::from_mm(1'002.999), Length::from_mm(3)).bars.size() == 2);
  const auto plan = fabrication::cut_bars(pieces_of({500, 1'200}), Length::from_mm(1'000), Length::from_mm(3));
  REQUIRE(plan.too_long.size() == 1);
  CHECK(plan.too_long[0].mark == "P1");
  CHECK(plan.bars.size() == 1);
}
