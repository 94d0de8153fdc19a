#pragma once
/// Drain, cable glands and breather: where they go. Internal to fabrication.

#include <optional>
#include <string>
#include <vector>

#include "cellstow/fabrication/sheet_work.hpp"
#include "shape.hpp"

namespace cellstow::fabrication {

/// Sizes and distances. All common practice, no source; the shop may move a hole before cutting.
namespace openings {
inline constexpr double drain_mm = 8;
inline constexpr double breather_mm = 12;     ///< clearance for an M12 breather
inline constexpr double clear_diameters = 2;  ///< from the hole's rim to an edge or another hole
inline constexpr double room_inside_mm = 30;  ///< for a gland's nut and the bend of the cable
}  // namespace openings

/// A hole in a wall: how far along its side from the side's corner, and how high.
struct WallOpening {
  std::size_t side = 0;
  double along = 0, z = 0, diameter = 0;
  std::string what;
};

struct Openings {
  std::optional<FlatPoint> drain;   ///< in u, v
  std::vector<WallOpening> in_walls;
  std::vector<core::Check> checks;
  std::vector<std::string> notes;
};

/// One drain in the floor at the box's lowest-u, lowest-v corner; the cables' glands where the wiring asks for them; a breather high on
/// the longest side (the first along the outline when two are alike), as near its start as the glands leave room.
///
/// @param top  height of the walls' highest flat strip
Openings find_openings(const Shape& shape, const packing::BoxLayout& layout, double top, const std::vector<CableHole>& cables);

/// Those of one side, as holes in a face: `at` turns along and height into the face's own axes.
template <class At>
std::vector<FlatHole> holes_of_side(const Openings& found, std::size_t side, At at) {
  std::vector<FlatHole> holes;
  for (const WallOpening& hole : found.in_walls) {
    if (hole.side == side) holes.push_back(round_hole(at(hole.along, hole.z), hole.diameter, hole.what));
  }
  return holes;
}

}  // namespace cellstow::fabrication
