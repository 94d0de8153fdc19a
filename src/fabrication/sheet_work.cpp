#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>

#include "cellstow/box/masses.hpp"
#include "cellstow/fabrication/cut_check.hpp"
#include "cellstow/fabrication/sheet_work.hpp"
#include "construct.hpp"
#include "etch.hpp"

namespace cellstow::fabrication {
namespace {

/// Largest inside radius along the floor's folded edges that every content still clears: for a corner dx from the wall's inner
/// face and dz above the floor, (R - dx)^2 + (R - dz)^2 = R^2 gives R = dx + dz + sqrt(2 dx dz).
double radius_that_clears(const Shape& shape, const packing::BoxLayout& layout, bool all_four_sides) {
  double least = 1e9;
  const std::size_t first = shape.sides[0].length >= shape.sides[1].length ? 0 : 1;
  const auto look_at = [&](const packing::Cuboid& body) {
    const double dz = body.low.z.mm() - shape.floor_top;
    for (std::size_t i = 0; i < 4; ++i) {
      if (!all_four_sides && i % 2 != first) continue;
      const Side& side = shape.sides[i];
      const auto in = [&](const core::Point3& p) {
        return (p.x.mm() - side.from.a) * side.inward.a + (p.y.mm() - side.from.b) * side.inward.b - shape.wall;
      };
      const double dx = std::max(0.0, std::min(in(body.low), in(body.high)));
      least = std::min(least, dx + dz + std::sqrt(2 * dx * dz));
    }
  };
  for (const packing::Block& block : layout.blocks) look_at(block.body);
  for (const packing::PlacedCell& cell : layout.cells) look_at(cell.body);
  for (const packing::PlacedFitting& fitting : layout.fittings) {
    if (fitting.place != survey::FittingPlace::wall) look_at(fitting.body);
  }
  return least;
}

/// Why the box cannot be folded from one sheet of floor and walls; empty when it can.
std::string why_not_folded(const Shape& shape, const packing::BoxLayout& layout, bool pan) {
  if (!shape.is_rectangle) return fmt::format("the outline has {} corners or slanting walls", shape.sides.size());
  if (shape.rules->wall != shape.rules->floor) {
    return fmt::format("floor and walls are of different sheet, {:g} and {:g} mm", shape.floor, shape.wall);
  }
  const double clears = radius_that_clears(shape, layout, pan);
  if (clears < shape.bend.inside_radius_mm) {
    return fmt::format("the folds' inside radius of {:.1f} mm would stand in the cells' way at the floor, {:.1f} mm is the most that clears "
                       "them; a thicker liner gives room",
                       shape.bend.inside_radius_mm, clears);
  }
  const double leg = shape.mouth - shape.z_bottom, least = shortest_leg_mm(shape.bend, *shape.rules);
  const double flat = std::min(shape.sides[0].length, shape.sides[1].length) - 2 * shape.bend.setback_mm();
  if (leg < least || flat < 4 * shape.wall) return fmt::format("too small to fold: {:.1f} mm deep, the shortest leg is {:.1f}", leg, least);
  return {};
}

Construction choose(const Shape& shape, const packing::BoxLayout& layout, std::string& why) {
  if (shape.rules->build == survey::Build::welded_panels) {
    why = "the shop's rule \"build\" asks for welded panels";
    return Construction::welded_panels;
  }
  const double depth = shape.mouth - shape.z_bottom, most = shape.rules->pan_depth_max.mm();
  const bool pan = depth <= most;
  const std::string why_not = why_not_folded(shape, layout, pan);
  if (!why_not.empty()) {
    why = why_not;
    return Construction::welded_panels;
  }
  why = pan ? fmt::format("{:.1f} mm deep, within the {:g} mm pan that the shop folds", depth, most)
            : fmt::format("{:.1f} mm deep, more than the {:g} mm pan that the shop folds", depth, most);
  return pan ? Construction::folded_pan : Construction::folded_wrap;
}

bool is_folded(const SheetWork& work) {
  return std::any_of(work.parts.begin(), work.parts.end(), [](const SheetPart& part) { return !part.flat.bends.empty(); });
}

/// From the rim of a round hole to the nearest edge of the bend, both on the flat.
double hole_from_bend(const FlatHole& hole, const BendLine& bend) {
  const double da = bend.to.a - bend.from.a, db = bend.to.b - bend.from.b, length2 = da * da + db * db;
  const double pa = hole.centre.a - bend.from.a, pb = hole.centre.b - bend.from.b;
  const double t = std::clamp((pa * da + pb * db) / length2, 0.0, 1.0);
  return std::hypot(pa - t * da, pb - t * db) - hole.diameter / 2 - bend.allowance / 2;
}

/// The hole nearest to a bend, measured against the thickness of its own sheet.
void check_holes(SheetWork& work) {
  double least = 1e9, needed = 0;
  std::string where;
  for (const SheetPart& part : work.parts) {
    for (const FlatHole& hole : part.flat.holes) {
      for (const BendLine& bend : part.flat.bends) {
        const double gap = hole_from_bend(hole, bend);
        if (hole.kind != HoleKind::round || gap - part.thickness >= least - needed) continue;
        least = gap;
        needed = part.thickness;
        where = part.mark + ", " + hole.what;
      }
    }
  }
  if (where.empty()) return;
  least = std::round(least * 1000) / 1000;  // a gap met exactly is met
  work.checks.push_back(core::check_at_least("hole beside a bend", where, least, needed, "mm",
                                             "rim to the bend's edge, one thickness; common practice, no source",
                                             fmt::format("move the hole {:.1f} mm away from the bend, or drill it after folding", needed - least)));
}

void check_bends(const Shape& shape, SheetWork& work) {
  const survey::Material& material = shape.rules->materials.wall;
  if (!is_folded(work)) return;
  work.checks.push_back(radius_check(material, shape.bend, shape.mark));
  check_holes(work);
  for (const std::string& caution : bend_cautions(material, shape.bend, *shape.rules, shape.mark)) work.cautions.push_back(caution);
  work.notes.push_back(fmt::format(
      "folds of the wall sheet: inside radius {:.1f} mm, K factor {:.2f} ({}), {:.2f} mm of flat in each square bend, {:.2f} mm less than "
      "its outside legs together",
      shape.bend.inside_radius_mm, shape.bend.k_factor, shape.bend.k_source, shape.bend.allowance_mm(), shape.bend.deduction_mm()));
}

void note_welds(const Shape& shape, SheetWork& work) {
  const survey::Material& m = shape.rules->materials.wall;
  work.notes.push_back("welds are laid from outside, so that cells and liner seat on clean metal; grind inside only where a bead stands proud");
  if (m.welded_proof_strength && *m.welded_proof_strength < m.proof_strength) {
    work.cautions.push_back(fmt::format(
        "{}: {} loses strength within about 25 mm of welds: {:.0f} instead of {:.0f} MPa proof. Welds run along every corner, the floor's edge "
        "and the mouth; put brackets and lifting points clear of them or count on the lower value",
        shape.mark, m.name, m.welded_proof_strength->value(), m.proof_strength.value()));
  }
}

/// Revision and marks on, weighed, and looked at as the laser shop will.
void finish_parts(const Shape& shape, SheetWork& work) {
  const double density = shape.rules->materials.wall.density_kg_per_m3;
  std::string faults;
  int good = 0;
  for (SheetPart& part : work.parts) {
    if (!etch(part)) part.notes.push_back("too small for its mark: tag it");
    part.mass = core::Kg::of(sheet_area(part.flat) * part.thickness * density * 1e-9);
    work.mass += part.mass * part.quantity;
    const std::vector<std::string> found = cut_faults(part);
    good += found.empty();
    for (const std::string& fault : found) faults += (faults.empty() ? "" : "; ") + part.mark + ": " + fault;
  }
  if (faults.empty()) return;
  work.checks.push_back(core::check_at_least("parts fit to cut", faults, good, static_cast<double>(work.parts.size()), "parts",
                                             "what a laser shop looks at first; common practice, no source",
                                             "change the holes or sizes named, or draw these parts by hand: no cut file is written for them"));
}

}  // namespace

std::string to_text(Construction construction) {
  switch (construction) {
    case Construction::none: return "no box";
    case Construction::welded_panels: return "welded panels";
    case Construction::folded_wrap: return "folded wrap with separate ends";
    case Construction::folded_pan: return "folded pan";
  }
  return {};
}

std::string to_text(LidStyle style) {
  switch (style) {
    case LidStyle::none: return "no lid";
    case LidStyle::plate_on_tabs: return "plate screwed into angle tabs inside the walls";
    case LidStyle::cap: return "cap, with edges down over the walls";
    case LidStyle::plate_on_flange: return "plate screwed to a flange round the mouth";
  }
  return {};
}

SheetWork make_sheet_work(const box::Box& box, const survey::Rules& rules, const std::string& revision, const survey::Cell* cell,
                          const std::vector<CableHole>& cables) {
  SheetWork work;
  if (box.layout.outline.empty()) return work;
  const Shape shape = shape_of(box, rules, revision);
  work.construction = choose(shape, box.layout, work.why);
  const bool folds = work.construction != Construction::welded_panels;
  Mouth mouth = choose_mouth(shape, folds);
  const double strip_top = mouth.folded_flange ? mouth.walls_top - shape.bend.setback_mm() : mouth.walls_top;
  Openings openings = find_openings(shape, box.layout, strip_top, cables);
  mouth.wall_holes = openings.in_walls;
  for (std::size_t side = 0; side < shape.sides.size(); ++side) {
    for (const double along : side_screws(shape, side, mouth)) {
      openings.in_walls.push_back({side, along, mouth.side_screw_z, shop::press_nut_hole_mm, "press nut M4"});
    }
  }
  if (work.construction == Construction::folded_pan) add_pan(shape, mouth, openings, work);
  if (work.construction == Construction::folded_wrap) add_wrap(shape, mouth, openings, work);
  if (!folds) add_welded_panels(shape, mouth, openings, work);
  add_lid(shape, mouth, box.layout, cell, work);
  work.notes.insert(work.notes.end(), openings.notes.begin(), openings.notes.end());
  work.checks.insert(work.checks.end(), openings.checks.begin(), openings.checks.end());
  if (work.construction == Construction::folded_wrap) {
    work.notes.push_back("fold the wrap's mouth flanges before its walls, if it has any; see that the second wall clears the punch");
  }
  if (folds) work.notes.push_back("the liner's floor sheet is cut back or chamfered where it meets a fold");
  check_bends(shape, work);
  note_welds(shape, work);
  finish_parts(shape, work);
  return work;
}

}  // namespace cellstow::fabrication
