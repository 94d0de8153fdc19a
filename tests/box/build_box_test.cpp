#include "cellstow/box/build_box.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "cellstow/box/masses.hpp"
#include "cellstow/box/plan_outline.hpp"
#include "cellstow/box/stack.hpp"

using namespace cellstow;
using box::Box;
using box::build_box;
using core::Length;
using core::Point2;
using core::Point3;

namespace {

Length mm(double value) { return Length::from_mm(value); }
Point2 p2(double a, double b) { return {mm(a), mm(b)}; }
Point3 p3(double x, double y, double z) { return {mm(x), mm(y), mm(z)}; }

/// Generic 160 Ah plastic-cased cell; heights as in the shop's stack of 305 mm.
survey::Cell cell_160ah() {
  survey::Cell cell;
  cell.name = "160 Ah";
  cell.thickness = mm(71);
  cell.width = mm(182);
  cell.height = mm(256);
  cell.terminal_top = mm(278.5);
  cell.mass = core::Kg::of(5.6);
  return cell;
}

survey::Rules rules_3mm() {
  survey::Rules rules;
  rules.materials.wall.name = "EN AW-5754 H22";
  rules.materials.wall.density_kg_per_m3 = 2700;
  return rules;
}

/// One block of `n` cells along u with its low corner (strap space included) at (x, y).
void add_block(packing::BoxLayout& layout, const survey::Cell& cell, const survey::Rules& rules,
               int n, double x, double y, double z) {
  const int id = static_cast<int>(layout.blocks.size()) + 1;
  const double ends = rules.end_plate.mm() + rules.strap_space.mm();
  const double length = n * cell.thickness.mm() + 2 * ends;
  const packing::Cuboid body{p3(x, y, z),
                             p3(x + length, y + cell.width.mm(), z + cell.height.mm())};
  layout.blocks.push_back({id, n, packing::Run::u, survey::Stance::upright, body});
  for (int i = 0; i < n; ++i) {
    const double at = x + ends + i * cell.thickness.mm();
    layout.cells.push_back(
        {{p3(at, y, z), p3(at + cell.thickness.mm(), y + cell.width.mm(), z + cell.height.mm())},
         survey::Stance::upright,
         id,
         i + 1});
  }
}

/// Box 382 x 635 x 305 outside, low corner at (1200, -300, 330), with three blocks of four.
packing::BoxLayout car_a_box(double blocks_x = 1210) {
  packing::BoxLayout layout;
  layout.outline = {p2(1200, -300), p2(1582, -300), p2(1582, 335), p2(1200, 335)};
  layout.z_bottom = mm(330);
  layout.lid_top = mm(635);
  for (int row = 0; row < 3; ++row) {
    add_block(layout, cell_160ah(), rules_3mm(), 4, blocks_x, -290 + row * 190, 336);
  }
  return layout;
}

survey::Cavity cavity_named(const std::string& name) {
  survey::Cavity cavity;
  cavity.name = name;
  return cavity;
}

Box car_a() {
  return build_box(car_a_box(), cavity_named("tank well"), cell_160ah(), rules_3mm(), "TW", 1);
}

bool any_contains(const std::vector<std::string>& lines, const std::string& text) {
  return std::any_of(lines.begin(), lines.end(),
                     [&](const std::string& line) { return line.find(text) != std::string::npos; });
}

}  // namespace

TEST_CASE("box 382 x 635 x 305: sizes by hand") {
  const Box box = car_a();
  CHECK(box.mark == "TW");
  CHECK(box.outside == std::array<Length, 3>{mm(382), mm(635), mm(305)});
  CHECK(box.inside == std::array<Length, 3>{mm(376), mm(629), mm(300)});
}

TEST_CASE("box 382 x 635 x 305: masses by hand") {
  const Box box = car_a();
  // 2700 kg/m3: 242570 mm2 x (3 + 2) mm + 2022 mm x 300 mm x 3 mm = 3 032 650 mm3
  CHECK(box.mass_sheet.value() == doctest::Approx(8.188155));
  CHECK(box.mass_cells.value() == doctest::Approx(12 * 5.6));
  // liner 950 kg/m3: 376 x 629 x 3 + 2 (373 + 626) x 297 x 3; plates 6 off 10 x 182 x 256 in 2700
  // kg/m3
  const double liner_kg = (376 * 629 * 3 + 2 * (373 + 626) * 297 * 3) * 950e-9;
  const double plates_kg = 6 * 10 * 182 * 256 * 2700e-9;
  CHECK(box.mass_hardware.value() == doctest::Approx(liner_kg + plates_kg + 3 * 0.25));
  CHECK(box.mass_empty.value() == doctest::Approx(8.188155 + liner_kg + plates_kg));
  CHECK(box.mass_full.value() ==
        doctest::Approx(12 * 5.6 + 8.188155 + liner_kg + plates_kg + 0.75));
}

TEST_CASE("box: centre of gravity against a sum written out") {
  // One block of four, off centre, in a 400 x 300 x 300 box at the origin; no liner to keep the sum
  // short.
  survey::Rules rules = rules_3mm();
  rules.liner = Length();
  packing::BoxLayout layout;
  layout.outline = {p2(0, 0), p2(400, 0), p2(400, 300), p2(0, 300)};
  layout.z_bottom = mm(0);
  layout.lid_top = mm(300);
  add_block(layout, cell_160ah(), rules, 4, 20, 10, 3);
  const Box box = build_box(layout, cavity_named("boot"), cell_160ah(), rules, "BO", 1);

  const double d = 2700e-9, wall_z = 3 + 295 / 2.0;
  const double plate = 10 * 182 * 256 * d;
  struct Term {
    double kg, x, y, z;
  };
  const Term terms[] = {{4 * 5.6, 20 + 16 + 142, 101, 131},             // cells
                        {400 * 300 * 3 * d, 200, 150, 1.5},             // floor
                        {400 * 300 * 2 * d, 200, 150, 299},             // lid
                        {397 * 295 * 3 * d, 3 + 198.5, 1.5, wall_z},    // left, from x = 3
                        {297 * 295 * 3 * d, 398.5, 3 + 148.5, wall_z},  // rear, from y = 3
                        {397 * 295 * 3 * d, 198.5, 298.5, wall_z},  // right, from x = 397 down to 0
                        {297 * 295 * 3 * d, 1.5, 148.5, wall_z},    // front, from y = 297 down to 0
                        {plate, 20 + 6 + 5, 101, 131},
                        {plate, 20 + 316 - 6 - 5, 101, 131},
                        {0.25, 20 + 158, 101, 131}};
  double kg = 0, x = 0, y = 0, z = 0;
  for (const Term& t : terms) kg += t.kg, x += t.kg * t.x, y += t.kg * t.y, z += t.kg * t.z;
  CHECK(box.mass_full.value() == doctest::Approx(kg));
  CHECK(box.centre_of_gravity.x.mm() == doctest::Approx(x / kg).epsilon(1e-5));
  CHECK(box.centre_of_gravity.y.mm() == doctest::Approx(y / kg).epsilon(1e-5));
  CHECK(box.centre_of_gravity.z.mm() == doctest::Approx(z / kg).epsilon(1e-5));
}

TEST_CASE("stack of heights: every layer of the 305 mm box") {
  // common practice: 3 floor, 3 liner, 256 case, 22.5 post, link and bolt, 15 headroom, 2 lid
  const Box box = car_a();
  const std::pair<const char*, double> layers[] = {
      {"floor sheet", 3}, {"liner", 3},
      {"cell case", 256}, {"live metal above the case", 22.5},
      {"headroom", 15},   {"spare height", 3.5},
      {"lid", 2}};
  REQUIRE(box.stack.size() == 7);
  Length top;
  for (std::size_t i = 0; i < 7; ++i) {
    CHECK(box.stack[i].name == layers[i].first);
    CHECK(box.stack[i].thickness == mm(layers[i].second));
    top = top + box.stack[i].thickness;
    CHECK(box.stack[i].top == top);
  }
  CHECK(top == mm(305));
}

TEST_CASE("stack of heights: two tiers and a fitting above still add up") {
  const survey::Cell cell = cell_160ah();
  const survey::Rules rules = rules_3mm();
  packing::BoxLayout layout;
  layout.outline = {p2(0, 0), p2(400, 0), p2(400, 300), p2(0, 300)};
  layout.lid_top = mm(750.123);
  add_block(layout, cell, rules, 4, 20, 10, 6);
  add_block(layout, cell, rules, 4, 20, 10, 304.5);
  layout.fittings.push_back(
      {"main fuse", survey::FittingPlace::above, {p3(50, 50, 600), p3(220, 130, 690)}});
  const auto stack = box::stack_of_heights(layout, cell, rules);
  std::vector<std::string> names;
  for (const auto& layer : stack) names.push_back(layer.name);
  CHECK(names == std::vector<std::string>{
                     "floor sheet", "liner", "cell case, tier 1", "between tiers",
                     "cell case, tier 2", "live metal above the case", "headroom",
                     "spare height under the fitting", "fitting above", "spare height", "lid"});
  CHECK(stack.back().top == layout.lid_top);
  CHECK(stack[8].thickness == mm(90));
  CHECK(stack[9].thickness == mm(58.123));
}

TEST_CASE("live metal counts only where posts look up") {
  CHECK(box::live_metal_above_case(cell_160ah(), survey::Stance::upright) == mm(22.5));
  CHECK(box::live_metal_above_case(cell_160ah(), survey::Stance::on_edge) == Length());
}

TEST_CASE("the second box of a cavity has its number in mark and name") {
  const Box second =
      build_box(car_a_box(), cavity_named("tank well"), cell_160ah(), rules_3mm(), "TW", 2);
  CHECK(second.mark == "TW2");
  CHECK(second.name == "tank well, box 2");
}

TEST_CASE("the sheet's mass as it is cut goes into every sum and into what is said of lifting") {
  Box box = car_a();
  const double empty = box.mass_empty.value(), full = box.mass_full.value(), sheet = box.mass_sheet.value();
  box::take_sheet_mass(box, core::Kg::of(sheet + 2), rules_3mm());
  CHECK(box.mass_empty.value() == doctest::Approx(empty + 2));
  CHECK(box.mass_full.value() == doctest::Approx(full + 2));
  REQUIRE(box.cautions.size() == 1);
  CHECK(box.cautions[0].find("empty box 20.1 kg") != std::string::npos);
}

TEST_CASE("lifting: over the limit the cells go in one by one") {
  const Box box = car_a();
  REQUIRE(box.cautions.size() == 1);
  CHECK(box.cautions[0].find("load the cells one by one in the car; empty box 18.1 kg") !=
        std::string::npos);
  survey::Rules strong = rules_3mm();
  strong.lift_limit = core::Kg::of(200);
  CHECK(build_box(car_a_box(), cavity_named("tank well"), cell_160ah(), strong, "TW", 1)
            .cautions.empty());
  survey::Rules weak = rules_3mm();
  weak.lift_limit = core::Kg::of(10);
  CHECK(any_contains(
      build_box(car_a_box(), cavity_named("tank well"), cell_160ah(), weak, "TW", 1).cautions,
      "crane"));
}

TEST_CASE("loose: no sheet, sizes of the contents") {
  packing::BoxLayout layout;
  add_block(layout, cell_160ah(), rules_3mm(), 4, 20, 10, 0);
  layout.lid_top = mm(278.5);
  const Box box = build_box(layout, cavity_named("boot"), cell_160ah(), rules_3mm(), "BO", 1);
  CHECK(box.mass_sheet.value() == 0);
  CHECK(box.outside == std::array<Length, 3>{mm(316), mm(182), mm(278.5)});
  CHECK(box.stack.size() == 2);
  CHECK(box.stack.back().top == mm(278.5));
  CHECK(box.mass_empty.value() == doctest::Approx(2 * 10 * 182 * 256 * 2700e-9));
}
