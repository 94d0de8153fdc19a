#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "cellstow/geometry/segment.hpp"
#include "walls.hpp"

namespace cellstow::region {
namespace {

using geometry::convex_hull;
using geometry::Loop;
using geometry::Side;
using survey::BoxShape;
using survey::CylinderShape;
using survey::PrismShape;
using Vec3 = std::array<double, 3>;

/// Corners of the prism drawn about a slanted cylinder. A multiple of four, flats towards the horizontal and the
/// vertical, so that level cylinders keep their true width and height.
constexpr int prism_sides = 48;
/// Corners are rounded to the grid: they may lie this far off.
constexpr Um rounding_um = 1;

Vec3 to_vec(const survey::Point3& p) {
  return {static_cast<double>(p.x.um()), static_cast<double>(p.y.um()),
          static_cast<double>(p.z.um())};
}

Vec3 cross(const Vec3& a, const Vec3& b) {
  return {a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]};
}

Vec3 unit(const Vec3& a) {
  const double length = std::sqrt(a[0] * a[0] + a[1] * a[1] + a[2] * a[2]);
  return {a[0] / length, a[1] / length, a[2] / length};
}

bool is_upright(const CylinderShape& cylinder) {
  return cylinder.from.x == cylinder.to.x && cylinder.from.y == cylinder.to.y;
}

/// Radius rounded up to the grid.
Um radius_um(const CylinderShape& cylinder) { return (cylinder.diameter.um() + 1) / 2; }

/// Both end rings of the circumscribed prism.
std::array<std::vector<Vec3>, 2> prism_rings(const CylinderShape& cylinder) {
  const Vec3 from = to_vec(cylinder.from), to = to_vec(cylinder.to);
  const Vec3 axis = unit({to[0] - from[0], to[1] - from[1], to[2] - from[2]});
  const Vec3 level = unit(cross(axis, {0, 0, 1}));
  const Vec3 up = cross(level, axis);
  const double corner_radius = static_cast<double>(radius_um(cylinder)) /
                               std::cos(std::numbers::pi / prism_sides);
  std::array<std::vector<Vec3>, 2> rings;
  for (int k = 0; k < prism_sides; ++k) {
    const double angle = (k + 0.5) * 2 * std::numbers::pi / prism_sides;
    const double along = corner_radius * std::cos(angle), high = corner_radius * std::sin(angle);
    for (int end = 0; end < 2; ++end) {
      const Vec3& centre = end == 0 ? from : to;
      Vec3 corner;
      for (int i = 0; i < 3; ++i) corner[i] = centre[i] + along * level[i] + high * up[i];
      rings[end].push_back(corner);
    }
  }
  return rings;
}

/// Adds the plan of the part of edge a-b within the column.
void add_clipped(const Vec3& a, const Vec3& b, Column column, std::vector<PointUm>& points) {
  const double low = static_cast<double>(column.low), high = static_cast<double>(column.high);
  double from = 0, to = 1;
  const double rise = b[2] - a[2];
  if (rise == 0) {
    if (a[2] < low || a[2] > high) return;
  } else {
    const double at_low = (low - a[2]) / rise, at_high = (high - a[2]) / rise;
    from = std::max(from, std::min(at_low, at_high));
    to = std::min(to, std::max(at_low, at_high));
    if (from > to) return;
  }
  for (const double share : {from, to}) {
    points.push_back({std::llround(a[0] + share * (b[0] - a[0])),
                      std::llround(a[1] + share * (b[1] - a[1]))});
  }
}

std::optional<Wall> slanted_cylinder_wall(const CylinderShape& cylinder, Column column, Um reach,
                                          int source) {
  const auto rings = prism_rings(cylinder);
  std::vector<PointUm> points;
  for (int k = 0; k < prism_sides; ++k) {
    const int next = (k + 1) % prism_sides;
    add_clipped(rings[0][k], rings[1][k], column, points);
    add_clipped(rings[0][k], rings[0][next], column, points);
    add_clipped(rings[1][k], rings[1][next], column, points);
  }
  if (points.empty()) return std::nullopt;
  return Wall({convex_hull(std::move(points))}, Side::inside, reach + rounding_um, source);
}

Loop rectangle(const BoxShape& box) {
  return {{box.low.x.um(), box.low.y.um()},
          {box.high.x.um(), box.low.y.um()},
          {box.high.x.um(), box.high.y.um()},
          {box.low.x.um(), box.high.y.um()}};
}

}  // namespace

std::pair<Um, Um> keep_out_heights(const survey::KeepOut& keep_out) {
  if (const auto* box = std::get_if<BoxShape>(&keep_out.shape)) {
    return {box->low.z.um(), box->high.z.um()};
  }
  if (const auto* prism = std::get_if<PrismShape>(&keep_out.shape)) {
    return {prism->z_low.um(), prism->z_high.um()};
  }
  const auto& cylinder = std::get<CylinderShape>(keep_out.shape);
  const auto [low, high] = std::minmax({cylinder.from.z.um(), cylinder.to.z.um()});
  if (is_upright(cylinder)) return {low, high};
  const Vec3 a = to_vec(cylinder.from), b = to_vec(cylinder.to);
  const Vec3 axis = unit({b[0] - a[0], b[1] - a[1], b[2] - a[2]});
  const double spread = static_cast<double>(radius_um(cylinder)) *
                        std::sqrt(std::max(0.0, 1 - axis[2] * axis[2]));
  const auto extra = static_cast<Um>(std::ceil(spread - 1e-3));
  return {low - extra, high + extra};
}

std::optional<Wall> keep_out_wall(const survey::KeepOut& keep_out, Column column, Um reach,
                                  int source) {
  const auto [low, high] = keep_out_heights(keep_out);
  if (low >= column.high || high <= column.low) return std::nullopt;
  if (const auto* box = std::get_if<BoxShape>(&keep_out.shape)) {
    return Wall({rectangle(*box)}, Side::inside, reach, source);
  }
  if (const auto* prism = std::get_if<PrismShape>(&keep_out.shape)) {
    Loop loop;
    for (const auto& point : prism->outline) loop.push_back({point.a.um(), point.b.um()});
    return Wall({loop}, Side::inside, reach, source);
  }
  const auto& cylinder = std::get<CylinderShape>(keep_out.shape);
  if (is_upright(cylinder)) {
    const Loop centre{{cylinder.from.x.um(), cylinder.from.y.um()}};
    return Wall({centre}, Side::inside, reach + radius_um(cylinder), source);
  }
  return slanted_cylinder_wall(cylinder, column, reach, source);
}

}  // namespace cellstow::region
