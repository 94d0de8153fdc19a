/// Every order of the blocks, every direction and every way round of every cell, against the search.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numeric>
#include <set>
#include <tuple>

#include "layouts.hpp"

using namespace cellstow::wiring;
using namespace cellstow::wiring::testing;

namespace {

struct P { double u, v; };

/// Jumpers, posts passed, kinds, total length in whole um: what the search puts first.
using Rank = std::tuple<int, int, std::size_t, long long>;

/// Upright cells only; own geometry.
class Brute {
 public:
  Brute(const std::vector<BlockSpec>& blocks, int parallel) : blocks_(blocks), parallel_(parallel) {}

  Rank best() {
    std::vector<int> order(blocks_.size());
    std::iota(order.begin(), order.end(), 0);
    do {
      for (unsigned directions = 0; directions < 1u << blocks_.size(); ++directions) try_order(order, directions);
    } while (std::next_permutation(order.begin(), order.end()));
    return best_;
  }

 private:
  struct C { P middle; P half; bool along_u; int block; };

  C cell_at(int block, int i) const {
    const BlockSpec& spec = blocks_[static_cast<std::size_t>(block)];
    if (spec.runs == Run::u) return {{spec.u + 70.0 * i + 35, spec.v + 90}, {35, 90}, true, block};
    return {{spec.u + 90, spec.v + 70.0 * i + 35}, {90, 35}, false, block};
  }

  P post(const C& cell, bool turned, bool plus) const {
    const double by = plus != turned ? 60 : -60;
    return cell.along_u ? P{cell.middle.u, cell.middle.v + by} : P{cell.middle.u + by, cell.middle.v};
  }

  bool over_other(const std::vector<C>& cells, std::size_t a, std::size_t b, P from, P to) const {
    for (std::size_t i = 0; i < cells.size(); ++i) {
      if (i == a || i == b) continue;
      for (int step = 1; step < 2000; ++step) {
        const double s = step / 2000.0;
        const double u = from.u + s * (to.u - from.u), v = from.v + s * (to.v - from.v);
        if (std::abs(u - cells[i].middle.u) < cells[i].half.u - 1e-6 && std::abs(v - cells[i].middle.v) < cells[i].half.v - 1e-6) return true;
      }
    }
    return false;
  }

  void try_order(const std::vector<int>& order, unsigned directions) {
    std::vector<C> cells;
    for (const int block : order) {
      const int n = blocks_[static_cast<std::size_t>(block)].cells;
      for (int i = 0; i < n; ++i) cells.push_back(cell_at(block, directions >> block & 1 ? n - 1 - i : i));
    }
    for (unsigned turned = 0; turned < 1u << cells.size(); ++turned) try_turned(cells, turned);
  }

  static double off_line(P from, P to, P p) {
    double least = 1e9;
    for (int step = 0; step <= 4000; ++step) {
      const double s = step / 4000.0;
      least = std::min(least, std::hypot(from.u + s * (to.u - from.u) - p.u, from.v + s * (to.v - from.v) - p.v));
    }
    return least;
  }

  /// A post mirrored about its cell's middle is the cell's other post.
  static P other(const C& cell, P p) { return {2 * cell.middle.u - p.u, 2 * cell.middle.v - p.v}; }

  void join(const std::vector<C>& cells, std::size_t i, P from, P to, Rank& rank, std::set<long>& kinds) {
    const double mm = std::hypot(from.u - to.u, from.v - to.v);
    std::get<3>(rank) += std::llround(mm * 1000);
    if (cells[i - 1].block == cells[i].block || (mm <= 250 && !over_other(cells, i - 1, i, from, to))) {
      kinds.insert(std::lround(mm));
      std::get<1>(rank) += (off_line(from, to, other(cells[i - 1], from)) < 25) + (off_line(from, to, other(cells[i], to)) < 25);
    } else {
      ++std::get<0>(rank);
    }
  }

  void try_turned(const std::vector<C>& cells, unsigned turned) {
    Rank rank{0, 0, 0, 0};
    std::set<long> kinds;
    for (std::size_t i = 1; i < cells.size(); ++i) {
      const bool a = turned >> (i - 1) & 1, b = turned >> i & 1;
      const bool same_group = i % static_cast<std::size_t>(parallel_) != 0;
      // within a block links lie straight along it: like poles side by side in a group, unlike ones between groups
      if (cells[i - 1].block == cells[i].block && (a == b) != same_group) return;
      if (same_group) {
        join(cells, i, post(cells[i - 1], a, true), post(cells[i], b, true), rank, kinds);
        join(cells, i, post(cells[i - 1], a, false), post(cells[i], b, false), rank, kinds);
      } else {
        join(cells, i, post(cells[i - 1], a, true), post(cells[i], b, false), rank, kinds);
      }
      if (std::get<0>(rank) > std::get<0>(best_)) return;
    }
    std::get<2>(rank) = kinds.size();
    best_ = std::min(best_, rank);
  }

  const std::vector<BlockSpec>& blocks_;
  int parallel_;
  Rank best_{1'000'000, 0, 0, 0};
};

Rank rank_of(const Wiring& wiring) {
  Rank rank{wiring.jumpers, 0, wiring.kinds.size(), 0};
  for (const Connection& link : wiring.links) {
    std::get<3>(rank) += std::llround(link.centre_mm * 1000);
    std::get<1>(rank) += static_cast<int>(link.passes_post.size());
  }
  return rank;
}

}  // namespace

TEST_CASE("brute force: up to three blocks and seven cells, one at a time") {
  std::mt19937_64 random(20);
  int with_jumper = 0, with_turn = 0;
  for (int round = 0; round < 60; ++round) {
    const std::vector<BlockSpec> blocks = scattered(random, whole(random, 1, 3), 3);
    int cells = 0;
    for (const BlockSpec& block : blocks) cells += block.cells;
    if (cells > 7) continue;
    CAPTURE(round);
    const Wiring wiring = wire(a_cell(), {layout_of(a_cell(), blocks)});
    REQUIRE(wiring.fewest_proven);
    CHECK(rank_of(wiring) == Brute(blocks, 1).best());
    with_jumper += wiring.jumpers > 0;
    with_turn += wiring.kinds.size() > 1;
  }
  CHECK(with_jumper > 5);
  CHECK(with_turn > 5);
}

TEST_CASE("brute force: two cells in parallel, groups cut by the ends of blocks too") {
  std::mt19937_64 random(21);
  for (int round = 0; round < 30; ++round) {
    std::vector<BlockSpec> blocks = scattered(random, whole(random, 1, 3), 3);
    int cells = 0;
    for (const BlockSpec& block : blocks) cells += block.cells;
    if (cells > 6 || cells % 2 != 0) continue;
    CAPTURE(round);
    CHECK(rank_of(wire(a_cell(), {layout_of(a_cell(), blocks)}, 2)) == Brute(blocks, 2).best());
  }
}
