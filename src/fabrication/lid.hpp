#pragma once
/// The lid, what it lies on and what holds it. Internal to fabrication.

#include <vector>

#include "cellstow/fabrication/sheet_work.hpp"
#include "folding.hpp"
#include "openings.hpp"
#include "shape.hpp"

namespace cellstow::fabrication {

/// How lid and mouth are made, decided before the walls are drawn.
struct Mouth {
  LidStyle style = LidStyle::none;
  bool folded_flange = false;   ///< the walls' top edges are folded out; else a ring is welded on
  double walls_top = 0;         ///< z of the walls' top edge, or of the folded flange's top
  double screw_out = 0;         ///< from the walls' outer face to the screws, outwards; flange styles only
  bool side_screws = false;     ///< a cap held through its edges by nuts pressed into the walls
  double side_screw_z = 0;      ///< their height
  std::vector<WallOpening> wall_holes;  ///< which those nuts keep clear of
};

/// flange_mm decides: room for a flange with screws through it, else for a lid with folded edges (rectangles), else tabs.
Mouth choose_mouth(const Shape& shape, bool walls_fold);

/// Screws along one side on the flange: distances from the side's corner.
std::vector<double> flange_screws(const Shape& shape, std::size_t side, const Mouth& mouth);

/// Screws through a cap's edge along one side: distances from the side's corner; none unless the cap is held so. Evenly spaced, but for
/// those moved aside from a gland or the breather.
std::vector<double> side_screws(const Shape& shape, std::size_t side, const Mouth& mouth);

/// Flange child of a wall's top edge, in the axes of that fold.
///
/// @param length   of the wall's top edge
/// @param set_back from the edge's ends to the body's corners
/// @param screws   distances from the end where the child's a is 0
Face flange_face(const Shape& shape, const Mouth& mouth, double length, double set_back, const std::vector<double>& screws);

/// Adds ring or tabs where so chosen, and the lid with its screw holes; bought pieces, checks and notes.
void add_lid(const Shape& shape, const Mouth& mouth, const packing::BoxLayout& layout, const survey::Cell* cell, SheetWork& work);

}  // namespace cellstow::fabrication
