#pragma once
/// One car's left side against its right: told, never made the same.

#include <string>
#include <vector>

#include "cellstow/differences/wall_difference.hpp"
#include "cellstow/survey/job.hpp"

namespace cellstow::differences {

/// Two fixings that face each other across the centre plane.
struct FacingHoles {
  std::string cavity, left, right;
  double dx_mm = 0;        ///< right less left: positive, the right one lies farther rearward
  double dy_mm = 0;        ///< right's distance from the centre plane less left's: positive, the right one lies farther out
  double dz_mm = 0;        ///< right less left: positive, the right one lies higher
  double distance_mm = 0;  ///< of the right one from the left one's mirror image
  bool by_name = false;    ///< paired by their names; else as nearest mirror images
};

/// A section that reaches over the centre plane against its own mirror image, or two side sections at y and -y.
struct FacingWalls {
  std::string cavity;
  core::Axis across = core::Axis::z;
  core::Length station, other_station;   ///< other: of the right one, where across is y; else the same
  double mm = 0;                         ///< greatest distance between one side's wall and the other's mirror image
  Point2 at;                             ///< where, on the right side; in the section's plane
  bool right_wider = true;               ///< which side has more room there
};

struct LeftRight {
  std::vector<FacingHoles> holes;
  std::vector<FacingWalls> walls;
};

/// Holes farther from each other's mirror image than this are not taken for a pair. Common practice, no source.
inline constexpr double facing_within_mm = 30;

/// Pairs are made by name first ("... left" and "... right", or names that differ in an L and an R alone), then as nearest
/// mirror images; each hole in one pair at most.
LeftRight left_right(const std::vector<survey::Cavity>& cavities);

}  // namespace cellstow::differences
