#pragma once
/// Corners of a simplified outline moved outward again as far as the scanned wall allows.

#include <memory>

#include "cellstow/measuring/scan_slice.hpp"

namespace cellstow::measuring::scan {

/// The free space that an outline has to stay in.
class Room {
 public:
  /// @param outline  counter-clockwise; the room is its closed inside
  /// @param holes    kept out of, without touching them
  Room(const Loop& outline, const std::vector<Loop>& holes);

  /// Whether all of the triangle's inside lies in the room. A triangle of no area does.
  bool holds(PointUm a, PointUm b, PointUm c) const;
  /// Holds, for triangles near the given ones alone: fewer pieces to look at.
  Room near(PointUm low, PointUm high) const;

 private:
  Room() = default;
  bool is_inside_middle(PointUm a, PointUm b, PointUm c) const;
  std::size_t band_at(Um t) const;

  /// The outline's edges by level bands, for asking which side of it a point is on.
  struct Bands {
    Um low_t = 0, height = 1;
    std::vector<std::vector<WallPiece>> edges;
  };
  std::shared_ptr<const Bands> bands_;
  std::vector<WallPiece> wall_, hole_edges_;
};

/// The same number of corners, no less area. Single corners are moved, and whole sides turned about what holds them, in steps from
/// 51.2 mm down to the shortest, as long as the area grows.
Loop refine(Loop loop, const Room& room, double shortest_step_um);

}  // namespace cellstow::measuring::scan
