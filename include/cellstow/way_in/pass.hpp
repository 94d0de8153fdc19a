#pragma once
/// How a body gets through one opening: upright, turned about the vertical, or tilted about one line.

#include <string>
#include <vector>

#include "cellstow/way_in/body.hpp"
#include "cellstow/way_in/fit.hpp"

namespace cellstow::way_in {

enum class Manner {
  upright,   ///< as it stands in its place
  turned,    ///< upright, turned about the vertical
  tilted,    ///< tilted about a level line along or across the body, after quarter turns
  blocked,   ///< in none of these ways
};

/// What may be tried.
enum class Handling { upright_only, may_tilt };

/// Where behind the opening the body is bound.
enum class Aim {
  its_place,   ///< straight on: kept near the line to its place
  elsewhere,   ///< another opening follows: kept in the middle
};

struct Pass {
  std::string opening;
  Manner manner = Manner::blocked;
  /// The smallest angle of its manner that leaves 10 mm all round, or as much as there is; when blocked, the one least in the way.
  Attitude attitude;
  double from_deg = 0, to_deg = 0; ///< turned or tilted: all angles between these pass as well
  double gap_mm = 0;               ///< least gap all round, held so; 0 when blocked
  Spot shift;                      ///< in the opening's plane, from straight over its place, um
  bool straight = false;           ///< upright, and passes straight over its place
  Shadow shadow;                   ///< where it passes, or where it sticks with least in the way
  std::vector<Blocking> blocking;  ///< when blocked: edges in the way of that attitude, most first
  std::vector<Blocking> upright_blocking;  ///< edges in the way when held as in its place; empty when it passes so
  /// Largest way by which one edge blocks the least blocked attitude, mm; 0 when it passes.
  double blocked_mm() const;
};

/// Tries, in this order, and ends at the first that passes: as it stands (at its own place, then shifted), turned by quarters, turned by any angle,
/// tilted about a line along its long side or across it, each after 0, 1, 2 and 3 quarter turns.
///
/// Angles are searched by halving: no point of the shadow moves farther than sweep x angle, so a stretch of
/// angles whose middle misses by more than that holds no passing angle. A miss is proven up to 1 um: what would pass
/// with less than that to spare may be called blocked. What is called passing does pass.
/// Turned and tilted at once by free angles is not tried.
Pass pass_opening(const Body& body, const survey::WayIn& way, Handling handling, Aim aim = Aim::its_place);

/// "upright", "turned 90.0 degrees about the vertical and tilted 32.5 degrees, rear side down".
std::string spoken(const Attitude& attitude);

}  // namespace cellstow::way_in
