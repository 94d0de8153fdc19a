#include "cellstow/box/build_box.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "cellstow/box/marks.hpp"
#include "cellstow/box/masses.hpp"
#include "cellstow/box/plan_outline.hpp"
#include "cellstow/box/stack.hpp"

namespace cellstow::box {
namespace {

std::array<Length, 2> bounding(const std::vector<Point2>& outline) {
  Point2 low = outline.front(), high = outline.front();
  for (const Point2& p : outline) {
    low = {std::min(low.a, p.a), std::min(low.b, p.b)};
    high = {std::max(high.a, p.a), std::max(high.b, p.b)};
  }
  return {high.a - low.a, high.b - low.b};
}

/// Corners of everything that stands loose in the cavity.
std::vector<Point2> content_corners(const packing::BoxLayout& layout) {
  std::vector<Point2> corners;
  const auto add = [&corners](const packing::Cuboid& body) {
    corners.push_back({body.low.x, body.low.y});
    corners.push_back({body.high.x, body.high.y});
  };
  for (const packing::Block& block : layout.blocks) add(block.body);
  for (const packing::PlacedCell& cell : layout.cells) add(cell.body);
  for (const packing::PlacedFitting& fitting : layout.fittings) add(fitting.body);
  return corners;
}

void set_sizes(Box& box, const survey::Rules& rules) {
  const packing::BoxLayout& layout = box.layout;
  const bool loose = layout.outline.empty();
  const std::vector<Point2> corners = loose ? content_corners(layout) : layout.outline;
  const Length height = layout.lid_top - layout.z_bottom;
  if (corners.empty()) return;
  const auto [outside_x, outside_y] = bounding(corners);
  box.outside = box.inside = {outside_x, outside_y, height};
  if (loose) return;
  const auto [inside_x, inside_y] = bounding(inset(layout.outline, rules.flange + rules.wall));
  box.inside = {inside_x, inside_y, height - rules.floor - rules.lid};
}

Point3 in_car(core::Heading heading, const Point3& in_box) {
  const Point2 plan = core::to_car(heading, Point2{in_box.x, in_box.y});
  return {plan.a, plan.b, in_box.z};
}

void set_masses(Box& box, const survey::Cell& cell, const survey::Rules& rules) {
  const std::vector<MassLump> lumps = mass_lumps(box.layout, cell, rules);
  const double liner_kg = mass_of_kg(lumps, LumpKind::liner);
  const double plates_kg = mass_of_kg(lumps, LumpKind::end_plate);
  box.mass_cells = Kg::of(mass_of_kg(lumps, LumpKind::cell));
  box.mass_sheet = Kg::of(mass_of_kg(lumps, LumpKind::sheet));
  box.mass_hardware = Kg::of(plates_kg + mass_of_kg(lumps, LumpKind::strap) + liner_kg);
  box.mass_empty = box.mass_sheet + Kg::of(liner_kg) + Kg::of(plates_kg);
  box.mass_full = box.mass_cells + box.mass_sheet + box.mass_hardware;
  box.centre_of_gravity = in_car(box.layout.heading, centre_of_gravity(lumps));
}

void note_masses(Box& box) {
  box.notes.push_back(fmt::format(
      "weights: end plates as aluminium plate; {:.2f} kg allowed per block for its strap until "
      "the strap is designed; liner as polymer sheet of {:.0f} kg/m3 (common practice)",
      strap_allowance_kg, liner_density_kg_per_m3));
  if (!box.layout.fittings.empty()) {
    box.notes.push_back(
        "weights: fittings are counted as 0 kg, the job file gives them no weight; add them "
        "to what is added to the car");
  }
}

/// Heavier than one person may lift: how it gets in all the same.
std::string lifting_caution(const Box& box, const survey::Rules& rules) {
  const double full_kg = box.mass_full.value(), empty_kg = box.mass_empty.value(), limit_kg = rules.lift_limit.value();
  if (box.layout.outline.empty()) {
    return fmt::format("{}: {:.1f} kg in all, over the shop's lifting limit of {:.1f} kg: "
                       "carry it in block by block or cell by cell",
                       box.mark, full_kg, limit_kg);
  }
  if (box.mass_empty <= rules.lift_limit) {
    return fmt::format("{}: {:.1f} kg full, over the shop's lifting limit of {:.1f} kg: load "
                       "the cells one by one in the car; empty box {:.1f} kg",
                       box.mark, full_kg, limit_kg, empty_kg);
  }
  return fmt::format("{}: {:.1f} kg empty and {:.1f} kg full, both over the shop's lifting "
                     "limit of {:.1f} kg: use a crane or hoist",
                     box.mark, empty_kg, full_kg, limit_kg);
}

void note_lifting(Box& box, const survey::Rules& rules) {
  static const std::string guidance =
      "lifting, for guidance: about 25 kg for one person close to the body at waist height; two "
      "people together manage about two thirds of the sum of what each lifts alone, so about "
      "33 kg; less over a bonnet or through a door (common practice; local rules on manual "
      "handling come first)";
  box.cautions.clear();
  std::erase(box.notes, guidance);
  if (box.mass_full <= rules.lift_limit) return;
  box.cautions.push_back(lifting_caution(box, rules));
  box.notes.push_back(guidance);
}

void note_heading(Box& box) {
  const core::Heading heading = box.layout.heading;
  if (heading.is_square()) return;
  box.notes.push_back(fmt::format(
      "turned {:.2f} degrees in the car, its rear towards the car's {}: sizes along the box are its own, the walls "
      "are named after the side of the car they look at most",
      std::abs(heading.degrees()), heading.degrees() > 0 ? "right" : "left"));
}

}  // namespace

Box build_box(const packing::BoxLayout& layout, const survey::Cavity& cavity,
              const survey::Cell& cell, const survey::Rules& rules, const std::string& mark,
              int number) {
  Box box;
  box.mark = box_mark(mark, number);
  box.name = number > 1 ? fmt::format("{}, box {}", cavity.name, number) : cavity.name;
  box.cavity = cavity.name;
  box.layout = layout;
  set_sizes(box, rules);
  box.stack = stack_of_heights(layout, cell, rules);
  set_masses(box, cell, rules);
  note_lifting(box, rules);
  note_heading(box);
  note_masses(box);
  return box;
}

void take_sheet_mass(Box& box, Kg sheet, const survey::Rules& rules) {
  const Kg more = sheet - box.mass_sheet;
  box.mass_sheet = sheet;
  box.mass_empty = box.mass_empty + more;
  box.mass_full = box.mass_full + more;
  note_lifting(box, rules);
}

}  // namespace cellstow::box
