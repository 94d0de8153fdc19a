#pragma once
/// Points in the vehicle frame: x rearward from the front-axle centreline,
/// y to the car's right, z up from level ground (axes of ISO 4130, z from the ground).

#include <compare>

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

}  // namespace cellstow::core
