#pragma once
/// A rigid body on its way in, and the shadow it casts on an opening.

#include <string>
#include <vector>

#include "cellstow/core/frame.hpp"
#include "cellstow/geometry/wall.hpp"
#include "cellstow/way_in/fit.hpp"

namespace cellstow::way_in {

using core::Length;
using core::Um;

/// An upright piece: a plan outline between two heights, vehicle frame, where it stands when it is in its place.
/// A box, its lid's flange, a bracket.
struct Piece {
  std::string name;
  std::vector<core::Point2> outline;   ///< simple, either direction
  Length low, high;
};

/// How a body is held: tilted about a level line through its middle, then turned about the vertical, from how it stands in its place.
struct Attitude {
  double turn_deg = 0;        ///< from +x towards +y
  double tilt_deg = 0;        ///< positive: what lies a quarter turn (from +x towards +y) from the line goes down
  double line_deg = 0;        ///< direction of the tilt line in plan before the turn, from +x towards +y
  auto operator<=>(const Attitude&) const = default;
};

/// Pieces joined rigidly, cut into convex parts.
class Body {
 public:
  /// @pre at least one piece, each outline simple and each low < high
  Body(std::string name, const std::vector<Piece>& pieces);

  const std::string& name() const { return name_; }
  /// Shadow along the way's move onto its plane, the body held so with its middle over (along the move) its place. A shift of
  /// nothing therefore goes straight to the place.
  Shadow shadow(const survey::WayIn& way, const Attitude& attitude) const;

  /// No point of the shadow moves farther per radian of turn, um. @pre the tilt is 0
  double sweep_of_turn_um(const survey::WayIn& way) const;
  /// No point of the shadow moves farther per radian of tilt about this line, um.
  double sweep_of_tilt_um(const survey::WayIn& way, double line_deg) const;

  /// Direction in plan of the longest side of the first piece, 0 <= deg < 180: the body's own length.
  double long_side_deg() const { return long_side_deg_; }
  /// Height from lowest to highest point when held so, um.
  double height_um(const Attitude& attitude) const;
  /// Largest extent in plan along a direction, um.
  double extent_um(double direction_deg) const;
  Um low_um() const { return low_um_; }
  Um high_um() const { return high_um_; }
  /// A convex part: its plan, counter-clockwise, and its heights.
  struct Part { geometry::Loop plan; Um low, high; };
  const std::vector<Part>& parts() const { return parts_; }
  /// Middle of the body in plan, um: about it the body is turned.
  Spot middle() const { return {middle_.x, middle_.y}; }

 private:
  struct Place { double x, y, z; };
  Place held(const Place& p, const Attitude& attitude) const;

  std::string name_;
  std::vector<Part> parts_;
  Place middle_{};
  Um low_um_ = 0, high_um_ = 0;
  double long_side_deg_ = 0;
};

}  // namespace cellstow::way_in
