#include "cellstow/fabrication/flat.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace cellstow::fabrication {
namespace {

constexpr double pi = std::numbers::pi;

/// Circle of an arc from p to q with a bulge.
struct Arc {
  FlatPoint centre;
  double radius = 0, from_rad = 0, sweep_rad = 0;
};

Arc arc_between(const PathPoint& p, const PathPoint& q) {
  const double chord_a = q.a - p.a, chord_b = q.b - p.b;
  // The centre lies (1 - bulge^2) / (4 bulge) chords to the left of the chord's middle.
  const double k = (1 - p.bulge * p.bulge) / (4 * p.bulge);
  Arc arc;
  arc.centre = {(p.a + q.a) / 2 - k * chord_b, (p.b + q.b) / 2 + k * chord_a};
  arc.radius = std::hypot(p.a - arc.centre.a, p.b - arc.centre.b);
  arc.from_rad = std::atan2(p.b - arc.centre.b, p.a - arc.centre.a);
  arc.sweep_rad = 4 * std::atan(p.bulge);
  return arc;
}

FlatPoint on(const Arc& arc, double share) {
  const double angle = arc.from_rad + arc.sweep_rad * share;
  return {arc.centre.a + arc.radius * std::cos(angle), arc.centre.b + arc.radius * std::sin(angle)};
}

void widen(FlatExtent& extent, FlatPoint p) {
  extent.low = {std::min(extent.low.a, p.a), std::min(extent.low.b, p.b)};
  extent.high = {std::max(extent.high.a, p.a), std::max(extent.high.b, p.b)};
}

/// Quarter points of the circle that the arc passes.
void widen_by_arc(FlatExtent& extent, const Arc& arc) {
  for (int quarter = -4; quarter <= 8; ++quarter) {
    const double share = (quarter * pi / 2 - arc.from_rad) / arc.sweep_rad;
    if (share > 0 && share < 1) widen(extent, on(arc, share));
  }
}

const PathPoint& next(const Path& path, std::size_t i) { return path[(i + 1) % path.size()]; }

double path_length(const Path& path) {
  double sum = 0;
  for (std::size_t i = 0; i < path.size(); ++i) {
    const PathPoint &p = path[i], &q = next(path, i);
    if (p.bulge == 0) {
      sum += std::hypot(q.a - p.a, q.b - p.b);
    } else {
      const Arc arc = arc_between(p, q);
      sum += arc.radius * std::abs(arc.sweep_rad);
    }
  }
  return sum;
}

Path slot_path(const FlatHole& hole) {
  const double angle = hole.angle_deg * pi / 180, half = (hole.length - hole.diameter) / 2, r = hole.diameter / 2;
  const FlatPoint along{std::cos(angle), std::sin(angle)};
  const auto at = [&](double s, double t, double bulge) {
    return PathPoint{hole.centre.a + s * along.a - t * along.b, hole.centre.b + s * along.b + t * along.a, bulge};
  };
  return {at(-half, r, 0), at(half, r, -1), at(half, -r, 0), at(-half, -r, -1)};
}

}  // namespace

FlatHole round_hole(FlatPoint centre, double diameter, std::string what) {
  FlatHole hole;
  hole.centre = centre;
  hole.diameter = diameter;
  hole.what = std::move(what);
  return hole;
}

Path hole_path(const FlatHole& hole) {
  if (hole.kind == HoleKind::contour) return hole.contour;
  if (hole.kind == HoleKind::slot && hole.length > hole.diameter) return slot_path(hole);
  const double r = hole.diameter / 2;
  return {{hole.centre.a - r, hole.centre.b, -1}, {hole.centre.a + r, hole.centre.b, -1}};
}

std::vector<FlatPoint> straightened(const Path& path, double sag) {
  std::vector<FlatPoint> corners;
  for (std::size_t i = 0; i < path.size(); ++i) {
    const PathPoint& p = path[i];
    corners.push_back({p.a, p.b});
    if (p.bulge == 0) continue;
    const Arc arc = arc_between(p, next(path, i));
    const double step_rad = 2 * std::acos(std::max(0.0, 1 - sag / arc.radius));
    const int chords = std::max(2, static_cast<int>(std::ceil(std::abs(arc.sweep_rad) / step_rad)));
    for (int k = 1; k < chords; ++k) corners.push_back(on(arc, static_cast<double>(k) / chords));
  }
  return corners;
}

bool inside(FlatPoint p, const std::vector<FlatPoint>& corners) {
  bool in = false;
  for (std::size_t i = 0; i < corners.size(); ++i) {
    const FlatPoint &q = corners[i], &r = corners[(i + 1) % corners.size()];
    if ((q.b > p.b) != (r.b > p.b) && p.a < q.a + (p.b - q.b) / (r.b - q.b) * (r.a - q.a)) in = !in;
  }
  return in;
}

double signed_area(const Path& path) {
  double sum = 0;
  for (std::size_t i = 0; i < path.size(); ++i) {
    const PathPoint &p = path[i], &q = next(path, i);
    sum += (p.a * q.b - q.a * p.b) / 2;
    if (p.bulge == 0) continue;
    // Between chord and arc: r^2 (sweep - sin sweep) / 2, on the right of the chord when it turns left.
    const Arc arc = arc_between(p, q);
    sum += arc.radius * arc.radius * (arc.sweep_rad - std::sin(arc.sweep_rad)) / 2;
  }
  return sum;
}

double sheet_area(const FlatPattern& flat) {
  double area = std::abs(signed_area(flat.outline));
  for (const FlatHole& hole : flat.holes) area -= std::abs(signed_area(hole_path(hole)));
  return area;
}

FlatExtent extent_of(const Path& path) {
  if (path.empty()) return {};
  FlatExtent extent{{path.front().a, path.front().b}, {path.front().a, path.front().b}};
  for (std::size_t i = 0; i < path.size(); ++i) {
    widen(extent, {path[i].a, path[i].b});
    if (path[i].bulge != 0) widen_by_arc(extent, arc_between(path[i], next(path, i)));
  }
  return extent;
}

double cut_length(const FlatPattern& flat) {
  double sum = path_length(flat.outline);
  for (const FlatHole& hole : flat.holes) sum += path_length(hole_path(hole));
  return sum;
}

}  // namespace cellstow::fabrication
