#pragma once
/// What a box weighs, lump by lump, and where the weight sits.

#include <string>
#include <vector>

#include "cellstow/box/box.hpp"
#include "cellstow/box/plan_outline.hpp"

namespace cellstow::box {

enum class LumpKind { cell, sheet, liner, end_plate, strap };

/// One lump at its own centre, in the frame of its box.
struct MassLump {
  LumpKind kind = LumpKind::cell;
  std::string what;
  double mass_kg = 0, x_mm = 0, y_mm = 0, z_mm = 0;
};

/// Aluminium, all alloys. Source: EN 1999-1-1 3.2.5 (from memory; agrees with general handbooks).
inline constexpr double end_plate_density_kg_per_m3 = 2700;
/// Polyethylene or polypropylene sheet, 900 to 960. Common practice, no source.
inline constexpr double liner_density_kg_per_m3 = 950;
/// Strap and its bolts, per block, until straps are designed. Common practice, no source.
inline constexpr double strap_allowance_kg = 0.25;

/// Mass of a flat sheet in kg: area x thickness x density, holes not taken off (never too light).
double sheet_mass_kg(double area_mm2, Length thickness, double density_kg_per_m3);

/// Every lump of a box in a fixed order: cells, sheets (floor, walls, lid), liner, end plates,
/// straps.
///
///   cell       its mass at the middle of its case
///   sheet      area x thickness x density of rules.materials.wall
///   liner      floor sheet inside the walls, and a strip along each wall up to the lid's underside
///   end plate  end_plate x block breadth x case height, inside the strap space at both block ends
///   strap      an allowance at the middle of the block
///
/// Fittings have no mass in the job file and count as 0.
std::vector<MassLump> mass_lumps(const packing::BoxLayout& layout, const survey::Cell& cell,
                                 const survey::Rules& rules);

/// Sum of the lumps of one kind, in kg.
double mass_of_kg(const std::vector<MassLump>& lumps, LumpKind kind);

/// Mass centre of the lumps; the origin when they weigh nothing.
Point3 centre_of_gravity(const std::vector<MassLump>& lumps);

}  // namespace cellstow::box
