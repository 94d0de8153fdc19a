#include "cellstow/box/masses.hpp"

namespace cellstow::box {
namespace {

double middle_mm(Length low, Length high) { return (low.mm() + high.mm()) / 2; }

void add_cells(std::vector<MassLump>& lumps, const packing::BoxLayout& layout,
               const survey::Cell& cell) {
  for (const packing::PlacedCell& placed : layout.cells) {
    const packing::Cuboid& body = placed.body;
    lumps.push_back({LumpKind::cell, "cell", cell.mass.value(), middle_mm(body.low.x, body.high.x),
                     middle_mm(body.low.y, body.high.y), middle_mm(body.low.z, body.high.z)});
  }
}

/// Strips of sheet that stand along an outline between two heights.
void add_upright(std::vector<MassLump>& lumps, LumpKind kind, const std::vector<Point2>& outline,
                 Length thickness, Length low, Length high, double density_kg_per_m3) {
  for (const WallRun& run : wall_runs(outline, thickness)) {
    const double area = run.length.mm() * (high - low).mm();
    const Point2& p = run.footprint[0];
    const Point2& q = run.footprint[2];
    lumps.push_back({kind, "wall, " + to_text(run.face) + " " + std::to_string(run.number),
                     sheet_mass_kg(area, thickness, density_kg_per_m3), middle_mm(p.a, q.a),
                     middle_mm(p.b, q.b), middle_mm(low, high)});
  }
}

void add_flat(std::vector<MassLump>& lumps, LumpKind kind, const std::string& what,
              const std::vector<Point2>& outline, Length low, Length thickness,
              double density_kg_per_m3) {
  const auto [x, y] = centroid_mm(outline);
  lumps.push_back({kind, what, sheet_mass_kg(area_mm2(outline), thickness, density_kg_per_m3), x, y,
                   middle_mm(low, low + thickness)});
}

void add_sheet(std::vector<MassLump>& lumps, const packing::BoxLayout& layout,
               const survey::Rules& rules) {
  const double density = rules.materials.wall.density_kg_per_m3;
  const Length floor_top = layout.z_bottom + rules.floor, lid_low = layout.lid_top - rules.lid;
  const std::vector<Point2> body = inset(layout.outline, rules.flange);
  add_flat(lumps, LumpKind::sheet, "floor", body, layout.z_bottom, rules.floor, density);
  add_upright(lumps, LumpKind::sheet, body, rules.wall, floor_top, lid_low, density);
  add_flat(lumps, LumpKind::sheet, "lid", layout.outline, lid_low, rules.lid, density);
}

void add_liner(std::vector<MassLump>& lumps, const packing::BoxLayout& layout,
               const survey::Rules& rules) {
  const Length floor_top = layout.z_bottom + rules.floor;
  const std::vector<Point2> inside = inset(layout.outline, rules.flange + rules.wall);
  if (rules.liner <= Length() || twice_area_um2(inside) <= 0) return;
  add_flat(lumps, LumpKind::liner, "floor liner", inside, floor_top, rules.liner,
           liner_density_kg_per_m3);
  add_upright(lumps, LumpKind::liner, inside, rules.liner, floor_top + rules.liner,
              layout.lid_top - rules.lid, liner_density_kg_per_m3);
}

void add_end_plates(std::vector<MassLump>& lumps, const packing::Block& block,
                    const survey::Rules& rules) {
  if (rules.end_plate <= Length()) return;
  const bool along_u = block.runs == packing::Run::u;
  const packing::Cuboid& body = block.body;
  const Length breadth = along_u ? body.high.y - body.low.y : body.high.x - body.low.x;
  const double mass_kg = sheet_mass_kg(breadth.mm() * (body.high.z - body.low.z).mm(),
                                       rules.end_plate, end_plate_density_kg_per_m3);
  const double in_mm = rules.strap_space.mm() + rules.end_plate.mm() / 2;
  const double x = middle_mm(body.low.x, body.high.x), y = middle_mm(body.low.y, body.high.y);
  const double z = middle_mm(body.low.z, body.high.z);
  const double low = (along_u ? body.low.x : body.low.y).mm() + in_mm;
  const double high = (along_u ? body.high.x : body.high.y).mm() - in_mm;
  for (const double at : {low, high}) {
    lumps.push_back(
        {LumpKind::end_plate, "end plate", mass_kg, along_u ? at : x, along_u ? y : at, z});
  }
}

void add_strap(std::vector<MassLump>& lumps, const packing::Block& block) {
  const packing::Cuboid& body = block.body;
  lumps.push_back({LumpKind::strap, "strap allowance", strap_allowance_kg,
                   middle_mm(body.low.x, body.high.x), middle_mm(body.low.y, body.high.y),
                   middle_mm(body.low.z, body.high.z)});
}

}  // namespace

double sheet_mass_kg(double area_mm2, Length thickness, double density_kg_per_m3) {
  return area_mm2 * thickness.mm() * density_kg_per_m3 * 1e-9;
}

std::vector<MassLump> mass_lumps(const packing::BoxLayout& layout, const survey::Cell& cell,
                                 const survey::Rules& rules) {
  std::vector<MassLump> lumps;
  add_cells(lumps, layout, cell);
  if (!layout.outline.empty()) {
    add_sheet(lumps, layout, rules);
    add_liner(lumps, layout, rules);
  }
  for (const packing::Block& block : layout.blocks) add_end_plates(lumps, block, rules);
  for (const packing::Block& block : layout.blocks) add_strap(lumps, block);
  return lumps;
}

double mass_of_kg(const std::vector<MassLump>& lumps, LumpKind kind) {
  double sum_kg = 0;
  for (const MassLump& lump : lumps) sum_kg += lump.kind == kind ? lump.mass_kg : 0;
  return sum_kg;
}

Point3 centre_of_gravity(const std::vector<MassLump>& lumps) {
  double mass_kg = 0, x_kg_mm = 0, y_kg_mm = 0, z_kg_mm = 0;
  for (const MassLump& lump : lumps) {
    mass_kg += lump.mass_kg;
    x_kg_mm += lump.mass_kg * lump.x_mm;
    y_kg_mm += lump.mass_kg * lump.y_mm;
    z_kg_mm += lump.mass_kg * lump.z_mm;
  }
  if (mass_kg <= 0) return {};
  return {Length::from_mm(x_kg_mm / mass_kg), Length::from_mm(y_kg_mm / mass_kg),
          Length::from_mm(z_kg_mm / mass_kg)};
}

}  // namespace cellstow::box
