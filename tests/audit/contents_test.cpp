/// R9 to R15: what is in the box keeps off its walls, floor, lid and corners; fittings.
#include <doctest/doctest.h>

#include <algorithm>
#include <cstring>

#include "plan_builder.hpp"

using namespace cellstow::audit::testing;

namespace {

void check_twins(const char* name, const Json& good, const Json& bad, const Rules& rules) {
  CAPTURE(std::string(name));
  CHECK_MESSAGE(broken(good) == Rules{}, told(good));
  CHECK_MESSAGE(broken(bad) == rules, told(bad));
}

Json moved(Json plan, std::array<Um, 3> by) {
  shift_contents(the_box(plan), by);
  return plan;
}

/// The good plan with the box 100 mm longer at its rear, where fittings may stand, and room in the cavity.
Json roomy_plan() {
  Json plan = good_plan();
  straight_cavity(plan, "z", 200'000, 10'000, 10'000);
  the_box(plan)["outline_mm"] = points(rectangle(box_x0, box_y0, box_x1 + 100'000, box_y1));
  return plan;
}

constexpr Um base = box_z0 + 7'000;
constexpr Um block_end = box_x1 - 6'000;

Json with_fitting(std::array<Um, 3> low, std::array<Um, 3> size = {80'000, 170'000, 90'000}, const char* name = "main fuse") {
  Json plan = roomy_plan();
  plan["job"]["cavities"][0]["fittings"] = Json::array(
      {{{"name", name}, {"size_mm", {mm(size[0]), mm(size[1]), mm(size[2])}}, {"count", 1}, {"place", "beside"}}});
  the_box(plan)["fittings"].push_back(fitting(name, "beside", low, size));
  return plan;
}

}  // namespace

TEST_CASE("contents: wall and liner, floor and liner, headroom, each at exact contact") {
  check_twins("forward", good_plan(), moved(good_plan(), {-1, 0, 0}), {"R9"});
  check_twins("rearward", good_plan(), moved(good_plan(), {1, 0, 0}), {"R9"});
  check_twins("left", good_plan(), moved(good_plan(), {0, -1, 0}), {"R9"});
  check_twins("right", good_plan(), moved(good_plan(), {0, 1, 0}), {"R9"});
  check_twins("down", good_plan(), moved(good_plan(), {0, 0, -1}), {"R10"});
  check_twins("up", good_plan(), moved(good_plan(), {0, 0, 1}), {"R11"});
  const std::string detail = told(moved(good_plan(), {0, 0, 1}));
  CHECK(detail.find("live metal at z = 517.001 mm, 14.999 mm under the lid, needs 15 mm: 0.001 mm short") != std::string::npos);
}

TEST_CASE("contents: a wall at 3-4-5 takes its thickness square to itself") {
  const auto plan_with = [](Um nearer) {
    Json plan = good_plan();
    straight_cavity(plan, "z", 400'000, 10'000, 10'000);
    rule(plan, "box_outline") = "any";
    // 6 mm off the block's corner at (block_end, 152.5): the foot is 3.6 rearward and 4.8 to the right.
    const Um px = block_end + 3'600 - nearer, py = box_y1 - 6'000 + 4'800;
    the_box(plan)["outline_mm"] = points({{box_x0 - 50'000, box_y0 - 9'000}, {px + 240'000, box_y0 - 9'000}, {px + 240'000, py - 180'000},
                                          {px - 120'000, py + 90'000}, {box_x0 - 50'000, py + 90'000}});
    return plan;
  };
  check_twins("slanted", plan_with(0), plan_with(1), {"R9"});
}

TEST_CASE("contents: an inner corner of the outline keeps its distance all round") {
  // The outline's corner turns into the box 3.6 by 4.8 mm from the block's corner: 6 mm.
  const auto plan_with = [](Um nearer) {
    Json plan = good_plan();
    straight_cavity(plan, "z", 400'000, 10'000, 10'000);
    const Um px = block_end + 3'600 - nearer, py = box_y1 - 6'000 + 4'800;
    the_box(plan)["outline_mm"] = points({{box_x0, box_y0}, {box_x1 + 90'000, box_y0}, {box_x1 + 90'000, py}, {px, py}, {px, py + 50'000}, {box_x0, py + 50'000}});
    return plan;
  };
  check_twins("inner corner", plan_with(0), plan_with(1), {"R9"});
}

TEST_CASE("contents: headroom depends on how the cell stands") {
  const auto standing = [](const char* stance, Um room_above) {
    Json plan = roomy_plan();
    plan["job"]["cell"]["stances"] = {"upright", "on_edge", "flat"};
    Json& box = the_box(plan);
    box["cells"] = box["blocks"] = Json::array();
    the_box(plan)["outline_mm"] = points(rectangle(box_x0, box_y0, box_x0 + 450'000, box_y1));
    straight_cavity(plan, "z", 500'000, 10'000, 100'000);
    add_block(plan, box, "u", stance, {box_x0 + 6'000, box_y0 + 6'000, base}, 2);
    const bool flat = std::strcmp(stance, "flat") == 0, on_edge = std::strcmp(stance, "on_edge") == 0;
    const Um top = base + (flat ? 50'000 : on_edge ? 150'000 : 210'000);
    box["z_mm"] = {mm(box_z0), mm(top + room_above + 2'000)};
    count_up(plan);
    return plan;
  };
  for (const char* stance : {"upright", "on_edge", "flat"}) {
    check_twins(stance, standing(stance, 15'000), standing(stance, 14'999), {"R11"});
  }
}

TEST_CASE("contents: corner relief") {
  // Relief of 3 mm inside a 3 mm wall reaches exactly to where the liner lets the blocks begin.
  Json good = good_plan(), bad = good_plan();
  rule(good, "corner_relief_mm") = 3;
  rule(bad, "corner_relief_mm") = 3.001;
  check_twins("blocks", good, bad, {"R12"});
  // Wider relief is free when the blocks stand clear of the corner along one wall.
  Json clear = good_plan();
  straight_cavity(clear, "z", 100'000, 10'000, 10'000);
  rule(clear, "corner_relief_mm") = 20;
  the_box(clear)["outline_mm"] = points(rectangle(box_x0 - 17'000, box_y0, box_x1 + 17'000, box_y1));
  Json short_of_it = clear;
  shift_contents(the_box(short_of_it), {1, 0, 0});
  check_twins("beside", clear, short_of_it, {"R12"});
  // A corner that turns into the box has no weld inside it.
  Json inner = good_plan();
  straight_cavity(inner, "z", 100'000, 10'000, 10'000);
  rule(inner, "corner_relief_mm") = 3;
  the_box(inner)["outline_mm"] = points({{box_x0, box_y0}, {box_x1, box_y0}, {box_x1, box_y1}, {box_x0 - 30'000, box_y1}, {box_x0 - 30'000, 100'000}, {box_x0, 100'000}});
  CHECK_MESSAGE(broken(inner) == Rules{}, told(inner));
}

TEST_CASE("contents: fittings beside the blocks") {
  check_twins("gap to a block", with_fitting({block_end + 5'000, -85'000, base}), with_fitting({block_end + 4'999, -85'000, base}), {"R14"});
  check_twins("wall", with_fitting({box_x1 + 100'000 - 6'000 - 80'000, -85'000, base}),
              with_fitting({box_x1 + 100'000 - 6'000 - 79'999, -85'000, base}), {"R9"});
  check_twins("floor", with_fitting({block_end + 5'000, -85'000, base}), with_fitting({block_end + 5'000, -85'000, base - 1}), {"R10"});
  check_twins("lid", with_fitting({block_end + 5'000, -85'000, box_z1 - 2'000 - 90'000}),
              with_fitting({block_end + 5'000, -85'000, box_z1 - 2'000 - 89'999}), {"R11"});
}

TEST_CASE("contents: fittings above the blocks") {
  // 5 mm above live metal at z = 517, in a box 30 mm taller.
  const auto above = [](Um lower) {
    Json plan = with_fitting({box_x0 + 50'000, -85'000, base + 215'000 - lower}, {80'000, 170'000, 20'000});
    straight_cavity(plan, "z", 200'000, 10'000, 50'000);
    the_box(plan)["z_mm"][1] = mm(box_z1 + 30'000);
    the_box(plan)["fittings"][0]["place"] = plan["job"]["cavities"][0]["fittings"][0]["place"] = "above";
    return plan;
  };
  check_twins("above", above(0), above(1), {"R14"});
}

TEST_CASE("contents: every fitting is there, of its size, as often as wanted") {
  const Json good = with_fitting({block_end + 5'000, -85'000, base});
  Json missing = good, twice = good, wrong = good, turned = good, excused = good;
  the_box(missing)["fittings"] = Json::array();
  check_twins("missing", good, missing, {"R13"});
  the_box(twice)["fittings"].push_back(fitting("main fuse 2", "wall", {box_x1 + 110'000, 0, base}, {80'000, 170'000, 90'000}));
  check_twins("one too many", good, twice, {"R13"});
  twice["job"]["cavities"][0]["fittings"][0]["count"] = 2;
  CHECK_MESSAGE(broken(twice) == Rules{}, told(twice));
  the_box(wrong)["fittings"][0]["size_mm"][2] = 89.999;
  CHECK(broken(wrong) == Rules{"R13"});
  turned["job"]["cavities"][0]["fittings"][0]["size_mm"] = {170, 80, 90};
  CHECK(broken(turned) == Rules{});
  // A plan that says openly that it found no place is not caught lying.
  the_box(excused)["fittings"] = Json::array();
  excused["checks"] = Json::array({{{"name", "place for main fuse"}, {"where", "tank well"}, {"value", 0}, {"limit", 1},
                                    {"unit", ""}, {"use", nullptr}, {"ok", false}, {"source", ""}}});
  CHECK_MESSAGE(broken(excused) == Rules{}, told(excused));
}

TEST_CASE("contents: fittings do not overlap each other") {
  const auto two = [](Um gap) {
    Json plan = with_fitting({block_end + 5'000, -150'000, base}, {60'000, 60'000, 60'000}, "relay");
    plan["job"]["cavities"][0]["fittings"][0]["count"] = 2;
    the_box(plan)["fittings"].push_back(fitting("relay", "beside", {block_end + 5'000, -90'000 + gap, base}, {60'000, 60'000, 60'000}));
    return plan;
  };
  check_twins("side by side", two(0), two(-1), {"R14"});
}

TEST_CASE("contents: nothing stands over the main fuse") {
  const auto under = [](const char* name) {
    Json plan = with_fitting({block_end + 5'000, -85'000, base}, {60'000, 60'000, 60'000}, name);
    plan["job"]["cavities"][0]["fittings"].push_back({{"name", "relay"}, {"size_mm", {60, 60, 60}}, {"place", "above"}});
    the_box(plan)["fittings"].push_back(fitting("relay", "above", {block_end + 5'000, -85'000 + 59'999, base + 60'000}, {60'000, 60'000, 60'000}));
    return plan;
  };
  check_twins("over the fuse", under("shunt"), under("main fuse"), {"R15"});
  Json beside = under("main fuse");
  nudge(the_box(beside)["fittings"][1]["centre_mm"][1], 1);
  CHECK_MESSAGE(broken(beside) == Rules{}, told(beside));
}

TEST_CASE("contents: a pod on the wall does not have to find room inside") {
  Json plan = with_fitting({box_x1 + 110'000, -85'000, base});
  CHECK(broken(plan) == Rules{"R9"});
  the_box(plan)["fittings"][0]["place"] = "wall";
  CHECK_MESSAGE(broken(plan) == Rules{}, told(plan));
}

TEST_CASE("contents: a cell that sticks out of its block is looked at on its own") {
  Json plan = good_plan();
  rule(plan, "end_plate_mm") = 0;
  rule(plan, "strap_space_mm") = 0;
  Json& box = the_box(plan);
  box["cells"] = box["blocks"] = Json::array();
  add_block(plan, box, "u", "upright", {box_x0 + 6'000, box_y0 + 6'000, base}, 4);
  count_up(plan);
  CHECK_MESSAGE(broken(plan) == Rules{}, told(plan));
  nudge(box["cells"][0]["centre_mm"][0], -1);
  CHECK_MESSAGE((broken(plan) == Rules{"R9", "R18"}), told(plan));
}
