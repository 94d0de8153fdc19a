/// R2 to R4: a box or a loose block between the walls of its cavity. Every plan is held against its broken
/// twin: one micrometre decides.
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

Json shifted(Json plan, std::array<Um, 3> by) {
  shift_box(the_box(plan), by);
  return plan;
}

}  // namespace

TEST_CASE("walls: a straight cavity, sections across each axis, with and without clearance, at exact contact") {
  struct Move { const char* name; std::array<Um, 3> by; const char* rule; };
  const Move moves[] = {{"forward", {-1, 0, 0}, "R2"}, {"rearward", {1, 0, 0}, "R2"}, {"left", {0, -1, 0}, "R2"},
                        {"right", {0, 1, 0}, "R2"},    {"down", {0, 0, -1}, "R3"},    {"up", {0, 0, 1}, "R4"}};
  for (const char* across : {"z", "x", "y"}) {
    for (const bool tight : {false, true}) {
      for (const char* between : {"common", "straight"}) {
        Json plan = tight ? tight_plan() : good_plan();
        if (tight) straight_cavity(plan, across, 0, 0, 0);
        else straight_cavity(plan, across, body_clearance, body_clearance, lid_clearance);
        plan["job"]["cavities"][0]["sections"]["between"] = between;
        for (const Move& move : moves) {
          CAPTURE(std::string(across));
          CAPTURE(tight);
          CAPTURE(std::string(between));
          check_twins(move.name, plan, shifted(plan, move.by), {move.rule});
        }
      }
    }
  }
}

TEST_CASE("walls: what is missing is told in mm, and where") {
  const Json plan = shifted(good_plan(), {1, 0, 0});
  CHECK(told(plan).find("R2 clearance sideways | tank well, box TW | 9.999 mm to wall") == 0);
  CHECK(told(plan).find("needs 10 mm: 0.001 mm short") != std::string::npos);
  const Json deep = shifted(good_plan(), {0, 0, -2'500});
  CHECK(told(deep).find("R3 clearance below | tank well, box TW | 2.5 mm short of 10 mm clear") == 0);
}

TEST_CASE("walls: floor and side at once are told as two") {
  CHECK(broken(shifted(good_plan(), {1, 0, -1})) == Rules{"R2", "R3"});
  Json plan = good_plan();
  straight_cavity(plan, "x", body_clearance, body_clearance, lid_clearance);
  CHECK_MESSAGE(broken(shifted(plan, {0, 0, 1})) == Rules{"R4"}, told(shifted(plan, {0, 0, 1})));
  straight_cavity(plan, "y", body_clearance, body_clearance - 1, lid_clearance - 1);
  CHECK_MESSAGE((broken(plan) == Rules{"R3", "R4"}), told(plan));
}

TEST_CASE("walls across z, common: a narrower section counts in both slabs beside it and in no other") {
  const Um c = body_clearance;
  const auto wide = rectangle(box_x0 - 50'000, box_y0 - c, box_x1 + 50'000, box_y1 + c);
  const auto narrow = rectangle(box_x0 - c, box_y0 - c, box_x1 + c, box_y1 + c);
  const auto too_narrow = rectangle(box_x0 - c, box_y0 - c, box_x1 + c - 1, box_y1 + c);
  Json good = good_plan(), bad = good_plan(), far = good_plan();
  set_sections(good, "z", "common", {section(290'000, wide), section(400'000, narrow), section(542'000, wide)});
  set_sections(bad, "z", "common", {section(290'000, wide), section(400'000, too_narrow), section(542'000, wide)});
  check_twins("in the middle", good, bad, {"R2"});
  // The narrow section ends its slab exactly where the box's clearance begins: the slab below does not count.
  const auto much_too_narrow = rectangle(box_x0 - c, box_y0 - c, box_x1 + c - 500, box_y1 + c);
  set_sections(far, "z", "common", {section(200'000, much_too_narrow), section(290'000, wide), section(542'000, wide)});
  CHECK_MESSAGE(broken(far) == Rules{}, told(far));
  Json near = shifted(far, {0, 0, -1});
  CHECK_MESSAGE(broken(near) == Rules{"R3"}, told(near));
}

TEST_CASE("walls across z, common: a hole is material") {
  const Um c = body_clearance;
  const auto outer = rectangle(box_x0 - 200'000, box_y0 - c, box_x1 + 200'000, box_y1 + c);
  // Nearest corner of the hole 6 mm rearward and 8 mm to the right of the box's corner: 10 mm away.
  const auto wide = rectangle(box_x0 - 200'000, box_y0 - c, box_x1 + 200'000, box_y1 + 200'000);
  Json good = good_plan(), bad = good_plan(), within = good_plan(), edge = good_plan(), edge_bad = good_plan();
  set_sections(good, "z", "common",
               {section(290'000, wide, {rectangle(box_x1 + 6'000, box_y1 + 8'000, box_x1 + 40'000, box_y1 + 40'000)}),
                section(542'000, wide)});
  set_sections(bad, "z", "common",
               {section(290'000, wide, {rectangle(box_x1 + 6'000, box_y1 + 7'999, box_x1 + 40'000, box_y1 + 40'000)}),
                section(542'000, wide)});
  check_twins("corner to corner", good, bad, {"R2"});
  set_sections(within, "z", "common",
               {section(290'000, outer, {rectangle(1'100'000, -10'000, 1'110'000, 10'000)}), section(542'000, outer)});
  CHECK(broken(within) == Rules{"R2"});
  set_sections(edge, "z", "common",
               {section(290'000, outer), section(542'000, outer, {rectangle(box_x1 + c, -10'000, box_x1 + 40'000, 10'000)})});
  set_sections(edge_bad, "z", "common",
               {section(290'000, outer), section(542'000, outer, {rectangle(box_x1 + c - 1, -10'000, box_x1 + 40'000, 10'000)})});
  check_twins("hole beside a side", edge, edge_bad, {"R2"});
}

TEST_CASE("walls across z, common: a slanted wall at 3-4-5 stands exactly 10 mm from a corner") {
  // The wall passes 6 mm rearward and 8 mm right of the corner, square to that direction: it runs along (-4, 3).
  const auto outline = [](Um nearer) {
    const Um px = box_x1 + 6'000 - nearer, py = box_y1 + 8'000;
    return std::vector<Corner>{{box_x0 - 100'000, box_y0 - 100'000}, {px + 400'000, box_y0 - 100'000},
                               {px + 400'000, py - 300'000},         {px - 300'000, py + 225'000},
                               {box_x0 - 100'000, py + 225'000}};
  };
  Json good = good_plan(), bad = good_plan();
  set_sections(good, "z", "common", {section(290'000, outline(0)), section(542'000, outline(0))});
  set_sections(bad, "z", "common", {section(290'000, outline(1)), section(542'000, outline(1))});
  check_twins("slanted", good, bad, {"R2"});
}

TEST_CASE("walls across z, straight: walls that lean are taken at the box's own heights") {
  // Each wall leans outward by 100 mm from z = 290 to 542; at the clearance under the floor it is exactly 10 mm off.
  const auto ring = [](Um out) { return rectangle(box_x0 - out, box_y0 - out, box_x1 + out, box_y1 + out); };
  Json good = good_plan(), bad = good_plan(), common = good_plan();
  set_sections(good, "z", "straight", {section(290'000, ring(10'000)), section(542'000, ring(110'000))});
  set_sections(bad, "z", "straight", {section(290'000, ring(9'999)), section(542'000, ring(110'000))});
  CHECK_MESSAGE(broken(good) == Rules{}, told(good));
  // A move up by a thousandth of the lean mends it as well, and is the smaller one: told as below.
  CHECK_MESSAGE((broken(bad) == Rules{"R2"} || broken(bad) == Rules{"R3"}), told(bad));
  // Sections 100 mm apart in width, box between: straight leaves room where common does not.
  set_sections(common, "z", "straight", {section(190'000, ring(-40'000)), section(290'000, ring(10'000)), section(542'000, ring(10'000))});
  CHECK_MESSAGE(broken(common) == Rules{}, told(common));
  // Half way between 0 and 20 mm of room there are 10: enough at z = 290, one micrometre below it not.
  Json half = good_plan();
  set_sections(half, "z", "straight", {section(38'000, ring(0)), section(542'000, ring(20'000))});
  CHECK_MESSAGE(broken(half) == Rules{}, told(half));
  shift_box(the_box(half), {0, 0, -100});
  const Rules found = broken(half);
  CHECK_MESSAGE((found == Rules{"R2"} || found == Rules{"R3"}), told(half));
}

TEST_CASE("walls across z, straight: a twisted wall bulges in between its ends") {
  // A square turning by an eighth: free at both ends, too narrow half way.
  const Um w = 100'000;
  std::vector<Corner> square{{-w, -w}, {w, -w}, {w, w}, {-w, w}};
  std::vector<Corner> turned{{-w, -w + 200'000}, {-w, -w}, {w, -w}, {w, w}};  // same square, corners one further on
  Json plan = loose_plan();
  add_block(plan, the_box(plan), "u", "upright", {-90'000, -90'000, 0}, 6);   // 180 x 50 mm
  count_up(plan);
  set_sections(plan, "z", "common", {section(0, square), section(4'000, turned)});
  CHECK_MESSAGE(broken(plan) == Rules{}, told(plan));
  set_sections(plan, "z", "straight", {section(0, square), section(4'000, turned)});
  CHECK_MESSAGE(broken(plan).count("R2") + broken(plan).count("R3") + broken(plan).count("R4") > 0, told(plan));
}

TEST_CASE("walls across x, common: every section counts from the one before to the one after") {
  const Um c = body_clearance;
  const auto tall = rectangle(box_y0 - c, box_z0 - c, box_y1 + c, box_z1 + lid_clearance);
  // A roof that dips by a micrometre over part of the width.
  const auto dipped = [&](Um dip) {
    return std::vector<Corner>{{box_y0 - c, box_z0 - c}, {box_y1 + c, box_z0 - c}, {box_y1 + c, box_z1 + lid_clearance},
                               {50'000, box_z1 + lid_clearance}, {0, box_z1 + lid_clearance - dip}, {-50'000, box_z1 + lid_clearance},
                               {box_y0 - c, box_z1 + lid_clearance}};
  };
  Json good = good_plan(), bad = good_plan(), far = good_plan(), near = good_plan();
  set_sections(good, "x", "common", {section(box_x0 - c, tall), section(1'100'000, tall), section(box_x1 + c, tall)});
  set_sections(bad, "x", "common", {section(box_x0 - c, tall), section(1'100'000, dipped(1)), section(box_x1 + c, tall)});
  check_twins("roof", good, bad, {"R4"});
  // The low section's reach ends exactly 10 mm behind the box.
  set_sections(far, "x", "common", {section(box_x0 - c, tall), section(box_x1 + c, tall), section(box_x1 + 80'000, dipped(60'000))});
  set_sections(near, "x", "common", {section(box_x0 - c, tall), section(box_x1 + c - 1, tall), section(box_x1 + 80'000, dipped(60'000))});
  check_twins("reach of a section", far, near, {"R2"});
}

TEST_CASE("walls across x, common: a sloping floor under one edge") {
  // The floor falls to the left at 1 : 2 and meets the height of the clearance exactly 10 mm left of the box.
  const auto sloped = [](Um raise) {
    const Um z = box_z0 - 10'000;
    return std::vector<Corner>{{box_y0 - 10'000, z + raise},         {box_y1 + 10'000, z},
                               {box_y1 + 10'000, box_z1 + 8'000},    {box_y0 - 60'000, box_z1 + 8'000},
                               {box_y0 - 60'000, z + 25'000 + raise}};
  };
  Json good = good_plan(), bad = good_plan();
  set_sections(good, "x", "common", {section(box_x0 - 10'000, sloped(0)), section(box_x1 + 10'000, sloped(0))});
  set_sections(bad, "x", "common", {section(box_x0 - 10'000, sloped(1)), section(box_x1 + 10'000, sloped(1))});
  check_twins("floor", good, bad, {"R3"});
}

TEST_CASE("walls across x and y: a hole in a section is material") {
  for (const char* across : {"x", "y"}) {
    const bool x = std::strcmp(across, "x") == 0;
    const Um first = x ? box_x0 : box_y0, last = x ? box_x1 : box_y1;
    const Um low = x ? box_y0 : box_x0, high = x ? box_y1 : box_x1;
    const auto outer = rectangle(low - 10'000, box_z0 - 200'000, high + 200'000, box_z1 + 200'000);
    const auto with_hole = [&](std::vector<Corner> hole) {
      Json plan = good_plan();
      set_sections(plan, across, "common", {section(first - 10'000, outer, {hole}), section(last + 10'000, outer, {hole})});
      return plan;
    };
    check_twins("beside", with_hole(rectangle(high + 10'000, 350'000, high + 50'000, 400'000)),
                with_hole(rectangle(high + 9'999, 350'000, high + 50'000, 400'000)), {"R2"});
    check_twins("below", with_hole(rectangle(low + 50'000, 200'000, low + 90'000, box_z0 - 10'000)),
                with_hole(rectangle(low + 50'000, 200'000, low + 90'000, box_z0 - 9'999)), {"R3"});
    check_twins("above", with_hole(rectangle(low + 50'000, box_z1 + 8'000, low + 90'000, 600'000)),
                with_hole(rectangle(low + 50'000, box_z1 + 7'999, low + 90'000, 600'000)), {"R4"});
  }
}

TEST_CASE("walls across x and y, straight: a wall that narrows touches the box's corner exactly") {
  // Without clearance the corner (1247, 158.5) lies on the wall: half width 158.5 + 0.1 (1247 - x).
  Json plan = tight_plan();
  const auto at = [](Um half) { return rectangle(-half, box_z0, half, box_z1); };
  set_sections(plan, "x", "straight", {section(897'000, at(193'500)), section(1'397'000, at(143'500))});
  check_twins("across x", plan, shifted(plan, {0, 1, 0}), {"R2"});
  check_twins("across x, rearward by 10 um", plan, shifted(plan, {10, 0, 0}), {"R2"});
  Json side = tight_plan();
  const auto to = [](Um x1) { return rectangle(900'000, box_z0, x1, box_z1); };
  // Across y: the rear wall comes forward towards the right and touches the same corner.
  set_sections(side, "y", "straight", {section(-341'500, to(1'297'000)), section(658'500, to(1'197'000))});
  check_twins("across y", side, shifted(side, {1, 0, 0}), {"R2"});
}

TEST_CASE("walls across x, straight: holes that do not match are material in the whole slab") {
  Json plan = good_plan();
  const auto outer = rectangle(box_y0 - 10'000, 100'000, box_y1 + 10'000, 700'000);
  const auto with_hole = [&](Um top) {
    Json out = good_plan();
    set_sections(out, "x", "straight",
                 {section(box_x0 - 10'000, outer, {rectangle(-20'000, 200'000, 20'000, top)}), section(box_x1 + 10'000, outer)});
    return out;
  };
  check_twins("hole below", with_hole(box_z0 - 10'000), with_hole(box_z0 - 9'999), {"R3"});
  const auto across_z = [&](Um edge) {
    Json out = good_plan();
    const auto ring = rectangle(box_x0 - 10'000, box_y0 - 10'000, box_x1 + 100'000, box_y1 + 10'000);
    set_sections(out, "z", "straight",
                 {section(290'000, ring, {rectangle(edge, -20'000, box_x1 + 50'000, 20'000)}), section(542'000, ring)});
    return out;
  };
  check_twins("hole beside", across_z(box_x1 + 10'000), across_z(box_x1 + 9'999), {"R2"});
}

TEST_CASE("walls: a box outline with a step keeps its distance at the inner corner too") {
  const auto stepped = std::vector<Corner>{{box_x0, box_y0}, {box_x1, box_y0}, {box_x1, box_y1}, {box_x0, box_y1},
                                           {box_x0, 120'000}, {box_x0 - 40'000, 120'000}, {box_x0 - 40'000, 100'000}, {box_x0, 100'000}};
  const auto cavity = [](Um corner_x) {
    return std::vector<Corner>{{box_x0 - 10'000, box_y0 - 10'000}, {box_x1 + 10'000, box_y0 - 10'000}, {box_x1 + 10'000, box_y1 + 10'000},
                               {corner_x, box_y1 + 10'000}, {corner_x, 130'000}, {box_x0 - 50'000, 130'000}, {box_x0 - 50'000, 90'000},
                               {box_x0 - 10'000, 90'000}};
  };
  Json good = good_plan(), bad = good_plan();
  the_box(good)["outline_mm"] = the_box(bad)["outline_mm"] = points(stepped);
  set_sections(good, "z", "common", {section(290'000, cavity(box_x0 - 10'000)), section(542'000, cavity(box_x0 - 10'000))});
  set_sections(bad, "z", "common", {section(290'000, cavity(box_x0 - 9'999)), section(542'000, cavity(box_x0 - 9'999))});
  check_twins("step", good, bad, {"R2"});
}

TEST_CASE("walls: without a box every block stands in the cavity itself") {
  const auto plan_in = [](std::vector<Corner> outline, Um clearance) {
    Json plan = loose_plan();
    rule(plan, "body_clearance_mm") = mm(clearance);
    add_block(plan, the_box(plan), "u", "upright", {0, 0, 0}, 4);          // 120 x 50
    add_block(plan, the_box(plan), "v", "upright", {120'000, 0, 0}, 2);    // 50 x 60
    count_up(plan);
    set_sections(plan, "z", "common", {section(-clearance, outline), section(4'000, outline)});
    return plan;
  };
  const std::vector<Corner> ell{{0, 0}, {170'000, 0}, {170'000, 60'000}, {120'000, 60'000}, {120'000, 50'000}, {0, 50'000}};
  std::vector<Corner> shaved = ell;
  shaved[4] = {120'000, 49'999}, shaved[5] = {0, 49'999};
  check_twins("filled exactly", plan_in(ell, 0), plan_in(shaved, 0), {"R2"});
  const auto grown = rectangle(-5'000, -5'000, 175'000, 65'000);
  const auto too_small = rectangle(-5'000, -5'000, 174'999, 65'000);
  check_twins("with clearance", plan_in(grown, 5'000), plan_in(too_small, 5'000), {"R2"});
  Json low = plan_in(ell, 0), headroom = plan_in(ell, 0);
  set_sections(low, "z", "common", {section(1, ell), section(4'000, ell)});
  CHECK_MESSAGE(broken(low) == Rules{"R3"}, told(low));
  set_sections(low, "z", "common", {section(0, ell), section(3'999, ell)});
  CHECK_MESSAGE(broken(low) == Rules{"R4"}, told(low));
  // Live metal keeps its headroom without a lid too.
  rule(headroom, "headroom_mm") = 1;
  CHECK_MESSAGE(broken(headroom) == Rules{"R4"}, told(headroom));
  set_sections(headroom, "z", "common", {section(0, ell), section(5'000, ell)});
  CHECK_MESSAGE(broken(headroom) == Rules{}, told(headroom));
  the_box(headroom)["z_mm"][1] = 3.999;
  CHECK_MESSAGE(broken(headroom) == Rules{"R11"}, told(headroom));
}

TEST_CASE("walls: the order of corners does not matter, nor which corner comes first") {
  Json plan = good_plan();
  for (Json& entry : plan["job"]["cavities"][0]["sections"]["at"]) {
    std::vector<Json> corners = entry["outline_mm"];
    std::reverse(corners.begin(), corners.end());
    std::rotate(corners.begin(), corners.begin() + 1, corners.end());
    entry["outline_mm"] = corners;
  }
  std::vector<Json> box = the_box(plan)["outline_mm"];
  std::reverse(box.begin(), box.end());
  the_box(plan)["outline_mm"] = box;
  check_twins("reversed", plan, shifted(plan, {0, 1, 0}), {"R2"});
}

TEST_CASE("walls: a plan moved as a whole, cavity and all, keeps its verdict") {
  for (const std::array<Um, 3> by : {std::array<Um, 3>{123'457, -77'003, 31'001}, {-1'300'000, 9, 1}}) {
    Json plan = good_plan();
    shift_box(the_box(plan), by);
    for (Json& entry : plan["job"]["cavities"][0]["sections"]["at"]) {
      nudge(entry["station_mm"], by[2]);
      for (Json& corner : entry["outline_mm"]) nudge(corner[0], by[0]), nudge(corner[1], by[1]);
    }
    check_twins("moved", plan, shifted(plan, {-1, 0, 0}), {"R2"});
  }
}
