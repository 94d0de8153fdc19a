/// Blocks in both directions, tiers, several boxes: against exhaustive search, closed forms and published counts.

#include <doctest/doctest.h>

#include <algorithm>
#include <atomic>
#include <random>

#include "cavities.hpp"
#include "cellstow/packing/pack.hpp"

using namespace cellstow;
using namespace cellstow::test;

namespace {

constexpr Um unit = 10'000;

survey::Rules bare_mixed() {
  survey::Rules rules = bare_rules();
  rules.arrangement = survey::Arrangement::mixed;
  return rules;
}

/// Every way of putting a x b rectangles on a board of unit squares: lowest free square is covered one way, the other, or left.
class Board {
 public:
  Board(std::vector<std::string> rows, int a, int b) : rows_(std::move(rows)), a_(a), b_(b) {
    for (const std::string& row : rows_) free_ += static_cast<int>(std::count(row.begin(), row.end(), '.'));
  }
  int most() {
    search(0, 0, free_);
    return best_;
  }

 private:
  bool put(int x, int y, int w, int h, char from, char to) {
    if (y + h > static_cast<int>(rows_.size()) || x + w > static_cast<int>(rows_[0].size())) return false;
    for (int j = y; j < y + h; ++j) {
      for (int i = x; i < x + w; ++i) {
        if (rows_[j][i] != from) return false;
      }
    }
    for (int j = y; j < y + h; ++j) std::fill_n(rows_[j].begin() + x, w, to);
    return true;
  }

  void search(int at, int placed, int left) {
    best_ = std::max(best_, placed);
    if (placed + left / (a_ * b_) <= best_) return;
    const int columns = static_cast<int>(rows_[0].size()), squares = columns * static_cast<int>(rows_.size());
    while (at < squares && rows_[at / columns][at % columns] != '.') ++at;
    if (at == squares) return;
    const int x = at % columns, y = at / columns;
    for (const auto& [w, h] : {std::pair{a_, b_}, std::pair{b_, a_}}) {
      if (!put(x, y, w, h, '.', 'o')) continue;
      search(at + 1, placed + 1, left - a_ * b_);
      put(x, y, w, h, 'o', '.');
    }
    search(at + 1, placed, left - 1);
  }

  std::vector<std::string> rows_;
  int a_, b_, free_ = 0, best_ = 0;
};

int pick(std::mt19937_64& random, int low, int high) {
  return low + static_cast<int>(random() % static_cast<std::uint64_t>(high - low + 1));
}

survey::Cell shop_cell() { return cell(72'000, 174'000, 207'000); }

}  // namespace

// Right-angled L-shaped boards on a unit grid; normal positions are whole units there, so the board's search is exhaustive.
TEST_CASE("brute force: blocks both ways round in L-shaped cavities are as many as there can be, proven") {
  std::mt19937_64 random(11);
  constexpr int trials = 80;
  for (int trial = 0; trial < trials; ++trial) {
    CAPTURE(trial);
    const int columns = pick(random, 6, 10), rows = pick(random, 5, 8);
    const int x = pick(random, 2, columns - 1), y = pick(random, 2, rows - 1);
    std::vector<std::string> board(static_cast<std::size_t>(rows), std::string(static_cast<std::size_t>(columns), '.'));
    for (int j = y; j < rows; ++j) std::fill(board[j].begin() + x, board[j].end(), '#');
    const int a = pick(random, 3, 4), b = 2;
    const int most = Board(board, a, b).most();
    const Corners outline{{0, 0}, {columns * unit, 0}, {columns * unit, y * unit}, {x * unit, y * unit},
                          {x * unit, rows * unit}, {0, rows * unit}};
    const auto packing = packing::pack_cavity(shaft(outline, unit), cell(b * unit, a * unit, unit), bare_mixed());
    CHECK(packing.cells == most);
    CHECK(packing.proven);
  }
}

TEST_CASE("mixed: the same answer on every run, and never fewer than rows") {
  survey::Rules rules;
  rules.arrangement = survey::Arrangement::mixed;
  const auto bay = shaft({{0, 0}, {905'000, 30'000}, {880'000, 430'000}, {650'000, 700'000}, {20'000, 640'000}}, 290'000);
  const auto once = packing::pack_cavity(bay, shop_cell(), rules), again = packing::pack_cavity(bay, shop_cell(), rules);
  CHECK(once.cells == again.cells);
  REQUIRE(once.boxes.size() == 1);
  CHECK(once.boxes[0].outline == again.boxes[0].outline);
  rules.arrangement = survey::Arrangement::rows;
  CHECK(packing::pack_cavity(bay, shop_cell(), rules).cells <= once.cells);
}

// Heights as legal-layout.md adds them up: floor 3, liner 3, two tiers of 207 with 20 between, headroom 15, lid 2; clearances 10 below and above.
TEST_CASE("tiers: two fit in exactly the height they need, and one a micrometre below it") {
  survey::Rules rules;
  rules.arrangement = survey::Arrangement::rows;
  rules.tiers = 3;
  const Um needed = 1'000 * (10 + 3 + 3 + 207 + 20 + 207 + 15 + 2 + 10);
  const Corners plan{{0, 0}, {352'000, 0}, {352'000, 206'000}, {0, 206'000}};
  const auto two = packing::pack_cavity(shaft(plan, needed), shop_cell(), rules);
  CHECK(two.cells == 8);
  CHECK(two.proven);
  CHECK(packing::pack_cavity(shaft(plan, needed - 1), shop_cell(), rules).cells == 4);
}

// Upright 207 below, lying flat 72 above: 207 + 20 + 72 in place of 2 x 207 + 20.
TEST_CASE("tiers: stances may differ from tier to tier") {
  survey::Rules rules;
  rules.arrangement = survey::Arrangement::rows;
  rules.tiers = 2;
  survey::Cell both = shop_cell();
  both.stances = {survey::Stance::upright, survey::Stance::flat};
  const Um needed = 1'000 * (10 + 3 + 3 + 207 + 20 + 72 + 15 + 2 + 10);
  // Flat: a line of cells along their width, 174 + ends 32 = 206 by 207; upright: four in line 320 by 174.
  const Corners plan{{0, 0}, {352'000, 0}, {352'000, 240'000}, {0, 240'000}};
  const auto packing = packing::pack_cavity(shaft(plan, needed), both, rules);
  CHECK(packing.cells == 5);
  REQUIRE(packing.boxes.size() == 1);
  CHECK(packing.boxes[0].blocks.size() == 2);
  CHECK(packing.boxes[0].blocks[0].stance != packing.boxes[0].blocks[1].stance);
}

// A well beside a shelf: a box of one floor height cannot use both.
TEST_CASE("several boxes: each at its own floor height on either side of a cut") {
  survey::Rules rules;
  rules.arrangement = survey::Arrangement::rows;
  auto cavity = shaft({{0, 0}, {800'000, 0}, {800'000, 206'000}, {0, 206'000}}, 600'000);
  cavity.keep_outs.push_back({"shelf", survey::KeepOutKind::fixed, Length{},
                              survey::BoxShape{{um(400'000), um(0), um(0)}, {um(800'000), um(206'000), um(300'000)}}});
  cavity.keep_outs.push_back({"beam", survey::KeepOutKind::fixed, Length{},
                              survey::BoxShape{{um(0), um(0), um(300'000)}, {um(400'000), um(206'000), um(600'000)}}});
  CHECK(packing::pack_cavity(cavity, shop_cell(), rules).cells == 4);
  rules.boxes_per_cavity = 2;
  const auto two = packing::pack_cavity(cavity, shop_cell(), rules);
  CHECK(two.cells == 8);
  CHECK(two.proven);
  REQUIRE(two.boxes.size() == 2);
  CHECK(two.boxes[0].z_bottom != two.boxes[1].z_bottom);
}

TEST_CASE("search: tells the best so far and what is not ruled out, ends when asked to") {
  survey::Rules rules;
  rules.arrangement = survey::Arrangement::mixed;
  const auto bay = shaft({{0, 0}, {1'000'000, 0}, {1'000'000, 800'000}, {0, 800'000}}, 290'000);
  packing::PackOptions options;
  std::vector<packing::PackProgress> told;
  options.watch = [&](const packing::PackProgress& progress) { told.push_back(progress); };
  const auto full = packing::pack_cavity(bay, shop_cell(), rules, options);
  REQUIRE(told.size() >= 2);
  for (std::size_t i = 1; i < told.size(); ++i) CHECK(told[i].cells >= told[i - 1].cells);
  CHECK(told.back().cells == full.cells);
  CHECK(told.back().bound.value_or(0) >= full.cells);
  const std::atomic<bool> stop{true};
  options.stop = &stop;
  const auto cut_short = packing::pack_cavity(bay, shop_cell(), rules, options);
  CHECK(cut_short.cells <= full.cells);
  CHECK(cut_short.bound >= full.cells);
  CHECK_FALSE(cut_short.notes.empty());
}
