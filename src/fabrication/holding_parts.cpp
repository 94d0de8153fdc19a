#include "cellstow/fabrication/holding_parts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "cellstow/fabrication/bend.hpp"
#include "etch.hpp"
#include "folding.hpp"

namespace cellstow::fabrication {
namespace {

/// A block in axes of its own: s along its run from the outer face of the first end plate, w across, z up.
struct Frame {
  bool along_u = true;
  double first = 0, last = 0;   ///< outer faces of the end plates
  double low = 0, high = 0;     ///< across
  double foot = 0, top = 0;     ///< z

  Space at(double run, double across, double z) const { return along_u ? Space{run, across, z} : Space{across, run, z}; }
  /// Upright, looking out of the block at its first or its last end: a across, b up, normal outwards.
  Placement end(bool at_last) const {
    const double out = at_last ? 1 : -1;
    // a = b x normal keeps the axes right-handed.
    const double a = along_u ? out : -out;
    return {at(at_last ? last : first, a > 0 ? low : high, foot), along_u ? Space{0, a, 0} : Space{a, 0, 0}, {0, 0, 1}, along_u ? Space{out, 0, 0} : Space{0, out, 0}};
  }
  /// Lying, seen from above, its top at z: a along the run, b across (away from the low side when the run is u, else towards it).
  Placement lying(double run, double low_across, double high_across, double z) const {
    return {at(run, along_u ? low_across : high_across, z), along_u ? Space{1, 0, 0} : Space{0, 1, 0}, along_u ? Space{0, 1, 0} : Space{-1, 0, 0}, {0, 0, 1}};
  }
};

Frame frame_of(const packing::Block& block, const survey::Rules& rules) {
  Frame frame;
  frame.along_u = block.runs == packing::Run::u;
  const packing::Cuboid& body = block.body;
  const double space = rules.strap_space.mm();
  frame.first = (frame.along_u ? body.low.x : body.low.y).mm() + space;
  frame.last = (frame.along_u ? body.high.x : body.high.y).mm() - space;
  frame.low = (frame.along_u ? body.low.y : body.low.x).mm();
  frame.high = (frame.along_u ? body.high.y : body.high.x).mm();
  frame.foot = body.low.z.mm();
  frame.top = body.high.z.mm();
  return frame;
}

SheetPart new_part(const std::string& mark, std::string name, PartKind kind, const survey::Material& material, double thickness, const std::string& revision) {
  SheetPart part;
  part.mark = mark;
  part.revision = revision;
  part.name = std::move(name);
  part.kind = kind;
  part.material = material.name;
  part.thickness = thickness;
  return part;
}

void finish(SheetPart& part, const survey::Material& material) {
  part.mass = core::Kg::of(sheet_area(part.flat) * part.thickness * material.density_kg_per_m3 * 1e-9);
  if (!etch(part)) part.notes.push_back("too small for its mark: tag it");
  for (const FlatHole& hole : part.flat.holes) {
    if (hole.diameter >= part.thickness) continue;
    part.notes.push_back("holes smaller than the thickness are drilled, not cut: their middles are etched");
    break;
  }
}

const restraint::Strap* strap_of(const restraint::StrapPlan& plan, int block) {
  const auto found = std::find_if(plan.straps.begin(), plan.straps.end(), [&](const restraint::Strap& strap) { return strap.block == block; });
  return found == plan.straps.end() || found->quantity <= 0 || found->cut_length <= core::Length() ? nullptr : &*found;
}

const restraint::HoldDown* bar_of(const restraint::HoldDownPlan& plan, int block) {
  const auto found = std::find_if(plan.bars.begin(), plan.bars.end(), [&](const restraint::HoldDown& bar) { return bar.block == block; });
  return found == plan.bars.end() || found->quantity <= 0 ? nullptr : &*found;
}

/// Middles of the straps across the block.
std::vector<double> strap_middles(const packing::Block& block, const restraint::Strap& strap) {
  std::vector<double> out;
  for (const packing::Cuboid& band : restraint::strap_bands(block, strap)) {
    out.push_back(block.runs == packing::Run::u ? (band.low.y + band.high.y).mm() / 2 : (band.low.x + band.high.x).mm() / 2);
  }
  return out;
}

SheetPart end_plates(const box::Box& box, const packing::Block& block, const restraint::Strap* strap, const restraint::HoldDown* bar, const survey::Rules& rules,
                     const std::string& revision) {
  const Frame frame = frame_of(block, rules);
  const double t = rules.end_plate.mm();
  SheetPart part = new_part(fmt::format("{}-E-B{}", box.mark, block.id), fmt::format("end plate, block {}", block.id), PartKind::plate, rules.materials.wall, t, revision);
  for (const bool at_last : {false, true}) {
    const Placement at = frame.end(at_last);
    const double sign = frame.along_u ? at.a_axis[1] : at.a_axis[0];
    Face face{rectangle(frame.high - frame.low, frame.top - frame.foot), {}, {}};
    if (strap) {
      for (const double middle : strap_middles(block, *strap)) {
        face.holes.push_back(round_hole({sign > 0 ? middle - frame.low : frame.high - middle, strap->foot.mm() / 2}, strap->bolt_hole.mm(), "strap " + strap->bolt));
      }
    }
    // The pair is alike: straps lie evenly about the block's middle.
    if (at_last) part.folded.push_back({{PlateSolid{at, face.outline, face.holes, t}}, {}});
    else fold_up(face, at, {0, t, 0, ""}, part);
  }
  part.quantity = 2;
  part.arrow = Arrow::up;
  if (strap) {
    part.notes.push_back(fmt::format("strap bolts {}: flush nut or tapped insert, nothing stands out towards the cells", strap->bolt));
    part.notes.push_back(fmt::format("top edge on the outer face rounded to {:.1f} mm where straps pass", std::min(strap->bend_radius.mm(), t)));
  }
  if (bar) {
    part.notes.push_back(fmt::format("top edge tapped {} in the middle of its thickness, {} hole{}, {:.1f} mm to each side of the plate's middle", bar->screw, bar->quantity,
                                     bar->quantity == 1 ? "" : "s", bar->beside.mm()));
  }
  part.notes.push_back("insulating sheet between plate and cell");
  finish(part, rules.materials.wall);
  return part;
}

/// K of DIN 6935 is a share of half the thickness.
double din_k_factor(double radius, double thickness) {
  const double arc = din_6935_addition_mm(90, radius, thickness) + 2 * (radius + thickness);
  return (arc / (std::numbers::pi / 2) - radius) / thickness;
}

SheetPart strap_part(const packing::Block& block, const restraint::Strap& strap, const survey::Rules& rules, const std::string& revision) {
  const Frame frame = frame_of(block, rules);
  const double t = strap.thickness.mm(), radius = strap.bend_radius.mm(), width = strap.width.mm();
  SheetPart part = new_part(strap.mark, fmt::format("strap, block {}", block.id), PartKind::strap, rules.materials.strap, t, revision);
  const BendRule bend{radius, t, din_k_factor(radius, t), "DIN 6935, from memory"};
  const double back = frame.last - frame.first - 2 * radius, leg = frame.top - frame.foot - radius;
  Face down{rectangle(width, leg), {round_hole({width / 2, leg - strap.foot.mm() / 2}, strap.bolt_hole.mm(), strap.bolt)}, {}};
  Face top{rectangle(back, width), {}, {{1, 90, false, "leg", down}, {3, 90, false, "leg", down}}};
  for (const double middle : strap_middles(block, strap)) {
    SheetPart one;
    fold_up(top, frame.lying(frame.first + radius, middle - width / 2, middle + width / 2, frame.top + t), bend, one);
    part.flat = std::move(one.flat);
    part.folded.push_back(std::move(one.folded.front()));
  }
  part.quantity = strap.quantity;
  part.notes = {fmt::format("from flat bar {:g} x {:g} mm, {:g} mm long before bending", width, t, strap.cut_length.mm()),
                "sleeve or tape between strap and cells; edges broken"};
  if (rules.materials.strap.bend_may_crack) part.notes.push_back(rules.materials.strap.name + " may crack when bent: bend a test piece, look at it with a lens");
  finish(part, rules.materials.strap);
  return part;
}

SheetPart bar_part(const packing::Block& block, const restraint::HoldDown& bar, const survey::Rules& rules, const std::string& revision) {
  const Frame frame = frame_of(block, rules);
  const double t = bar.thickness.mm(), width = bar.width.mm(), length = bar.cut_length.mm(), middle = (frame.low + frame.high) / 2;
  const double start = (frame.first + frame.last - length) / 2, from_end = frame.first + rules.end_plate.mm() / 2 - start;
  SheetPart part = new_part(bar.mark, fmt::format("hold-down, block {}", block.id), PartKind::strap, rules.materials.hold_down, t, revision);
  const Face face{rectangle(length, width),
                  {round_hole({from_end, width / 2}, bar.screw_hole.mm(), bar.screw), round_hole({length - from_end, width / 2}, bar.screw_hole.mm(), bar.screw)},
                  {}};
  for (int i = 0; i < bar.quantity; ++i) {
    const double at = middle + (bar.quantity == 1 ? 0 : (i == 0 ? -1 : 1) * bar.beside.mm());
    const Placement lying = frame.lying(start, at - width / 2, at + width / 2, frame.top + t);
    if (i == 0) fold_up(face, lying, {0, t, 0, ""}, part);
    else part.folded.push_back({{PlateSolid{lying, face.outline, face.holes, t}}, {}});
  }
  part.quantity = bar.quantity;
  part.notes = {fmt::format("from flat bar {:g} x {:g} mm", width, t), "insulating sleeve over its whole length; clear of vents and posts"};
  finish(part, rules.materials.hold_down);
  return part;
}

}  // namespace

std::vector<SheetPart> holding_parts(const box::Box& box, const restraint::StrapPlan& straps, const restraint::HoldDownPlan& hold_downs,
                                     const survey::Rules& rules, const std::string& revision) {
  std::vector<SheetPart> out;
  for (const packing::Block& block : box.layout.blocks) {
    const restraint::Strap* strap = strap_of(straps, block.id);
    const restraint::HoldDown* bar = bar_of(hold_downs, block.id);
    if (rules.end_plate > core::Length()) out.push_back(end_plates(box, block, strap, bar, rules, revision));
    if (strap) out.push_back(strap_part(block, *strap, rules, revision));
    if (bar) out.push_back(bar_part(block, *bar, rules, revision));
  }
  return out;
}

SheetPart drilled_later(SheetPart part) {
  constexpr double half_cross_mm = 4;
  const auto drilled = [&](const FlatHole& hole) { return hole.kind == HoleKind::round && hole.diameter < part.thickness; };
  for (const FlatHole& hole : part.flat.holes) {
    if (!drilled(hole)) continue;
    const FlatPoint c = hole.centre;
    part.flat.etch_lines.push_back({{c.a - half_cross_mm, c.b}, {c.a + half_cross_mm, c.b}});
    part.flat.etch_lines.push_back({{c.a, c.b - half_cross_mm}, {c.a, c.b + half_cross_mm}});
  }
  std::erase_if(part.flat.holes, drilled);
  return part;
}

}  // namespace cellstow::fabrication
