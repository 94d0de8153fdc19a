#include "report/assembly.hpp"

#include "report/contents.hpp"

namespace cellstow::report {
namespace {

using fabrication::FoldedSolid;
using fabrication::Placement;
using fabrication::PlateSolid;
using fabrication::Space;
using packing::Cuboid;

Space low_of(const Cuboid& body) { return {body.low.x.mm(), body.low.y.mm(), body.low.z.mm()}; }
Space high_of(const Cuboid& body) { return {body.high.x.mm(), body.high.y.mm(), body.high.z.mm()}; }

PlateSolid block_between(const Space& low, const Space& high) {
  const double a = high[0] - low[0], b = high[1] - low[1];
  return {Placement{{low[0], low[1], high[2]}}, {{0, 0}, {a, 0}, {a, b}, {0, b}}, {}, high[2] - low[2]};
}

FoldedSolid cuboid(const Cuboid& body) { return {{block_between(low_of(body), high_of(body))}, {}}; }

void add_cells(std::vector<AssemblyPart>& parts, const packing::BoxLayout& layout) {
  int number = 0;
  for (const packing::PlacedCell& cell : layout.cells) {
    parts.push_back({"cell " + std::to_string(++number), Substance::cell, cuboid(cell.body)});
  }
}

/// Over the block and down both ends, outside the end plates.
FoldedSolid strap_round(const packing::Block& block, const Cuboid& band, const survey::Rules& rules, double thickness) {
  const std::size_t along = block.runs == packing::Run::u ? 0 : 1, across = 1 - along;
  Space low = low_of(band), high = high_of(band);
  const double first = low[along] + rules.strap_space.mm(), last = high[along] - rules.strap_space.mm(), top = high[2];
  FoldedSolid solid;
  const auto plate = [&](double from, double to, double bottom, double upper) {
    low[along] = from, high[along] = to, low[2] = bottom, high[2] = upper;
    solid.plates.push_back(block_between(low, high));
  };
  plate(first - thickness, first, band.low.z.mm(), top);
  plate(last, last + thickness, band.low.z.mm(), top);
  plate(first, last, top, top + thickness);
  for (const double edge : {first, last}) {
    fabrication::BendSolid bend;
    bend.axis_point[along] = edge;
    bend.axis_point[across] = edge == first ? low[across] : high[across];
    bend.axis_point[2] = top;
    // Turning from flat outwards to upwards, seen along the axis.
    bend.along = bend.start = {0, 0, 0};
    bend.start[along] = edge == first ? -1 : 1;
    const double handed = (edge == first ? 1.0 : -1.0) * (along == 0 ? 1.0 : -1.0);
    bend.along[across] = handed;
    bend.axis_point[across] = handed > 0 ? low[across] : high[across];
    bend.length = high[across] - low[across];
    bend.thickness = thickness;
    solid.bends.push_back(bend);
  }
  return solid;
}

void add_straps(std::vector<AssemblyPart>& parts, const plan::BoxPlan& box, const survey::Rules& rules) {
  for (const restraint::Strap& strap : box.straps.straps) {
    for (const packing::Block& block : box.box.layout.blocks) {
      if (block.id != strap.block) continue;
      for (const Cuboid& band : restraint::strap_bands(block, strap)) {
        parts.push_back({strap.mark, Substance::strap, strap_round(block, band, rules, strap.thickness.mm())});
      }
    }
  }
}

}  // namespace

Colour colour_of(Substance substance) {
  switch (substance) {
    case Substance::cell: return {0.30, 0.50, 0.72};
    case Substance::sheet: return {0.80, 0.81, 0.83};
    case Substance::lid: return {0.88, 0.88, 0.82};
    case Substance::end_plate: return {0.55, 0.56, 0.60};
    case Substance::strap: return {0.85, 0.62, 0.20};
    case Substance::fitting: return {0.45, 0.33, 0.50};
  }
  return {};
}

Assembly assembly_of(const plan::BoxPlan& box, const survey::Job& job) {
  const packing::BoxLayout& layout = box.box.layout;
  Assembly assembly{box.box.mark, layout.heading, {}};
  for (const fabrication::SheetPart& part : box.sheet.parts) {
    const Substance substance = part.kind == fabrication::PartKind::lid ? Substance::lid : Substance::sheet;
    for (const FoldedSolid& piece : part.folded) assembly.parts.push_back({part.mark, substance, piece});
  }
  add_cells(assembly.parts, layout);
  for (const fabrication::SheetPart& part : box.holding) {
    if (part.kind != fabrication::PartKind::plate) continue;
    for (const FoldedSolid& piece : part.folded) assembly.parts.push_back({part.mark, Substance::end_plate, piece});
  }
  add_straps(assembly.parts, box, job.rules);
  for (const packing::PlacedFitting& fitting : layout.fittings) {
    assembly.parts.push_back({fitting.name, Substance::fitting, cuboid(fitting.body)});
  }
  return assembly;
}

}  // namespace cellstow::report
