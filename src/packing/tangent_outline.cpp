#include "tangent_outline.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "cellstow/geometry/exact.hpp"
#include "cellstow/geometry/segment.hpp"

namespace cellstow::packing {
namespace {

using geometry::Int128;
using geometry::Loop;

/// Sides whose directions differ by less than this count as one.
constexpr double least_turn = std::numbers::pi / 180;
constexpr double most_turn = std::numbers::pi / 2 + 1e-9;
/// Slanting sides are moved out by this for the rounding of their corners, which moves them by less than 0.7072 um.
constexpr double rounding_um = 1.5;
constexpr std::size_t most_walls = 24;

/// All points p with n p <= offset, n the unit vector at `angle`.
struct Side {
  double angle = 0, nx = 0, ny = 0, offset = 0;
  bool square = false;
};

Side side_at(double angle, bool square) {
  if (square) angle = std::round(angle / (std::numbers::pi / 2)) * (std::numbers::pi / 2);
  Side side{angle, std::cos(angle), std::sin(angle), 0, square};
  if (square) {
    side.nx = std::round(side.nx);
    side.ny = std::round(side.ny);
  }
  return side;
}

/// Outward direction of a counter-clockwise edge, from -pi on.
double outward(PointUm from, PointUm to) {
  return std::atan2(static_cast<double>(from.s - to.s), static_cast<double>(to.t - from.t));
}

/// Directions of the longest walls, out of them.
std::vector<double> wall_directions(const region::FreePlan& plan) {
  std::vector<std::pair<double, double>> edges;
  for (const geometry::Wall& wall : plan.walls(region::Strips::along_x)) {
    for (const Loop& loop : wall.loops()) {
      for (std::size_t k = 0; k < loop.size(); ++k) {
        const PointUm &a = loop[k], &b = loop[(k + 1) % loop.size()];
        const double length = std::hypot(static_cast<double>(b.s - a.s), static_cast<double>(b.t - a.t));
        // Which side is free matters little: a side facing the other way touches the hull as well.
        edges.insert(edges.end(), {{-length, outward(a, b)}, {-length, outward(b, a)}});
      }
    }
  }
  std::sort(edges.begin(), edges.end());
  if (edges.size() > most_walls) edges.resize(most_walls);
  std::vector<double> directions;
  for (const auto& [length, direction] : edges) directions.push_back(direction);
  return directions;
}

/// One side for every direction, square ones first, then those of walls, then those of the hull; rising by angle.
std::vector<Side> all_sides(const region::FreePlan& plan, const Loop& hull, Um shell) {
  std::vector<Side> sides;
  for (int quarter = -1; quarter <= 2; ++quarter) sides.push_back(side_at(quarter * std::numbers::pi / 2, true));
  std::vector<double> directions = wall_directions(plan);
  for (std::size_t k = 0; k < hull.size(); ++k) directions.push_back(outward(hull[k], hull[(k + 1) % hull.size()]));
  for (const double direction : directions) {
    const bool known = std::any_of(sides.begin(), sides.end(), [&](const Side& side) {
      return std::abs(std::remainder(side.angle - direction, 2 * std::numbers::pi)) < least_turn;
    });
    if (!known) sides.push_back(side_at(direction, false));
  }
  std::sort(sides.begin(), sides.end(), [](const Side& a, const Side& b) { return a.angle < b.angle; });
  for (Side& side : sides) {
    double farthest = -1e18;
    for (const PointUm& p : hull) farthest = std::max(farthest, side.nx * static_cast<double>(p.s) + side.ny * static_cast<double>(p.t));
    side.offset = farthest + static_cast<double>(shell) + (side.square ? 0 : rounding_um);
  }
  return sides;
}

double turn(const Side& from, const Side& to) {
  const double turn = to.angle - from.angle;
  return turn > 0 ? turn : turn + 2 * std::numbers::pi;
}

PointUm corner(const Side& a, const Side& b) {
  const double det = a.nx * b.ny - a.ny * b.nx;
  return {std::llround((a.offset * b.ny - b.offset * a.ny) / det), std::llround((a.nx * b.offset - b.nx * a.offset) / det)};
}

Loop outline_of(const std::vector<Side>& sides) {
  Loop outline;
  for (std::size_t k = 0; k < sides.size(); ++k) outline.push_back(corner(sides[k], sides[(k + 1) % sides.size()]));
  return outline;
}

std::vector<Side> without(std::vector<Side> sides, std::size_t k) {
  sides.erase(sides.begin() + static_cast<std::ptrdiff_t>(k));
  return sides;
}

/// Leaves out the side that adds least area, of those whose absence keeps the outline clear. False: there is none.
bool leave_one_out(const region::FreePlan& plan, std::vector<Side>& sides) {
  std::vector<std::pair<Um, std::size_t>> by_area;
  for (std::size_t k = 0; k < sides.size(); ++k) {
    const Side &before = sides[(k + sides.size() - 1) % sides.size()], &after = sides[(k + 1) % sides.size()];
    if (turn(before, after) > most_turn) continue;
    by_area.emplace_back(geometry::doubled_area(outline_of(without(sides, k))), k);
  }
  std::sort(by_area.begin(), by_area.end());
  for (const auto& [area, k] : by_area) {
    std::vector<Side> fewer = without(sides, k);
    if (!plan.admits(outline_of(fewer))) continue;
    sides = std::move(fewer);
    return true;
  }
  return false;
}

/// Exactly: is every corner of the hull at least the shell inside every side?
bool keeps_shell(const Loop& outline, const Loop& hull, Um shell) {
  for (std::size_t k = 0; k < outline.size(); ++k) {
    const PointUm &a = outline[k], &b = outline[(k + 1) % outline.size()];
    const Int128 dx = b.s - a.s, dy = b.t - a.t;
    for (const PointUm& p : hull) {
      const Int128 cross = dx * (p.t - a.t) - dy * (p.s - a.s);
      if (cross < 0 || cross * cross < Int128(shell) * shell * (dx * dx + dy * dy)) return false;
    }
  }
  return true;
}

}  // namespace

std::optional<std::vector<PointUm>> tangent_outline(const region::FreePlan& plan, const std::vector<RectUm>& contents, Um shell,
                                                    std::size_t most_corners) {
  std::vector<PointUm> points;
  for (const RectUm& r : contents) {
    points.insert(points.end(), {{r.x_low, r.y_low}, {r.x_high, r.y_low}, {r.x_high, r.y_high}, {r.x_low, r.y_high}});
  }
  const Loop hull = geometry::convex_hull(std::move(points));
  std::vector<Side> sides = all_sides(plan, hull, shell);
  if (!plan.admits(outline_of(sides))) return std::nullopt;
  while (sides.size() > 4 && leave_one_out(plan, sides)) {}
  const Loop outline = outline_of(sides);
  if (sides.size() > most_corners || !keeps_shell(outline, hull, shell)) return std::nullopt;
  return outline;
}

}  // namespace cellstow::packing
