#pragma once
/// Invented boxes, cells and fixings for the tests of this stage.

#include <string>
#include <vector>

#include "cellstow/box/box.hpp"
#include "cellstow/survey/catalogue.hpp"
#include "cellstow/survey/job.hpp"

namespace samples {

namespace core = cellstow::core;
namespace survey = cellstow::survey;
namespace packing = cellstow::packing;
namespace box = cellstow::box;

inline core::Length mm(double value) { return core::Length::from_mm(value); }
inline core::Point3 point(double x, double y, double z) { return {mm(x), mm(y), mm(z)}; }

inline survey::Material material(const std::string& name, double density, double modulus,
                                 double proof, double ultimate, double bend, bool cracks = false) {
  survey::Material out;
  out.name = name;
  out.density_kg_per_m3 = density;
  out.elastic_modulus = core::Mpa::of(modulus);
  out.proof_strength = core::Mpa::of(proof);
  out.ultimate_strength = core::Mpa::of(ultimate);
  out.min_bend_radius_over_thickness = bend;
  out.bend_may_crack = cracks;
  return out;
}

inline survey::Thread thread(const std::string& name, double diameter, double area, double head,
                             double hole) {
  survey::Thread out;
  out.name = name;
  out.major_diameter = mm(diameter);
  out.stress_area_mm2 = area;
  out.head_width_mm = head;
  out.clearance_hole = mm(hole);
  return out;
}

inline survey::Catalogue catalogue() {
  survey::Catalogue out;
  for (const survey::Material& one : {material("EN AW-5754 H22", 2700, 70000, 130, 220, 1.5),
                                      material("EN AW-6061 T6", 2700, 70000, 240, 260, 4, true),
                                      material("S235", 7850, 210000, 235, 360, 1.5)})
    out.materials[one.name] = one;
  for (const survey::Thread& one :
       {thread("M5", 5, 14.2, 8, 5.5), thread("M6", 6, 20.1, 10, 6.6), thread("M8", 8, 36.6, 13, 9),
        thread("M10", 10, 58, 16, 11), thread("M12", 12, 84.3, 18, 13.5)})
    out.threads[one.name] = one;
  const auto bar = [&](const char* name, double width, double thickness) {
    out.flat_bars.push_back({name, mm(width), mm(thickness), mm(4000), "test", "test"});
  };
  for (const double width : {20, 25, 30, 40, 50, 60})
    for (const double thickness : {3, 4, 5, 6, 8}) bar("EN AW-6061 T6", width, thickness);
  for (const double width : {20, 30, 40, 50})
    for (const double thickness : {3, 5, 8}) bar("S235", width, thickness);
  return out;
}

inline survey::LoadCase load_case(const std::string& name, double x, double y, double z) {
  return {name, {core::AccelG::of(x), core::AccelG::of(y), core::AccelG::of(z)}};
}

inline survey::Rules rules() {
  survey::Rules out;
  const survey::Catalogue tables = catalogue();
  out.materials.wall = tables.materials.at("EN AW-5754 H22");
  out.materials.strap = tables.materials.at("EN AW-6061 T6");
  out.materials.hold_down = tables.materials.at("S235");
  out.materials.fasteners.name = "8.8";
  out.materials.fasteners.ultimate_strength = core::Mpa::of(800);
  out.materials.fasteners.proof_stress = core::Mpa::of(580);
  out.load_cases.name = "test cases";
  out.load_cases.cases = {
      load_case("20 g forward", -20, 0, 0),     load_case("20 g rearward", 20, 0, 0),
      load_case("15 g to the left", 0, -15, 0), load_case("15 g to the right", 0, 15, 0),
      load_case("10 g upward", 0, 0, 10),       load_case("10 g downward", 0, 0, -10)};
  return out;
}

inline survey::Cell cell() {
  survey::Cell out;
  out.name = "invented 72 x 174 x 207";
  out.thickness = mm(72);
  out.width = mm(174);
  out.height = mm(207);
  out.terminal_top = mm(222);
  out.mass = core::Kg::of(5.4);
  out.growth_percent = 3;
  return out;
}

/// A box with one block along x, of `cells` cells, at the place the block's rules give it.
inline box::Box box_with_block(int cells, const survey::Rules& rules) {
  const survey::Cell one = cell();
  const double length = cells * one.thickness.mm() + (cells - 1) * rules.between_cells.mm() +
                        2 * rules.end_plate.mm() + 2 * rules.strap_space.mm();
  box::Box out;
  out.mark = "TW";
  out.name = "tank well";
  packing::Block block;
  block.id = 1;
  block.cells = cells;
  block.body = {point(1000, 0, 300), point(1000 + length, 174, 507)};
  out.layout.blocks = {block};
  out.layout.outline = {{mm(994), mm(-6)},
                        {mm(1006 + length), mm(-6)},
                        {mm(1006 + length), mm(180)},
                        {mm(994), mm(180)}};
  out.layout.z_bottom = mm(294);
  out.layout.lid_top = mm(540);
  out.mass_full = core::Kg::of(cells * 5.4 + 8);
  out.centre_of_gravity = point(1000 + length / 2, 87, 400);
  return out;
}

}  // namespace samples
