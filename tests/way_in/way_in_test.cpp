/// Whole boxes on their way in: overhangs, lids, cells, and what is said about it.

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "cellstow/way_in/way_in.hpp"
#include "reference.hpp"

using namespace cellstow;
using namespace cellstow::way_in;
using core::Length;
using reference::opening_z;
using reference::p2;
using reference::rectangle;

namespace {

Length mm(double value) { return Length::from_mm(value); }
core::Point3 p3(double x, double y, double z) { return {mm(x), mm(y), mm(z)}; }

/// A shaft 600 x 400, from z 200 to z 600, sections across z, opening of the same size at z 620.
survey::Cavity shaft() {
  survey::Cavity cavity;
  cavity.name = "well";
  for (const double z : {200.0, 600.0}) cavity.sections.at.push_back({mm(z), rectangle(0, 0, 600, 400), {}});
  cavity.way_in = {opening_z(rectangle(0, 0, 600, 400), 620)};
  return cavity;
}

survey::Cell cell() {
  survey::Cell out;
  out.thickness = mm(50);
  out.width = mm(150);
  out.height = mm(200);
  out.terminal_top = mm(210);
  out.mass = core::Kg::of(3);
  return out;
}

/// A box over the given plan, its cells one row of `cells` along x from its low corner.
box::Box box_of(double x0, double y0, double x1, double y1, int cells) {
  box::Box out;
  out.mark = "W";
  out.layout.outline = rectangle(x0, y0, x1, y1);
  out.layout.z_bottom = mm(210);
  out.layout.lid_top = mm(450);
  for (int k = 0; k < cells; ++k) {
    packing::PlacedCell placed;
    placed.body = {p3(x0 + 10 + 50 * k, y0 + 10, 216), p3(x0 + 60 + 50 * k, y0 + 160, 416)};
    placed.block = 1;
    placed.place = k + 1;
    out.layout.cells.push_back(placed);
  }
  out.mass_full = core::Kg::of(40);
  out.mass_empty = core::Kg::of(12);
  return out;
}

survey::KeepOut block(const char* name, core::Point3 low, core::Point3 high, survey::KeepOutKind kind = survey::KeepOutKind::fixed) {
  survey::KeepOut out;
  out.name = name;
  out.kind = kind;
  out.shape = survey::BoxShape{low, high};
  return out;
}

BoxWay way_of(const box::Box& box, const survey::Cavity& cavity, survey::Rules rules = {}) {
  return find_way_in(box, cavity, cell(), rules);
}

}  // namespace

TEST_CASE("way in: straight down an open shaft, with the gap to its walls") {
  const BoxWay way = way_of(box_of(12, 10, 500, 300, 4), shaft());
  CHECK(way.way == Way::whole);
  CHECK(way.check.ok);
  CHECK(way.whole->passes[0].straight);
  CHECK(way.whole->passes[0].gap_mm == doctest::Approx(10));
  REQUIRE(way.whole->passage.gap_mm);
  CHECK(*way.whole->passage.gap_mm == doctest::Approx(10));
  CHECK(way.lid.ok());
  CHECK_FALSE(way.lid.room_mm);
  CHECK(way.cells_out.can == 4);
  CHECK(way.sentences[0].find("goes in finished") != std::string::npos);
}

TEST_CASE("way in: an opening that is too small fails one check, by the millimetres in the way") {
  survey::Cavity cavity = shaft();
  cavity.way_in = {opening_z(rectangle(0, 0, 470, 230), 620)};
  const BoxWay way = way_of(box_of(10, 10, 490, 390, 4), cavity);
  CHECK(way.way == Way::none);
  CHECK_FALSE(way.check.ok);
  CHECK(way.check.limit == 0);
  // Stood on end its shadow is 380 by 238 without its lid: 8 over 230.
  CHECK(way.check.value == doctest::Approx(8).epsilon(1e-6));
  CHECK(way.check.cure.find("edge") != std::string::npos);
  CHECK(way.sentences[0].find("DOES NOT GO IN") != std::string::npos);
}

TEST_CASE("way in: a ledge over its place: let down beside it and pushed under, as far as there is room") {
  survey::Cavity cavity = shaft();
  cavity.keep_outs = {block("shelf", p3(-10, -10, 500), p3(60, 410, 520))};
  const BoxWay way = way_of(box_of(10, 10, 490, 390, 4), cavity);
  CHECK(way.way == Way::whole);
  REQUIRE(way.whole->passage.notes.size() > 0);
  CHECK(way.whole->passage.notes[0].find("pushed over") != std::string::npos);
  // 50 mm must be free beside it; with 40 there is no way.
  const BoxWay stuck = way_of(box_of(10, 10, 560, 390, 4), cavity);
  CHECK(stuck.whole->passage.room == Room::blocked);
  CHECK(stuck.check.value == doctest::Approx(50).epsilon(0.01));
  CHECK(stuck.check.where.find("way to its place") != std::string::npos);
}

TEST_CASE("way in: what can be taken out is named, not counted as blocked") {
  survey::Cavity cavity = shaft();
  cavity.keep_outs = {block("spare wheel", p3(100, 100, 500), p3(300, 300, 590), survey::KeepOutKind::removable)};
  const BoxWay way = way_of(box_of(10, 10, 560, 390, 4), cavity);
  CHECK(way.way == Way::whole);
  CHECK(way.whole->passage.room == Room::after_taking_out);
  CHECK(way.sentences[0].find("spare wheel") != std::string::npos);
  CHECK(way.lid.ok());
}

TEST_CASE("way in: too heavy for the shop: empty first, then the cells, those under the shelf before the others") {
  survey::Cavity cavity = shaft();
  cavity.keep_outs = {block("shelf", p3(-10, -10, 470), p3(80, 410, 520))};
  survey::Rules rules;
  rules.lift_limit = core::Kg::of(20);
  const BoxWay way = way_of(box_of(10, 10, 490, 390, 4), cavity, rules);
  CHECK(way.way == Way::empty_then_cells);
  CHECK(way.cells.from_above == 2);
  REQUIRE(way.cells.pushed.size() == 2);
  // The first cell stands from x 20 to 70, the second from 70 to 120: free column from x 80 on.
  CHECK(way.cells.pushed[0].place == 1);
  CHECK(way.cells.pushed[0].slide_mm == doctest::Approx(60));
  CHECK(way.cells.pushed[0].towards == "front");
  CHECK(way.cells.pushed[1].slide_mm == doctest::Approx(10));
  CHECK_FALSE(way.cautions.empty());
  // Over the lid there are 20 mm to the shelf: enough for 2 mm of lid and 10 mm of posts. A cell of 210 does not come out under it.
  REQUIRE(way.lid.room_mm);
  CHECK(*way.lid.room_mm == doctest::Approx(20).epsilon(0.01));
  CHECK(way.lid.needed_mm == doctest::Approx(12));
  CHECK(way.lid.ok());
  CHECK(way.cells_out.can == 2);
  CHECK(way.cells_out.least_room_mm == doctest::Approx(22).epsilon(0.01));
}

TEST_CASE("way in: tilted through a short opening, with and without room to set it down") {
  survey::Cavity cavity = shaft();
  cavity.way_in = {opening_z(rectangle(60, 0, 430, 400), 620)};
  const box::Box box = box_of(60, 10, 460, 390, 4);
  const BoxWay shallow = way_of(box, cavity);
  CHECK(shallow.whole->passes[0].manner == Manner::tilted);
  CHECK_FALSE(shallow.decided);
  // Deep and wide below the opening: room to set it down.
  for (survey::Section& section : cavity.sections.at) section.outline = rectangle(-300, -10, 900, 410);
  cavity.sections.at[1].station = mm(900);
  cavity.way_in[0].station = mm(900);
  const BoxWay deep = way_of(box, cavity);
  CHECK(deep.decided);
  CHECK((deep.way == Way::whole_tilted || deep.way == Way::empty_then_cells));
}

TEST_CASE("way in: sections across y: the flat roof is the shut lid, a roof behind a step is an overhang") {
  survey::Cavity cavity;
  cavity.name = "bay";
  cavity.sections.across = core::Axis::y;
  const std::vector<core::Point2> open{p2(0, 200), p2(600, 200), p2(600, 560), p2(0, 600)};
  const std::vector<core::Point2> stepped{p2(0, 200), p2(600, 200), p2(600, 560), p2(150, 590), p2(150, 480), p2(0, 480)};
  cavity.way_in = {opening_z(rectangle(-20, -20, 620, 420), 640)};
  const box::Box box = box_of(100, 20, 580, 380, 4);
  for (const double y : {0.0, 400.0}) cavity.sections.at.push_back({mm(y), open, {}});
  CHECK(way_of(box, cavity).whole->passage.room == Room::free);
  for (survey::Section& section : cavity.sections.at) section.outline = stepped;
  const BoxWay under = way_of(box, cavity);
  CHECK(under.whole->passage.room == Room::blocked);
  CHECK(under.whole->passage.in_the_way[0].what == "cavity wall");
  CHECK(under.check.value == doctest::Approx(50).epsilon(0.02));
}

TEST_CASE("way in: from below, and through two openings in turn") {
  survey::Cavity cavity = shaft();
  cavity.way_in = {opening_z(rectangle(0, 0, 600, 400), 190)};
  cavity.way_in[0].move = {0, 0, 1};
  const BoxWay below = way_of(box_of(12, 10, 500, 300, 4), cavity);
  CHECK(below.way == Way::whole);
  CHECK_FALSE(below.cells.looked_at);
  CHECK(below.lid.room_mm.value_or(0) == doctest::Approx(150).epsilon(0.01));
  survey::WayIn door;
  door.name = "door";
  door.across = core::Axis::y;
  door.station = mm(900);
  door.outline = rectangle(0, 700, 300, 1200);
  door.move = {0, -1, 0};
  cavity = shaft();
  cavity.way_in.insert(cavity.way_in.begin(), door);
  const BoxWay both = way_of(box_of(12, 10, 500, 300, 4), cavity);
  REQUIRE(both.whole->passes.size() == 2);
  CHECK(both.whole->passes[0].manner == Manner::turned);
  CHECK(both.whole->passes[1].straight);
  CHECK(both.way == Way::whole);
}

TEST_CASE("way in: brackets count when they are given") {
  const Piece bracket{"bracket", rectangle(500, 100, 604, 140), mm(300), mm(306)};
  survey::Rules rules;
  rules.lift_limit = core::Kg::of(50);
  const BoxWay way = find_way_in(box_of(10, 10, 500, 390, 4), shaft(), cell(), rules, {bracket});
  CHECK(way.whole->passes[0].manner == Manner::upright);
  CHECK_FALSE(way.whole->passes[0].straight);
}

TEST_CASE("way in: a box at a heading is taken where it stands in the car") {
  // Its corners in the box's frame, turned by 30 degrees about the car's origin: x = u cos - v sin, y = u sin + v cos.
  box::Box box = box_of(200, 0, 460, 100, 4);
  box.layout.heading = core::Heading::from_degrees(30);
  const double cos = std::sqrt(3.0) / 2, sin = 0.5;
  const double left = 200 * cos - 100 * sin, right = 460 * cos, low = 200 * sin, high = 460 * sin + 100 * cos;
  const BoxWay way = way_of(box, shaft());
  CHECK(way.way == Way::whole);
  CHECK(way.whole->passes[0].straight);
  CHECK(way.whole->passes[0].gap_mm == doctest::Approx(std::min({left, 600 - right, low, 400 - high})).epsilon(1e-4));
  CHECK(way.whole->passage.room == Room::free);
  // A shelf over its front end, as far as a cell's far side: that cell is pushed along the box.
  survey::Cavity cavity = shaft();
  cavity.keep_outs = {block("shelf", p3(0, 0, 470), p3(210, 200, 520))};
  CHECK(way_of(box, cavity).cells_out.can < 4);
  CHECK(way_of(box, cavity).cells_out.can > 0);
}
