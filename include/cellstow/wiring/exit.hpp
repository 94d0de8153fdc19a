#pragma once
/// Where a cable can leave a box.

#include <optional>
#include <vector>

#include "cellstow/packing/layout.hpp"
#include "cellstow/survey/job.hpp"
#include "cellstow/wiring/post.hpp"

namespace cellstow::wiring {

/// A place along a wall that another gland has.
struct TakenPlace {
  int wall = 0;
  double along_mm = 0;
};

/// What a cable out of a box needs.
struct ExitTask {
  const packing::BoxLayout* layout = nullptr;
  std::vector<core::Point2> walls;       ///< outer face of the walls, counter-clockwise: the outline less any flange
  core::Length to_inner_face;            ///< from there to the liner's inner face
  Spot from;                             ///< post, or the middle of the fuse
  std::vector<Spot> posts, vents;        ///< of all other cells on the same plane
  double outside_mm = 0, bend_radius_mm = 0;
  std::vector<TakenPlace> taken;
};

/// A way out with one bend at most: straight along the lug, a bend, straight through the gland.
struct Exit {
  int wall = 0;                          ///< index of the edge of ExitTask::walls that starts at this corner
  double along_mm = 0;                   ///< from that corner, on the outside
  Spot gland, corner;                    ///< on the liner's face; where the two straights meet (the gland when there is no bend)
  double turn_deg = 0;
  double length_mm = 0;
  int over_vents = 0;
};

/// Straight length a lug needs before any bend, and what a gland takes inside the wall: common practice, no source.
inline constexpr double lug_straight_mm = 60, gland_inside_mm = 15;

/// Two glands of one wall stand at least this far apart, centre to centre, and half as far from its corners: common practice, no source.
inline constexpr double gland_pitch_mm = 50;

/// The shortest way with fewest vents under it; positions tried every 10 mm along every wall, lugs every 15 degrees.
/// @return nothing when no way keeps the bend radius, the walls, the fittings and the other posts
std::optional<Exit> find_exit(const ExitTask& task);

}  // namespace cellstow::wiring
