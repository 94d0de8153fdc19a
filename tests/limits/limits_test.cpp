/// What limits a cavity: hand formulas from the rules of a legal layout, and what must hold whatever the answer is.

#include <doctest/doctest.h>

#include <algorithm>
#include <random>

#include "cellstow/limits/limits.hpp"
#include "cellstow/packing/pack.hpp"
#include "packing/cavities.hpp"

using namespace cellstow;
using namespace cellstow::test;
using limits::CavityLimits;
using limits::Limit;

namespace {

constexpr limits::LimitsOptions all_the_work{1'000'000'000, 1, 1'000'000'000, nullptr};

survey::Rules shop_rules() {
  survey::Rules rules;
  rules.arrangement = survey::Arrangement::rows;
  return rules;
}

Corners rectangle(Um length, Um breadth) { return {{0, 0}, {length, 0}, {length, breadth}, {0, breadth}}; }

CavityLimits limits_of(const survey::Cavity& cavity, const survey::Cell& cell, const survey::Rules& rules,
                       const limits::LimitsOptions& options = all_the_work) {
  return limits::what_limits(cavity, cell, rules, packing::pack_cavity(cavity, cell, rules), options);
}

const Limit& find(const CavityLimits& all, const std::string& what, const std::string& how) {
  const auto found = std::find_if(all.limits.begin(), all.limits.end(),
                                  [&](const Limit& l) { return l.what == what && l.how == how; });
  REQUIRE_MESSAGE(found != all.limits.end(), what, ", ", how);
  return *found;
}

/// The change with this name, as what_limits() saw it.
limits::Change change_of(const survey::Cavity& cavity, const survey::Rules& rules, const Limit& limit) {
  std::vector<limits::Change> changes = limits::wall_changes(cavity);
  for (auto& change : limits::rule_changes(cavity, rules)) changes.push_back(change);
  for (auto& change : limits::keep_out_removals(cavity)) changes.push_back(change);
  for (std::size_t k = 0; k < cavity.keep_outs.size(); ++k) {
    for (auto& change : limits::keep_out_changes(cavity, k, rules)) changes.push_back(change);
  }
  const auto found = std::find_if(changes.begin(), changes.end(), [&](const limits::Change& c) {
    return c.what == limit.what && c.where == limit.where && c.how == limit.how;
  });
  REQUIRE_MESSAGE(found != changes.end(), limit.what, ", ", limit.how);
  return *found;
}

int cells_with(const survey::Cavity& cavity, const survey::Cell& cell, const survey::Rules& rules,
               const limits::Change& change, Length by) {
  const limits::Situation changed = change.apply({cavity, rules}, by);
  return packing::pack_cavity(changed.cavity, cell, changed.rules).cells;
}

}  // namespace

TEST_CASE("limits: one block in a bay, by the formula of the block's length") {
  // Length of a block of n (docs/legal-layout.md): n t + (n - 1) g + 2 end plates + 2 strap spaces. In the bay: two
  // clearances, two walls and two liners more.
  survey::Rules rules = shop_rules();
  rules.between_cells = mm(0.5);
  const auto bay_length = [](int n) { return n * 72'000 + (n - 1) * 500 + 2 * (10'000 + 6'000) + 2 * (10'000 + 3'000 + 3'000); };
  const Um short_by = 4'230;
  const survey::Cavity cavity = shaft(rectangle(bay_length(6) - short_by, 206'000), 300'000);
  const CavityLimits found = limits_of(cavity, cell(72'000, 174'000, 207'000), rules);
  CHECK(found.cells == 5);
  CHECK(found.full_row == 5);
  for (const char* wall : {"front wall", "rear wall"}) {
    const Limit& limit = find(found, wall, "further out");
    REQUIRE(limit.more);
    CHECK(limit.more->change == mm(4.3));     // 4.23 rounded up to 0.1
    CHECK(limit.more->cells == 1);
    CHECK(limit.more->least);
  }
  // What counts at both ends need give half; what counts five times for six cells a fifth.
  CHECK(find(found, "body clearance", "less").more->change == mm(2.2));
  CHECK(find(found, "wall thickness", "less").more->change == mm(2.2));
  CHECK(find(found, "liner thickness", "less").more->change == mm(2.2));
  CHECK(find(found, "end plate thickness", "less").more->change == mm(2.2));
  CHECK(find(found, "strap space", "less").more->change == mm(2.2));
  const Limit& separator = find(found, "separator between cells", "less");
  CHECK_FALSE(separator.more);                // 5 x 0.5 is less than 4.23
  CHECK(separator.ruled_out);
  CHECK(find(found, "cavity roof", "higher").ruled_out);
  CHECK(find(found, "headroom over live metal", "less").most == 0);
}

TEST_CASE("limits: a full row more, by the breadth of a row and its gap") {
  // Two rows: 2 x 174 + 5 between, and clearance, wall and liner twice. A third row needs 174 + 5 more.
  const Um two_rows = 2 * 174'000 + 5'000 + 2 * 16'000, spare = 120'000;
  const Um length = 4 * 72'000 + 2 * 16'000 + 2 * 16'000;
  const survey::Cavity cavity = shaft(rectangle(length, two_rows + spare), 300'000);
  const CavityLimits found = limits_of(cavity, cell(72'000, 174'000, 207'000), shop_rules());
  CHECK(found.cells == 8);
  CHECK(found.full_row == 4);
  const Limit& right = find(found, "right wall", "further out");
  REQUIRE(right.more);
  CHECK(right.more->change == mm(59));        // 179 - 120
  CHECK(right.more->cells == 4);
  CHECK(right.full_row->change == mm(59));
}

TEST_CASE("limits: the floor must sink by what the height lacks, and says what fits then") {
  // Height: clearances 10 + 10, floor 3, liner 3, cell 207, headroom 15, lid 2.
  const survey::Cavity cavity = shaft(rectangle(400'000, 206'000), 250'000 - 7'000);
  const CavityLimits found = limits_of(cavity, cell(72'000, 174'000, 207'000), shop_rules());
  CHECK(found.cells == 0);
  CHECK(find(found, "cavity floor", "lower").more->change == mm(7));
  CHECK(find(found, "cavity roof", "higher").more->change == mm(7));
  CHECK(find(found, "headroom over live metal", "less").more->change == mm(7));
  CHECK(find(found, "lid clearance", "less").more->change == mm(7));
  CHECK(find(found, "cavity roof", "higher").more->cells == 4);
  CHECK(find(found, "body clearance", "less").more->change == mm(7));  // below as well as sideways
}

TEST_CASE("limits: a keep-out must move or shrink by what the row lacks") {
  // A post at the rear end of the row; without it one cell more.
  survey::Cavity cavity = shaft(rectangle(5 * 72'000 + 64'000, 206'000), 300'000);
  survey::KeepOut post;
  post.name = "post";
  post.clearance = mm(10);
  const Um rear = 5 * 72'000 + 64'000;
  post.shape = survey::BoxShape{{um(rear - 4'550), um(0), um(0)}, {um(rear), um(206'000), um(300'000)}};
  cavity.keep_outs.push_back(post);
  const CavityLimits found = limits_of(cavity, cell(72'000, 174'000, 207'000), shop_rules());
  CHECK(found.cells == 4);
  CHECK(find(found, "post", "not there").most == 1);
  const Limit& moved = find(found, "post", "moved rearward");
  CHECK(moved.more->change == mm(4.6));       // 4.55 rounded up
  CHECK(moved.more->least);
  CHECK(find(found, "post", "clearance to it less").more->change == mm(4.6));
  CHECK(find(found, "post", "smaller all round").more->change == mm(2.3));  // vanishes at half its depth, 2.275
}

TEST_CASE("limits: a fitting beside the blocks costs cells, a pod on the wall does not") {
  survey::Cavity cavity = shaft(rectangle(5 * 72'000 + 64'000, 206'000), 300'000);
  cavity.fittings.push_back({"main fuse", {um(60'000), um(170'000), um(80'000)}, 1, survey::FittingPlace::beside});
  const CavityLimits found = limits_of(cavity, cell(72'000, 174'000, 207'000), shop_rules());
  CHECK(found.cells == 4);
  CHECK(find(found, "main fuse", "not there").most == 1);
  const auto pod = std::find_if(found.fittings.begin(), found.fittings.end(),
                                [](const auto& f) { return f.place == survey::FittingPlace::wall; });
  REQUIRE(pod != found.fittings.end());
  CHECK(pod->cells == 1);
}

TEST_CASE("limits: what is told is enough, and 0.2 mm less is not") {
  std::mt19937 random(5);
  const auto pick = [&](Um low, Um high) {
    return low + static_cast<Um>(random() % static_cast<std::uint32_t>(high - low + 1));
  };
  const survey::Cell big = cell(72'000, 174'000, 207'000);
  int told = 0, settled = 0;
  for (int trial = 0; trial < 8; ++trial) {
    CAPTURE(trial);
    survey::Cavity cavity = shaft({{pick(0, 60'000), pick(0, 40'000)}, {pick(500'000, 520'000), pick(0, 40'000)},
                                   {pick(700'000, 800'000), pick(30'000, 90'000)}, {pick(690'000, 780'000), pick(400'000, 460'000)},
                                   {pick(0, 60'000), pick(400'000, 520'000)}}, 290'000);
    survey::KeepOut pipe;
    pipe.name = "pipe";
    pipe.shape = survey::CylinderShape{{um(pick(200'000, 600'000)), um(pick(0, 400'000)), um(0)}, {}, um(pick(20'000, 90'000))};
    auto& cylinder = std::get<survey::CylinderShape>(pipe.shape);
    cylinder.to = {cylinder.from.x, cylinder.from.y, um(290'000)};
    cavity.keep_outs.push_back(pipe);
    const survey::Rules rules = shop_rules();
    const CavityLimits found = limits_of(cavity, big, rules);
    for (const Limit& limit : found.limits) {
      CAPTURE(limit.what);
      CAPTURE(limit.how);
      CHECK(limit.most >= 0);
      CHECK_FALSE((limit.ruled_out && limit.most > 0));
      if (!limit.more) continue;
      ++told;
      const limits::Change change = change_of(cavity, rules, limit);
      CHECK(limit.more->change.um() % 100 == 0);
      CHECK(cells_with(cavity, big, rules, change, limit.more->change) >= found.cells + limit.more->cells);
      CHECK(limit.more->cells >= 1);
      if (limit.full_row) CHECK(cells_with(cavity, big, rules, change, limit.full_row->change) >= found.cells + found.full_row);
      if (!limit.more->least || limit.more->change.um() <= 200) continue;
      ++settled;
      CHECK(cells_with(cavity, big, rules, change, limit.more->change - um(200)) <= found.cells);
    }
  }
  CHECK(told > 20);
  CHECK(settled > told / 2);
}

TEST_CASE("limits: little work tells less, never other than all the work") {
  survey::Cavity cavity = shaft({{0, 0}, {900'000, 0}, {900'000, 300'000}, {600'000, 560'000}, {0, 560'000}}, 290'000);
  const survey::Cell big = cell(72'000, 174'000, 207'000);
  const CavityLimits little = limits_of(cavity, big, shop_rules(), {1'000, 0, 400'000, nullptr});
  const CavityLimits all = limits_of(cavity, big, shop_rules());
  CHECK(little.steps < all.steps);
  CHECK(!little.notes.empty());
  for (const Limit& limit : little.limits) {
    const auto same = std::find_if(all.limits.begin(), all.limits.end(), [&](const Limit& l) {
      return l.what == limit.what && l.where == limit.where && l.how == limit.how;
    });
    if (same == all.limits.end() || !same->more) continue;
    CAPTURE(limit.what);
    CHECK(limit.most <= same->most);
    if (limit.more) CHECK(limit.more->change >= same->more->change);
  }
}
