/// Boxes around the rows: outlines, fittings, reliefs, rings, parts.

#include <doctest/doctest.h>

#include <algorithm>

#include "cavities.hpp"
#include "cellstow/packing/pack.hpp"
#include "turning.hpp"

using namespace cellstow;
using namespace cellstow::test;

namespace {

survey::Rules shop_rules(survey::BoxOutline outline) {
  survey::Rules rules;
  rules.arrangement = survey::Arrangement::rows;
  rules.box_outline = outline;
  return rules;
}

survey::Cell big_cell() { return cell(72'000, 174'000, 207'000); }

const Corners l_shape{{0, 0}, {900'000, 0}, {900'000, 300'000}, {450'000, 300'000}, {450'000, 700'000}, {0, 700'000}};

}  // namespace

TEST_CASE("box: a stepped outline fills an L-shaped bay where a rectangle cannot") {
  const auto cavity = shaft(l_shape, 260'000);
  const auto stepped = packing::pack_cavity(cavity, big_cell(), shop_rules(survey::BoxOutline::stepped));
  const auto rectangle = packing::pack_cavity(cavity, big_cell(), shop_rules(survey::BoxOutline::rectangle));
  CHECK(stepped.proven);
  CHECK(rectangle.proven);
  CHECK(stepped.cells > rectangle.cells);
  REQUIRE(rectangle.boxes.size() == 1);
  CHECK(rectangle.boxes[0].outline.size() == 4);
  CHECK(stepped.boxes[0].outline.size() >= 6);
}

// In a convex cavity of four walls a box has its sides along those walls and square with the car: eight at most. So it
// holds what blocks without a box hold that keep its sheet and liner as well from every wall.
TEST_CASE("box: slanting walls cost a convex cavity nothing") {
  std::mt19937_64 random(3);
  int slanting = 0;
  for (int round = 0; round < 20; ++round) {
    CAPTURE(round);
    const Corners bay = random_star(random, 4, 4, 380'000, 520'000);
    survey::Rules rules = shop_rules(survey::BoxOutline::any);
    rules.corner_relief = {};
    const auto boxed = packing::pack_cavity(shaft(bay, 290'000), big_cell(), rules);
    rules.body_clearance = rules.body_clearance + rules.wall + rules.liner;
    rules.box_outline = survey::BoxOutline::loose;
    CHECK(boxed.cells == packing::pack_cavity(shaft(bay, 290'000), big_cell(), rules).cells);
    CHECK(boxed.proven);
    REQUIRE(boxed.boxes.size() == 1);
    const auto& outline = boxed.boxes[0].outline;
    CHECK(outline.size() <= 8);
    for (std::size_t k = 0; k < outline.size(); ++k) {
      const auto &a = outline[k], &b = outline[(k + 1) % outline.size()];
      slanting += a.a != b.a && a.b != b.b;
    }
  }
  CHECK(slanting > 20);
}

TEST_CASE("box: a fitting beside the blocks has its room, and the count says what it costs") {
  auto cavity = shaft({{0, 0}, {700'000, 0}, {700'000, 400'000}, {0, 400'000}}, 260'000);
  const auto without = packing::pack_cavity(cavity, big_cell(), shop_rules(survey::BoxOutline::rectangle));
  cavity.fittings.push_back({"main fuse", {mm(170), mm(80), mm(90)}, 1, survey::FittingPlace::beside});
  const auto with = packing::pack_cavity(cavity, big_cell(), shop_rules(survey::BoxOutline::rectangle));
  CHECK(with.cells < without.cells);
  REQUIRE(with.boxes.size() == 1);
  REQUIRE(with.boxes[0].fittings.size() == 1);
  CHECK(with.fittings_without_place.empty());
  cavity.fittings[0].size = {mm(800), mm(80), mm(90)};
  const auto impossible = packing::pack_cavity(cavity, big_cell(), shop_rules(survey::BoxOutline::rectangle));
  CHECK(impossible.fittings_without_place == std::vector<std::string>{"main fuse"});
}

TEST_CASE("box: a pillar in the middle does not end up inside the box") {
  auto cavity = shaft({{0, 0}, {900'000, 0}, {900'000, 900'000}, {0, 900'000}}, 260'000);
  cavity.keep_outs.push_back({"pillar", survey::KeepOutKind::fixed, {},
                              survey::BoxShape{{mm(420), mm(420), mm(0)}, {mm(480), mm(480), mm(400)}}});
  const auto packing = packing::pack_cavity(cavity, big_cell(), shop_rules(survey::BoxOutline::stepped));
  REQUIRE(packing.boxes.size() == 1);
  CHECK(packing.cells > 0);
  CHECK(packing.bound >= packing.cells);
}

TEST_CASE("box: two halves that do not hang together make two boxes only where that is allowed") {
  auto cavity = shaft({{0, 0}, {900'000, 0}, {900'000, 400'000}, {0, 400'000}}, 260'000);
  cavity.keep_outs.push_back({"tunnel", survey::KeepOutKind::fixed, {},
                              survey::BoxShape{{mm(420), mm(-10), mm(0)}, {mm(480), mm(410), mm(400)}}});
  survey::Rules rules = shop_rules(survey::BoxOutline::stepped);
  const auto one = packing::pack_cavity(cavity, big_cell(), rules);
  rules.boxes_per_cavity = 2;
  const auto two = packing::pack_cavity(cavity, big_cell(), rules);
  CHECK(one.boxes.size() == 1);
  CHECK(two.boxes.size() == 2);
  CHECK(two.cells == 2 * one.cells);
}

TEST_CASE("box: the floor goes to the height that holds most, not to the lowest") {
  // Narrow below, wide above: 300 mm of shelf under the wide part.
  survey::Cavity cavity;
  cavity.name = "stepped bay";
  const Corners narrow{{0, 0}, {230'000, 0}, {230'000, 400'000}, {0, 400'000}};
  const Corners wide{{0, 0}, {900'000, 0}, {900'000, 400'000}, {0, 400'000}};
  for (const auto& [z, outline] : {std::pair{Um{0}, narrow}, {Um{100'000}, narrow}, {Um{101'000}, wide}, {Um{500'000}, wide}}) {
    cavity.sections.at.push_back({um(z), points(outline), {}});
  }
  const auto packing = packing::pack_cavity(cavity, big_cell(), shop_rules(survey::BoxOutline::stepped));
  REQUIRE(packing.boxes.size() == 1);
  CHECK(packing.boxes[0].z_bottom == mm(111));
  CHECK(packing.proven);
}

TEST_CASE("box: leaning walls measured across x give the same count as the same walls measured across z") {
  // A trough whose floor narrows: at the column's low end (y 100 to 700) it is narrowest.
  survey::Cavity across_x;
  across_x.name = "trough";
  across_x.sections.across = survey::Axis::x;
  const Corners section{{100'000, 0}, {700'000, 0}, {800'000, 300'000}, {0, 300'000}};
  for (const Um x : {Um{0}, Um{600'000}}) across_x.sections.at.push_back({um(x), points(section), {}});
  const auto rules = shop_rules(survey::BoxOutline::stepped);
  const auto packing = packing::pack_cavity(across_x, big_cell(), rules);
  CHECK(packing.proven);
  CHECK(packing.cells > 0);
  // The lid reaches at most 290: floor at 53 at the highest, where the walls stand 53/3 mm further out.
  const Um floor = packing.boxes[0].z_bottom.um();
  const Um grow = (floor - 10'000) / 3;
  const auto shaft_there = shaft({{0, 100'000 - grow}, {600'000, 100'000 - grow}, {600'000, 700'000 + grow}, {0, 700'000 + grow}}, 260'000);
  CHECK(packing::pack_cavity(shaft_there, big_cell(), rules).cells == packing.cells);
}

TEST_CASE("box: a wanted count is met exactly, with fewer blocks than the fullest packing") {
  const auto cavity = shaft(l_shape, 260'000);
  const auto rules = shop_rules(survey::BoxOutline::stepped);
  const auto most = packing::pack_cavity(cavity, big_cell(), rules);
  packing::PackOptions options;
  options.enough = most.cells - 3;
  const auto wanted = packing::pack_cavity(cavity, big_cell(), rules, options);
  CHECK(wanted.cells == most.cells - 3);
  CHECK(wanted.boxes[0].blocks.size() <= most.boxes[0].blocks.size());
}

// Two stretches that lean apart, in a cavity three boxes high: the roomiest floor height lies between the critical ones, far
// from the middle. The sweep over single heights is the other way of finding it.
TEST_CASE("floor heights: in a tall leaning cavity nothing between the critical heights is missed") {
  const Um wide = 700'000;
  const auto lean = [&](Um low, Um high) {
    return points({{low, 0}, {low + wide, 0}, {high + wide, 1'000'000}, {high, 1'000'000}});
  };
  survey::Cavity cavity;
  cavity.name = "bay";
  cavity.sections.across = survey::Axis::x;
  cavity.sections.at = {{um(0), lean(0, 500'000), {}},
                        {um(100'000), lean(0, 500'000), {}},
                        {um(100'001), lean(750'000, 250'000), {}},
                        {um(206'000), lean(750'000, 250'000), {}}};
  for (const auto arrangement : {survey::Arrangement::rows, survey::Arrangement::mixed}) {
    survey::Rules rules;
    rules.arrangement = arrangement;
    const auto packing = packing::pack_cavity(cavity, big_cell(), rules);
    for (Um floor = 10'000; floor < 760'000; floor += 20'000) {
      packing::PackOptions options;
      options.only_floor = um(floor);
      const int cells = packing::pack_cavity(cavity, big_cell(), rules, options).cells;
      CHECK(cells <= packing.cells);
      CHECK(cells <= packing.bound);
    }
  }
}
