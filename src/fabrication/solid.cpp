#include "cellstow/fabrication/solid.hpp"

#include <cmath>
#include <numbers>

namespace cellstow::fabrication {

Space in_space(const Placement& at, FlatPoint point, double along_normal) {
  Space out{};
  for (std::size_t i = 0; i < 3; ++i) {
    out[i] = at.origin[i] + point.a * at.a_axis[i] + point.b * at.b_axis[i] + along_normal * at.normal[i];
  }
  return out;
}

double volume_mm3(const FoldedSolid& solid) {
  double sum = 0;
  for (const PlateSolid& plate : solid.plates) {
    double area = std::abs(signed_area(plate.outline));
    for (const FlatHole& hole : plate.holes) area -= std::abs(signed_area(hole_path(hole)));
    sum += area * plate.thickness;
  }
  for (const BendSolid& bend : solid.bends) {
    const double angle = bend.angle_deg * std::numbers::pi / 180;
    sum += angle * (bend.inside_radius + bend.thickness / 2) * bend.thickness * bend.length;
  }
  return sum;
}

}  // namespace cellstow::fabrication
