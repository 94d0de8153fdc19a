/// R16 to R23: blocks, their cells, gaps, tiers and rows.
#include <doctest/doctest.h>

#include "plan_builder.hpp"

using namespace cellstow::audit::testing;

namespace {

/// The good plan's box made 1 m square, empty, in a cavity with room.
Json wide_plan() {
  Json plan = good_plan();
  straight_cavity(plan, "z", 1'000'000, 10'000, 600'000);
  Json& box = the_box(plan);
  box["cells"] = box["blocks"] = Json::array();
  box["outline_mm"] = points(rectangle(1'000'000, -500'000, 2'000'000, 500'000));
  box["z_mm"][1] = mm(box_z1 + 500'000);
  return plan;
}

constexpr Um base = box_z0 + 7'000;

struct At { const char* runs; const char* stance; std::array<Um, 3> low; int cells; };

Json with_blocks(const std::vector<At>& blocks) {
  Json plan = wide_plan();
  for (const At& at : blocks) {
    add_block(plan, the_box(plan), at.runs, at.stance, {1'100'000 + at.low[0], -400'000 + at.low[1], base + at.low[2]}, at.cells);
  }
  count_up(plan);
  return plan;
}

void check_twins(const char* name, const Json& good, const Json& bad, const Rules& rules) {
  CAPTURE(std::string(name));
  CHECK_MESSAGE(broken(good) == Rules{}, told(good));
  CHECK_MESSAGE(broken(bad) == rules, told(bad));
}

}  // namespace

TEST_CASE("blocks: only stances that the job allows, one in a block") {
  Json good = with_blocks({{"u", "on_edge", {0, 0, 0}, 3}, {"v", "flat", {300'000, 0, 0}, 3}}), bad = good, mixed = good;
  good["job"]["cell"]["stances"] = {"on_edge", "flat"};
  bad["job"]["cell"]["stances"] = {"on_edge", "upright"};
  check_twins("stances", good, bad, {"R16"});
  mixed["job"]["cell"]["stances"] = {"on_edge", "flat"};
  the_box(mixed)["cells"][1]["stance"] = "flat";
  CHECK(broken(mixed).count("R16") == 1);
}

TEST_CASE("blocks: size of a block") {
  const Json good = with_blocks({{"u", "upright", {0, 0, 0}, 5}, {"v", "upright", {400'000, 0, 0}, 1}});
  for (const int axis : {0, 1, 2}) {
    Json bad = good;
    nudge(the_box(bad)["blocks"][0]["size_mm"][axis], 2);  // 1 um to either side
    CAPTURE(axis);
    const Rules found = broken(bad);
    CHECK_MESSAGE(found.count("R17") == 1, told(bad));
  }
  Json upward = good;
  nudge(the_box(upward)["blocks"][0]["size_mm"][2], 2);
  nudge(the_box(upward)["blocks"][0]["centre_mm"][2], 1);
  check_twins("higher than its cells", good, upward, {"R17"});
}

TEST_CASE("blocks: cells in line, at their pitch, each place once") {
  const Json good = with_blocks({{"v", "upright", {0, 0, 0}, 5}});
  for (const int axis : {0, 1, 2}) {
    CAPTURE(axis);
    Json bad = good;
    nudge(the_box(bad)["cells"][2]["centre_mm"][axis], 1);
    check_twins("moved", good, bad, {"R18"});
  }
  Json sized = good, twice = good, stray = good, fewer = good;
  nudge(the_box(sized)["cells"][4]["size_mm"][0], -2);
  nudge(the_box(sized)["cells"][4]["centre_mm"][0], -1);
  check_twins("smaller than it is", good, sized, {"R18"});
  the_box(twice)["cells"][1]["place"] = 1;
  CHECK(broken(twice) == Rules{"R18"});
  the_box(stray)["cells"][4]["block"] = 9;
  CHECK(broken(stray) == Rules{"R18"});
  the_box(fewer)["cells"].erase(4);
  fewer["cavities"][0]["cells"] = fewer["cavities"][0]["bound"] = fewer["cavities"][0]["most_cells"] = fewer["totals"]["cells"] = 4;
  CHECK(broken(fewer) == Rules{"R18"});
}

TEST_CASE("blocks: how many cells a block may have") {
  Json plan = with_blocks({{"u", "upright", {0, 0, 0}, 5}});
  rule(plan, "block_cells") = {{"min", 5}, {"max", 5}};
  Json few = plan, many = plan;
  rule(few, "block_cells") = {{"min", 6}, {"max", 12}};
  rule(many, "block_cells") = {{"min", 1}, {"max", 4}};
  check_twins("too few", plan, few, {"R19"});
  check_twins("too many", plan, many, {"R19"});
  rule(plan, "block_cells") = {{"min", 1}, {"max", nullptr}};
  CHECK(broken(plan) == Rules{});
}

TEST_CASE("blocks: gap between blocks, along u or along v") {
  // 2 x 50 + 1 + 32 = 133 long, 150 across.
  const auto pair = [](Um du, Um dv) { return with_blocks({{"u", "upright", {0, 0, 0}, 2}, {"u", "upright", {du, dv, 0}, 2}}); };
  check_twins("along u", pair(138'000, 0), pair(137'999, 0), {"R20"});
  check_twins("along v", pair(0, 155'000), pair(0, 154'999), {"R20"});
  check_twins("one of the two is enough", pair(138'000, 154'999), pair(137'999, 154'999), {"R20"});
  const auto crossed = [](Um du) { return with_blocks({{"u", "upright", {0, 0, 0}, 2}, {"v", "upright", {du, 0, 0}, 2}}); };
  check_twins("two directions", crossed(138'000), crossed(137'999), {"R20"});
  // Cells themselves overlap: told of the cells too.
  CHECK(broken(pair(10'000, 0)) == Rules{"R20", "R23"});
}

TEST_CASE("blocks: cells overlap by a micrometre though their blocks are said to be elsewhere") {
  Json plan = with_blocks({{"u", "upright", {0, 0, 0}, 2}});
  rule(plan, "between_cells_mm") = 0;
  Json& box = the_box(plan);
  box["cells"] = box["blocks"] = Json::array();
  add_block(plan, box, "u", "upright", {1'100'000, 0, base}, 2);
  count_up(plan);
  CHECK(broken(plan) == Rules{});
  nudge(box["cells"][1]["centre_mm"][0], -1);
  CHECK(broken(plan) == Rules{"R18", "R23"});
}

TEST_CASE("blocks: tiers") {
  const auto two_tiers = [](Um gap, int allowed) {
    Json plan = with_blocks({{"u", "upright", {0, 0, 0}, 2}, {"u", "upright", {0, 0, 210'000 + gap}, 2}});
    rule(plan, "tiers") = allowed;
    return plan;
  };
  check_twins("gap over live metal", two_tiers(20'000, 2), two_tiers(19'999, 2), {"R21"});
  check_twins("count", two_tiers(20'000, 2), two_tiers(20'000, 1), {"R21"});
}

TEST_CASE("blocks: rows") {
  const auto rows = [](std::vector<At> blocks) {
    Json plan = with_blocks(blocks);
    rule(plan, "arrangement") = "rows";
    return plan;
  };
  // Two rows along u, blocks anywhere along them.
  const Json two = rows({{"u", "upright", {0, 0, 0}, 2}, {"u", "upright", {200'000, 0, 0}, 2}, {"u", "upright", {70'000, 155'000, 0}, 2}});
  CHECK_MESSAGE(broken(two) == Rules{}, told(two));
  // One block turned.
  check_twins("directions", two, rows({{"u", "upright", {0, 0, 0}, 2}, {"v", "upright", {200'000, 0, 0}, 2}}), {"R22"});
  // A pinwheel of equal blocks, all along u: no straight cut either way.
  const std::vector<At> pinwheel{{"u", "upright", {0, 0, 0}, 4}, {"u", "upright", {240'000, 100'000, 0}, 2},
                                 {"u", "upright", {138'000, 255'000, 0}, 4}, {"u", "upright", {0, 155'000, 0}, 2}};
  Json mixed = with_blocks(pinwheel);
  CHECK_MESSAGE(broken(mixed) == Rules{}, told(mixed));
  CHECK_MESSAGE(broken(rows(pinwheel)) == Rules{"R22"}, told(rows(pinwheel)));
  // Strips along v hold blocks that run along u, each strip one block wide.
  const Json along_v = rows({{"u", "upright", {0, 0, 0}, 2}, {"u", "upright", {0, 200'000, 0}, 2}, {"u", "upright", {138'000, 77'000, 0}, 2}});
  CHECK_MESSAGE(broken(along_v) == Rules{}, told(along_v));
  // Two tiers may lie differently.
  Json tiers = rows({{"u", "upright", {0, 0, 0}, 2}, {"v", "upright", {0, 0, 230'000}, 2}});
  rule(tiers, "tiers") = 2;
  CHECK_MESSAGE(broken(tiers) == Rules{}, told(tiers));
}
