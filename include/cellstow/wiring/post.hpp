#pragma once
/// Where the posts of a placed cell are.

#include "cellstow/packing/layout.hpp"

namespace cellstow::wiring {

enum class Pole { plus, minus };

/// Which way the face with the posts looks. Sideways: across the block, towards rising or falling v (block along
/// u) or u (block along v).
enum class Facing { up, rising, falling };

/// A place in the frame of its box, mm: u rearward and v to the right in a box that is not turned.
struct Spot {
  double u = 0, v = 0, z = 0;
};

/// Straight distance, whole micrometres (nearest).
std::int64_t distance_um(const Spot& a, const Spot& b);

/// How one cell is set in its place.
struct Setting {
  Facing facing = Facing::up;
  bool turned = false;  ///< false: positive post on the rising side of the line through both posts (u, v, or z)
  auto operator<=>(const Setting&) const = default;
};

/// Middle of a post where it leaves the case.
///
///   upright  posts on the top, in line across the block (the cell's width)
///   on edge  posts on a side of the block, one above the other
///   flat     posts on a side of the block, in line along it
///
/// @param runs    direction of the cell's block
/// @param offset  `terminal_offset_mm`: distance of a post from the cell's centre along the width
Spot post_of(const packing::PlacedCell& cell, packing::Run runs, const Setting& setting, Pole pole, core::Length offset);

/// Middle of the face with the posts: where the vent is on most cells (common practice, no source).
Spot vent_of(const packing::PlacedCell& cell, packing::Run runs, Facing facing);

}  // namespace cellstow::wiring
