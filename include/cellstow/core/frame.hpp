#pragma once
/// Points in the vehicle frame: x rearward from the front-axle centreline,
/// y to the car's right, z up from level ground (axes of ISO 4130, z from the ground);
/// and the frame of a box that is turned about the vertical.

#include <compare>
#include <cstdint>
#include <vector>

#include "cellstow/core/length.hpp"

namespace cellstow::core {

enum class Axis { x, y, z };

struct Point3 {
  Length x, y, z;
  auto operator<=>(const Point3&) const = default;
};

/// A point of a section plane: the two car axes other than the plane's normal,
/// in the order x, y, z (a plane across z holds x, y; across x holds y, z; across y holds x, z).
struct Point2 {
  Length a, b;
  auto operator<=>(const Point2&) const = default;
};

/// Angle about the vertical between the car's frame (x, y) and a box's own (u, v): u lies that far from +x
/// towards +y. Both frames have the same origin and the same z.
///
/// Held in whole steps of 90 / 2^24 degrees (a tenth of a micrometre at one metre): exact as a double,
/// compared exactly. A box turned by a quarter is the same box with u and v swapped, so -45 < heading <= 45 is
/// enough, and keeps u within 45 degrees of rearward, v within 45 degrees of the car's right.
class Heading {
 public:
  static constexpr std::int64_t steps_per_quarter = std::int64_t{1} << 24;

  constexpr Heading() = default;
  static constexpr Heading from_steps(std::int64_t steps) { return Heading(steps); }
  /// Nearest step.
  static Heading from_degrees(double degrees);

  constexpr std::int64_t steps() const { return steps_; }
  constexpr double degrees() const { return static_cast<double>(steps_) * (90.0 / steps_per_quarter); }
  constexpr bool is_square() const { return steps_ == 0; }
  auto operator<=>(const Heading&) const = default;

 private:
  constexpr explicit Heading(std::int64_t steps) : steps_(steps) {}
  std::int64_t steps_ = 0;
};

/// A place or a direction in plan in any unit: (x, y) in the car, (u, v) in a box.
struct InPlan {
  double a = 0, b = 0;
};

/// From the frame of a box to that of the car. Unchanged, bit for bit, when the heading is square.
InPlan to_car(Heading heading, InPlan in_box);
/// From the frame of the car to that of a box.
InPlan to_box(Heading heading, InPlan in_car);

/// The same, to the nearest micrometre: off by at most 0.7072 um (half the grid's diagonal).
Point2 to_car(Heading heading, Point2 in_box);
Point2 to_box(Heading heading, Point2 in_car);
/// An outline, corner for corner.
std::vector<Point2> to_car(Heading heading, std::vector<Point2> in_box);

}  // namespace cellstow::core
